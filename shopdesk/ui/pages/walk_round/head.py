"""The line over a walk-round: which range it is, how far it is, and what may be done with it now."""

from collections.abc import Callable

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QMenu, QWidget

from shopdesk.domain.stage import Stage
from shopdesk.services.inspection import WalkRow, Worth
from shopdesk.ui.pages.walk_round.deeds import Deeds
from shopdesk.ui.pages.walk_round.draft import Walk
from shopdesk.ui.pages.walk_round.worth_words import offer_words, verdict_words
from shopdesk.ui.range_words import name_of
from shopdesk.ui.widgets.boxes import level, upright
from shopdesk.ui.widgets.buttons import Button, MainButton, QuietButton
from shopdesk.ui.widgets.headings import Heading, Note
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import Region, say, say_n

MOST = 16_777_215  # Qt's own "no limit"
NAMED = 36  # letters the name needs beside the buttons


class MenuButton(Button):
    """A button whose deeds are listed when it is pressed."""

    def __init__(self, text: str, fill: Callable[[QMenu], None], icon_name: str = "") -> None:
        super().__init__(text, lambda: None, icon_name=icon_name)
        self.list = QMenu(self)
        self.list.setAccessibleName(text)
        self._fill = fill
        self.list.aboutToShow.connect(self._fill_anew)
        self.setMenu(self.list)

    def _fill_anew(self) -> None:
        self.list.clear()
        self._fill(self.list)


class Head(QWidget):
    """`othersAsked` goes to the list of ranges, `particularsAsked` to the form of this one."""

    othersAsked = Signal()
    particularsAsked = Signal()
    secondAsked = Signal()
    compareAsked = Signal()

    def __init__(self, region: Region, deeds: Deeds, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._region, self._deeds = region, deeds
        self.row: WalkRow | None = None
        self.title = Heading("", "title")
        self.standing = Note()
        self.others = QuietButton(
            say("All ranges"), self.othersAsked.emit, icon_name="back", tip=say("Escape")
        )
        self.particulars = Button(say("Particulars"), self.particularsAsked.emit, icon_name="tag",
                                  tip=say("Maker, build, gas, size, the visit (I)"))  # fmt: skip
        self.report = MenuButton(say("Condition report"), self._fill_report, "print")
        self.next = MenuButton(say("What now"), self._fill_next, "next")
        self.finish = MainButton(
            say("Finish"), deeds.finish, icon_name="tick", shortcut="Ctrl+Return",
            tip=say("Closes the walk-round; it is a record then"),
        )  # fmt: skip
        self.second = MainButton(say("Walk round again"), self.secondAsked.emit, icon_name="walk-round")
        self.title.setWordWrap(True)
        self._buttons = WrappedRow([self.particulars, self.report, self.next, self.finish, self.second])
        words = upright([self.title, self.standing], gap="hair")
        named = level([self.others, words])
        named.setStretchFactor(words, 1)
        self._box = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.addLayout(named)
        self._box.addWidget(self._buttons)

    def minimumSizeHint(self) -> QSize:
        """The widest button alone; where there is no more room they stand below the words."""
        return QSize(self._buttons.minimumSizeHint().width(), super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        words = self.others.sizeHint().width() + self.fontMetrics().averageCharWidth() * NAMED
        beside = self.width() >= self._buttons.sizeHint().width() + words
        directions = QBoxLayout.Direction
        self._box.setDirection(directions.LeftToRight if beside else directions.TopToBottom)
        self._buttons.setMaximumWidth(self._buttons.sizeHint().width() if beside else MOST)

    def show_row(self, row: WalkRow) -> None:
        self.row = row
        name = name_of(row.maker, row.model, row.colour)
        self.title.setText(say("{number}, {name}", number=row.number, name=name))

    def show_walk(self, walk: Walk, worth: Worth | None, *, may_answer: bool) -> None:
        """How far it is, and in a word what it comes to."""
        count = len(walk.checkpoints)
        answered = count - walk.not_seen()
        found = len(walk.found())
        texts = [
            say("finished") if walk.view.finished else say("under way"),
            say("{answered} of {count} answered", answered=answered, count=count),
            say_n("{count} finding", "{count} findings", found),
        ]
        comes_to = ""
        if worth is not None and not worth.charges:
            offer = offer_words(self._region, worth.verdict)
            comes_to = say("{verdict}: {offer}", verdict=verdict_words(worth.verdict), offer=offer)
        self.standing.setText(". ".join(text for text in (", ".join(texts), comes_to) if text))
        self.finish.setVisible(may_answer)
        self.second.setVisible(walk.view.finished and self._deeds.may_walk())

    def _fill_report(self, menu: QMenu) -> None:
        menu.addAction(say("Look at it first"), self._deeds.preview_report)
        menu.addAction(say("Print it with a number"), self._deeds.print_report)

    def _fill_next(self, menu: QMenu) -> None:
        """Only what may be done with this range now."""
        row, deeds = self.row, self._deeds
        if row is None:
            return
        offered = [
            (deeds.may_decide(row), say("Record the verdict"), deeds.record_verdict),
            (deeds.may_plan(), say("Write the work order"), deeds.write_order),
            (deeds.may_buy(row), say("Buy it"), deeds.buy),
            (deeds.may_book_in(row), say("It has come in"), deeds.book_in),
            (deeds.may_end(row), say("Keep it as a donor"), lambda: deeds.end(Stage.DONOR)),
            (deeds.may_end(row), say("Not taken"), lambda: deeds.end(Stage.NOT_TAKEN)),
        ]
        for may, text, deed in offered:
            if may:
                menu.addAction(text, deed)
        menu.addSeparator()
        menu.addAction(say("Set another walk-round beside it"), self.compareAsked.emit)
        menu.addAction(say("Open its jacket"), deeds.open_jacket)
