"""Where a range stands: sentences to read out, its pictures, and the papers that tell the customer."""

from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import Qt, QTimer

from shopdesk.domain.rights import Action
from shopdesk.domain.stage import Stage
from shopdesk.services.photographs import PhotographRow, photographs_of
from shopdesk.services.seat import Seat
from shopdesk.services.where_it_stands import Standing, where_it_stands
from shopdesk.ui.context import Context, Topics
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.standing.deeds import StandingDeeds
from shopdesk.ui.pictures.window import PhotoWindow
from shopdesk.ui.range_words import name_of, owner_of
from shopdesk.ui.widgets.boxes import STRETCH, Part, emptied, upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.deed_panel import DeedPanel
from shopdesk.ui.widgets.empty_state import EmptyState
from shopdesk.ui.widgets.headings import Heading, Note, Words
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.photo_strip import Photo, PhotoStrip
from shopdesk.ui.widgets.stage_strip import StageShown, StageStrip
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

_SHOWN = frozenset({"everything", "jobs", "ranges", "money", "papers", "people", "stores", "settings"})
_READABLE = 96  # letters; longer lines are hard to read out


@dataclass(frozen=True, slots=True)
class Shown:
    """What the page asks at once: the standing, and every small picture by its key."""

    standing: Standing
    rows: dict[int, PhotographRow]

    def photos(self) -> list[Photo]:
        """The pictures of the job, the newest first, under what they show."""
        return [
            Photo(p.id, p.caption or p.shows, self.rows[p.id].thumbnail)
            for p in self.standing.pictures
            if p.id in self.rows
        ]


class StandingPage(Page):
    """`open_on(range_id=...)`; with `deed` letter, pair or log one of its papers is begun at once."""

    place = "standing"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._range_id: int | None = None
        self._wanted = ""
        self.shown: Shown | None = None
        self.name = Heading("", "head")
        self.name.setWordWrap(True)
        self.customer = Words()
        self.customer.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.strip = StageStrip()
        self._said = upright(gap="small")
        self.strip_of_pictures = PhotoStrip(context.dialogs, may_add=False)
        self.strip_of_pictures.opened.connect(self._open_picture)
        self.no_pictures = Note(say("There are no pictures of this job yet."))
        self.panel = DeedPanel()
        self.deeds = StandingDeeds(self, self.panel)
        self.letter_button = Button(say("Write a progress &letter…"), self.deeds.letter, icon_name="mail")
        self.pair_button = Button(say("Before a&nd after…"), self.deeds.pair, icon_name="photo")
        self.log_button = Button(say("Lo&g book"), self.deeds.log_book, icon_name="jacket")
        self.jacket_button = Button(say("Open the &jacket"), self._jacket, icon_name="jacket")
        self.counter_button = Button(say("Coun&ter"), self._counter, icon_name="counter")
        self.nothing = EmptyState(
            say("Find a range or a customer with Ctrl+K: where it stands is told here."),
            (say("Go to the Floor"), lambda: context.go("floor")),
        )
        buttons = WrappedRow(
            [self.letter_button, self.pair_button, self.log_button, self.jacket_button, self.counter_button]
        )
        parts: list[Part] = [self.name, self.customer, self.strip, self._said, self.strip_of_pictures,
        self.no_pictures,
                 buttons, self.panel, STRETCH]  # fmt: skip
        self.sheet = PageScroll(upright(parts, gap="gap", margin="wide"))
        self.setLayout(upright([self.nothing, self.sheet]))
        self.sheet.hide()
        self.panel.opened.connect(lambda: QTimer.singleShot(0, self, self._bring_panel))

    def refresh(self, topics: Topics) -> None:
        if self._range_id is not None and topics & _SHOWN:
            self._ask(self._range_id)

    def open_on(self, **what: Any) -> None:
        if "range_id" not in what:
            return
        if what["range_id"] != self._range_id:
            self.panel.leave()
        self._range_id = int(what["range_id"])
        self._wanted = str(what.get("deed", ""))
        self._ask(self._range_id)

    def focusFirst(self) -> None:
        if self.shown is None:
            self.nothing.focusFirst()
        else:
            (self.letter_button if self.letter_button.isVisible() else self.jacket_button).setFocus()

    # Inside

    def _ask(self, range_id: int) -> None:
        def question(seat: Seat) -> Shown:
            return Shown(where_it_stands(seat, range_id), {r.id: r for r in photographs_of(seat, range_id)})

        self.ask(question, self._show, key="standing")

    def _show(self, shown: Shown) -> None:
        first = self.shown is None
        self.shown, standing = shown, shown.standing
        self.nothing.hide()
        self.sheet.show()
        title = say("Where {number} stands", number=standing.number)
        self.name.setText(f"{title}  ·  {name_of(standing.name, '', '')}")
        words = (owner_of(standing.customer), standing.phone, standing.email)
        self.customer.setText(", ".join(word for word in words if word))
        self.strip.setShown(StageShown(standing.stage.value, "", standing.customer_id is None))
        self._show_sentences(standing.sentences)
        photos = shown.photos()
        self.strip_of_pictures.show_photos(photos)
        self.no_pictures.setVisible(not photos)
        self.letter_button.setVisible(
            standing.customer_id is not None and self.context.may(Action.WRITE_LETTER)
        )
        for button in (self.pair_button, self.log_button):
            button.setVisible(self.context.may(Action.PRINT) and standing.stage is not Stage.NOT_TAKEN)
        if first:
            self.focusFirst()
        wanted, self._wanted = self._wanted, ""
        deed = {"letter": self.deeds.letter, "pair": self.deeds.pair, "log": self.deeds.log_book}.get(wanted)
        if deed is not None:
            deed()

    def _show_sentences(self, sentences: tuple[str, ...]) -> None:
        emptied(self._said)
        for place, sentence in enumerate(sentences):
            words = Words(sentence, "title" if place == 0 else "body")
            words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            words.setMaximumWidth(self.fontMetrics().averageCharWidth() * _READABLE)
            self._said.addWidget(words)

    def _open_picture(self, photograph_id: int) -> None:
        if self.shown is not None:
            PhotoWindow(self, self.context, self.shown.photos()).show_picture(photograph_id)

    def _jacket(self) -> None:
        if self.shown is not None:
            self.context.go(
                "jacket", range_id=self.shown.standing.range_id, job_id=self.shown.standing.job_id
            )

    def _counter(self) -> None:
        if self.shown is not None:
            self.context.go("counter", job_id=self.shown.standing.job_id)

    def _bring_panel(self) -> None:
        """The form from its top; it may be higher than the window."""
        self.sheet.verticalScrollBar().setValue(self.panel.y() - 8)
