"""The pages of an open shop, each made when it is first shown, and told what changed since."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QStackedWidget, QWidget

from shopdesk.ui.context import Context, Topics
from shopdesk.ui.pages.page import Page
from shopdesk.ui.places import Place
from shopdesk.ui.widgets.page_scroll import PageScroll


@dataclass(slots=True)
class _Open:
    page: Page
    room: PageScroll  # holds the page, and scrolls it in a window that is lower than it
    missed: set[str] = field(default_factory=set)


class Desk(QStackedWidget):
    """`shown` says which place is open."""

    shown = Signal(str)

    def __init__(self, context: Context, places: Sequence[Place], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self._places = {place.key: place for place in places}
        self._open: dict[str, _Open] = {}
        self._here = ""
        self._way: list[tuple[str, Mapping[str, Any]]] = []
        context.changed.connect(self._note_change)
        context.seatChanged.connect(lambda: self._note_change(Page.everything))
        context.placeAsked.connect(self.go)

    @property
    def here(self) -> str:
        """Key of the place that is shown."""
        return self._here

    def page(self, key: str) -> Page | None:
        """The page of a place, if it was made already."""
        return self._open[key].page if key in self._open else None

    def go(self, key: str, what: Mapping[str, Any] | None = None) -> None:
        """Shows a place; one that is not in this program is passed over."""
        if key not in self._places:
            return
        if self._here and self._here != key:
            self._open[self._here].page.keep_draft()
        self._remember(key, what or {})
        opened = self._made(key)
        self._here = key
        self.setCurrentWidget(opened.room)
        self._bring_up_to_date(opened)
        if what:
            opened.page.open_on(**what)
        self.shown.emit(key)
        opened.page.focusFirst()

    def back(self) -> None:
        """To where one came from."""
        if len(self._way) > 1:
            self._way.pop()
            key, what = self._way.pop()
            self.go(key, what)

    def keep_drafts(self) -> None:
        """Before the window closes."""
        for opened in self._open.values():
            opened.page.keep_draft()

    def _remember(self, key: str, what: Mapping[str, Any]) -> None:
        if not self._way or self._way[-1] != (key, what):
            self._way = [*self._way[-49:], (key, what)]

    def _made(self, key: str) -> _Open:
        if key not in self._open:
            page = self._places[key].make(self._context)
            page.setAccessibleName(self._places[key].name)
            room = PageScroll(page)
            self._open[key] = _Open(page, room, set(Page.everything))
            self.addWidget(room)
        return self._open[key]

    def _note_change(self, topics: Topics) -> None:
        for key, opened in self._open.items():
            opened.missed |= topics
            if key == self._here:
                self._bring_up_to_date(opened)

    def _bring_up_to_date(self, opened: _Open) -> None:
        missed, opened.missed = frozenset(opened.missed), set()
        if missed:
            opened.page.refresh(missed)
