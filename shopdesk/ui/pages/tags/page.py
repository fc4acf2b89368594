"""What is where: all that is off its range, found by typing or by its code, with what can be done to it."""

from collections.abc import Callable
from typing import Any, ClassVar

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from shopdesk.services import tag_pictures, tags
from shopdesk.services.tag_places import known_places
from shopdesk.services.tags import TagRow
from shopdesk.ui.context import Context, Topics
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.tags.deeds import TagDeeds
from shopdesk.ui.pages.tags.shown import count_words, found, strips
from shopdesk.ui.pages.tags.side import TagSide
from shopdesk.ui.widgets.beside import Beside
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import ChoiceField
from shopdesk.ui.widgets.headings import Heading, Note
from shopdesk.ui.widgets.letter_keys import LetterKeys
from shopdesk.ui.widgets.search_field import SearchField
from shopdesk.ui.widgets.strip_list import StripList
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

OUT, ALL = "out", "all"
_SHOWN = frozenset({"everything", "tags", "jobs", "ranges", "stores", "settings"})


class TagsPage(Page):
    """Letters are those of the buttons; Escape goes from a form to the list, from there to the Bench."""

    place: ClassVar[str] = "tags"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._rows: list[TagRow] = []
        self.shown: list[TagRow] = []
        self.places: list[str] = []
        self._wanted: int | None = None
        self.filter = ChoiceField(_usual(), OUT)
        self.filter.setAccessibleName(say("Which tags"))
        self.filter.edited.connect(self._show)
        self.count = Note()
        self.count.setWordWrap(False)
        self.list = StripList(
            say("Tags"),
            empty=say("What is taken off a range and tagged at the Bench will stand here."),
            first=(say("Go to the Bench"), lambda: context.go("bench")),
        )
        self.search = SearchField(say("A word of it, or its number, or scan its label"), self.list)
        self.search.searched.connect(lambda _words: self._show())
        self._deeds = d = TagDeeds(self)
        deeds = {
            "back": d.back, "returned": d.returned, "again": d.again, "move": d.move, "sent": d.sent,
            "label": d.label, "photograph": d.photograph, "correct": d.correct, "not_back": d.not_back,
            "jacket": d.jacket,
        }  # fmt: skip
        self.side = TagSide(deeds, context.dialogs, context.region)
        self.labels_button = Button(say("Labels of all shown"), d.labels, icon_name="print")
        head = level([Heading(say("What is where"), "head"), STRETCH, self.filter])
        narrow = WrappedRow([self.search, self.labels_button], growing=self.search)
        both = Beside(self.list, self.side, context.memory, "tags/list", shares=(5, 4))
        body = upright([head, self.count, narrow, both], margin="gap")
        body.setStretchFactor(both, 1)
        self.setLayout(body)
        self.list.chosen.connect(lambda _key: self._follow())
        self.list.opened.connect(lambda _key: self._open())
        self.side.strip.brought.connect(d.keep_pictures)
        k = Qt.Key
        keys = {
            k.Key_B: d.back, k.Key_C: d.returned, k.Key_O: d.again, k.Key_M: d.move,
            k.Key_S: d.sent, k.Key_L: d.label, k.Key_P: d.photograph, k.Key_E: d.correct,
            k.Key_X: d.not_back, k.Key_J: d.jacket, k.Key_Escape: self._leave,
        }  # fmt: skip
        self._letters = LetterKeys(self.list.view, {key: self._guarded(deed) for key, deed in keys.items()})

    # What a page fills in

    def refresh(self, topics: Topics) -> None:
        if topics & _SHOWN:
            self.ask(lambda seat: (tags.tags(seat), known_places(seat)), self._take, key="tags")

    def focusFirst(self) -> None:
        self.list.focusFirst()

    def open_on(self, **what: Any) -> None:
        """`job_id` shows one range's; `tag_id` or `number` puts the keyboard on one tag."""
        self.search.clear()
        self.filter.setValue(what.get("job_id", OUT))
        if "job_id" in what and self.filter.value() is None:
            self.filter.setChoices([*_usual(), (what["job_id"], say("this range’s"))])
            self.filter.setValue(what["job_id"])
        if "number" in what:
            self.ask(lambda seat: tags.find_tag(seat, str(what["number"])).id, self._want)
        elif "tag_id" in what:
            self._want(int(what["tag_id"]))
        self.refresh(Page.everything)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self._letters.act(event):
            super().keyPressEvent(event)

    # What the deeds ask of it

    def current(self) -> TagRow | None:
        """The tag the keyboard is on."""
        key = self.list.current_key()
        return next((row for row in self.shown if row.id == key), None)

    def close_form(self) -> None:
        self.side.close_form()
        self.list.focusFirst()

    # Inside

    def _guarded(self, deed: Callable[[], object]) -> Callable[[], object]:
        """Nothing is done while a form is on its way."""
        return lambda: None if self._deeds.waiting else deed()

    def _take(self, found_: tuple[list[TagRow], list[str]]) -> None:
        rows, self.places = found_
        self._rows = rows
        chosen = self.filter.value()
        ranges = dict.fromkeys((row.job_id, row.range_number) for row in rows)
        one = [(job, say("{number} only", number=number)) for job, number in ranges]
        if chosen not in (OUT, ALL) and chosen not in dict(one):
            chosen = OUT  # nothing was ever taken off the range one came from
        self.filter.setChoices([*_usual(), *one])
        self.filter.setValue(chosen)
        self._show()

    def _show(self) -> None:
        which, typed = self.filter.value(), self.search.words()
        rows = [row for row in self._rows if _belongs(row, which)]
        if typed:  # what is looked for is found among those put back too
            rows = found(self._rows if which == OUT else rows, typed)
        self.shown = rows
        self.count.setText(count_words([row for row in self._rows if which in (OUT, ALL, row.job_id)]))
        self.list.show_rows(strips(rows, self.context.region))
        self.labels_button.setVisible(any(row.back_at is None for row in rows))
        if self._wanted is not None:
            self._want(self._wanted)
        if typed and len(rows) == 1:
            self.list.select(rows[0].id)
        self._follow()

    def _want(self, tag_id: int) -> None:
        self._wanted = tag_id
        row = next((row for row in self._rows if row.id == tag_id), None)
        if row is not None and row.back_at is not None and self.filter.value() == OUT:
            self.filter.setValue(ALL)
            self._wanted = None
            self._show()
        if self.list.select(tag_id):
            self._wanted = None

    def _follow(self) -> None:
        tag = self.current()
        self._deeds.follow(tag)
        self.side.show_tag(tag)
        if tag is None:
            return
        key = tag.id
        self.ask(lambda seat: tag_pictures.tag_pictures(seat, key), self.side.show_pictures, key="pictures")

    def _open(self) -> None:
        """Return does what is next: puts it back, counts it back, or takes it off again."""
        tag = self.current()
        if tag is None:
            return
        next_deed = {"out": self._deeds.back, "sent": self._deeds.returned}
        next_deed.get(tag.standing, self._deeds.again)()

    def _leave(self) -> None:
        if self.side.form is not None:
            self.close_form()
        elif self.focusWidget() in (None, self.list.view, self.list.empty.button):
            self.context.go("bench")
        else:
            self.list.focusFirst()


def _belongs(row: TagRow, which: Any) -> bool:
    if which == ALL:
        return True
    return row.back_at is None if which == OUT else row.job_id == which


def _usual() -> list[tuple[Any, str]]:
    return [(OUT, say("Off their ranges")), (ALL, say("All, those put back too"))]
