"""Find anything by one shortcut: any record by what is remembered of it, and any place or deed by name."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QApplication, QFrame, QToolButton, QWidget

from shopdesk.domain.folding import fold
from shopdesk.ui.context import Context
from shopdesk.ui.deeds_found import Deed, deeds_anywhere, deeds_here, fits
from shopdesk.ui.look import icon, spacing
from shopdesk.ui.places import Place
from shopdesk.ui.widgets.word_picker import WordPicker
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.services.finding import Found
    from shopdesk.services.seat import Seat

KEYS = "Ctrl+K"
MOST = 12
_TOLD = 3  # ranges that are offered with where they stand
_SHARE = 0.6  # of the window's width


class FindButton(QToolButton):
    """The way to the panel for a mouse."""

    def __init__(self, panel: "FindPanel") -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        keys = QKeySequence(KEYS).toString(QKeySequence.SequenceFormat.NativeText)
        self.setAccessibleName(say("Find anything"))
        self.setToolTip(f"{self.accessibleName()} ({keys})")
        self.clicked.connect(panel.open_up)
        self._dress()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.PaletteChange):
            self._dress()

    def _dress(self) -> None:
        side = spacing(QApplication.font()).icon
        self.setIcon(icon("search", QApplication.palette()))
        self.setIconSize(QSize(side, side))


class FindPanel(WordPicker):
    """Lies over the top of the workspace while one looks for something."""

    def __init__(
        self, context: Context, places: Sequence[Place], over: QWidget, here: Callable[[], QWidget | None]
    ) -> None:
        """`here` answers the open page, whose deeds are found as well."""
        super().__init__(
            say("A number, a name, a telephone number, a word, or what to do"), say("What was found"),
            MOST, over,
        )  # fmt: skip
        self._context, self._places, self._over, self._here = context, places, over, here
        self._came_from: QWidget | None = None
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAutoFillBackground(True)
        self.setAccessibleName(say("Find anything"))
        self.typed.connect(self._look)
        self.picked.connect(lambda deed: deed.do())
        self.left.connect(self._go_back)
        over.installEventFilter(self)
        self.words.installEventFilter(self)
        QShortcut(QKeySequence(KEYS), over).activated.connect(self.open_up)

    def open_up(self) -> None:
        """Over whatever is open; Escape gives the keyboard back to where it was."""
        if not self.isEnabled():  # the window is locked
            return
        if not self.isVisible():
            self._came_from = self._over.window().focusWidget()
        super().open_up()
        self._fit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self._over and event.type() == QEvent.Type.Resize and self.isVisible():
            self._fit()
        if watched is self.words and event.type() == QEvent.Type.FocusOut:
            self.hide()
        return False

    def show_choices(self, choices: Sequence[tuple[str, Any]], nothing: str) -> None:
        super().show_choices(choices, nothing)
        self._fit()

    def _fit(self) -> None:
        wide = round(self._over.width() * _SHARE)
        self.setFixedWidth(wide)
        self.adjustSize()
        self.move((self._over.width() - wide) // 2, self._over.height() // 12)

    def _look(self, typed: str) -> None:
        if not typed:
            self.show_choices([], "")
            return
        deeds = [deed for deed in self._deeds() if fits(deed.text, typed)]

        def show(found: "tuple[Found, ...]") -> None:
            told = [one for one in found if one.kind == "range"][:_TOLD]
            exact: list[Deed] = []
            rest: list[Deed] = []
            for one in found:
                record = Deed(self._told(one), self._opening(one))
                ways = [record, self._standing(one)] if one in told else [record]
                (exact if fold(record.text).startswith(fold(typed)) else rest).extend(ways)
            choices = [(deed.text, deed) for deed in (*exact, *deeds, *rest)]
            self.show_choices(choices, say("Nothing in this shop has these words."))

        self._context.ask(lambda seat: _find(seat, typed), show, key="find anything", owner=self)

    def _told(self, one: "Found") -> str:
        line = f"{one.title} - {one.line}" if one.line else one.title
        return say("{line} (much like it)", line=line) if one.alike else line

    def _opening(self, one: "Found") -> Callable[[], None]:
        go, key = self._context.go, one.record_id
        ways: dict[str, Callable[[], None]] = {
            "range": lambda: self._context.open_jacket(key),
            "party": lambda: go("counter", customer_id=key),
            "paper": lambda: self._show_paper(one),
            "tag": lambda: go("tags", number=one.title.split(maxsplit=1)[0]),
            "part": lambda: go("stores", section="shelf"),
            "order": lambda: go("stores", order_id=key),
            "consignment": lambda: go("stores", section="outwork"),
            "task": lambda: go("bench", job_id=one.job_id, task_id=key),
        }
        return ways.get(one.kind, lambda: self._open_job(one.job_id))

    def _standing(self, one: "Found") -> Deed:
        """The other way into a range: where it stands, for whoever asks on the telephone."""
        told = say("Where {range} stands", range=one.title)
        return Deed(told, lambda: self._context.go("standing", range_id=one.record_id))

    def _open_job(self, job_id: int | None) -> None:
        if job_id is not None:
            self._context.ask(
                lambda seat: _range_of(seat, job_id),
                lambda range_id: self._context.go("jacket", range_id=range_id, job_id=job_id),
                owner=self,
            )

    def _show_paper(self, one: "Found") -> None:
        self._context.ask(
            lambda seat: _paper_number(seat, one.record_id),
            lambda number: self._context.show_paper(number, one.title),
            owner=self,
        )

    def _deeds(self) -> list[Deed]:
        page = self._here()
        here = deeds_here(page, page.accessibleName() if page is not None else "")
        return [*here, *deeds_anywhere(self._context, self._places)]

    def _go_back(self) -> None:
        if self._came_from is not None:
            self._came_from.setFocus(Qt.FocusReason.OtherFocusReason)


def _find(seat: "Seat", typed: str) -> "tuple[Found, ...]":
    from shopdesk.services.finding import find

    return find(seat, typed)


def _range_of(seat: "Seat", job_id: int) -> int:
    from shopdesk.services.finding import range_of_job

    return range_of_job(seat, job_id)


def _paper_number(seat: "Seat", paper_id: int) -> str:
    from shopdesk.services.finding import paper_number

    return paper_number(seat, paper_id)
