"""The jackets that are open, each on a tab; Ctrl+W closes one, Ctrl+J goes to the next from anywhere."""

from typing import Any

from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QStackedLayout, QTabBar, QTabWidget, QWidget

from shopdesk.ui.context import Context, Topics
from shopdesk.ui.pages.jacket.view import JacketView
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.buttons import QuietButton
from shopdesk.ui.widgets.empty_state import EmptyState
from shopdesk.wording import say

_SHOWN = frozenset(
    {"everything", "jobs", "ranges", "money", "papers", "people", "stores", "settings", "catalogue"}
)


class JacketPage(Page):
    """A tab for each range; one that is not in sight is told of changes when it is."""

    place = "jacket"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        self.tabs.setMovable(True)
        self.tabs.tabBar().setAccessibleName(say("Open jackets"))
        self.tabs.currentChanged.connect(lambda _place: self._bring_up_to_date())
        self._stale: set[JacketView] = set()
        self.empty = EmptyState(
            say("Jackets you open from the Floor will stand here."),
            (say("Go to the Floor"), lambda: context.go("floor")),
        )
        self._rooms = QStackedLayout(self)
        self._rooms.addWidget(self.tabs)
        self._rooms.addWidget(self.empty)
        self._rooms.setCurrentWidget(self.empty)
        close = QShortcut(QKeySequence("Ctrl+W"), self)
        close.activated.connect(lambda: self._close(self.tabs.currentIndex()))

    def refresh(self, topics: Topics) -> None:
        if topics & _SHOWN:
            self._stale = set(self.views())
            self._bring_up_to_date()

    def open_on(self, **what: Any) -> None:
        """`range_id`, `job_id` for another than its newest job; `section="order"` opens on its work order;
        `next` goes to the next open jacket.
        """
        if what.get("next"):
            self._step()
            return
        range_id = int(what["range_id"])
        view = next((v for v in self.views() if v.range_id == range_id), None) or self._add(range_id)
        if what.get("job_id"):
            view.job_id = int(what["job_id"])
            self._stale.add(view)
        if what.get("section") == "order":
            view.want_order(what.get("task_id"))
            self._stale.add(view)
        self.tabs.setCurrentWidget(view)
        self._bring_up_to_date()

    def focusFirst(self) -> None:
        view = self.current()
        if view is not None:
            view.focusFirst()
        else:
            self.empty.focusFirst()

    def _step(self) -> None:
        """The next open jacket; after the last the first."""
        if self.tabs.count():
            self.tabs.setCurrentIndex((self.tabs.currentIndex() + 1) % self.tabs.count())

    def views(self) -> list[JacketView]:
        """The open jackets in the order of their tabs."""
        return [
            view
            for place in range(self.tabs.count())
            if isinstance(view := self.tabs.widget(place), JacketView)
        ]

    def current(self) -> JacketView | None:
        view: QWidget | None = self.tabs.currentWidget()
        return view if isinstance(view, JacketView) else None

    def _add(self, range_id: int) -> JacketView:
        view = JacketView(self.context, range_id)
        view.named.connect(lambda name: self._name(view, name))
        self._stale.add(view)
        place = self.tabs.addTab(view, say("opening…"))
        close = QuietButton("", lambda: self._close(self.tabs.indexOf(view)), icon_name="close")
        self.tabs.tabBar().setTabButton(place, QTabBar.ButtonPosition.RightSide, close)
        self._name(view, say("opening…"))
        self._rooms.setCurrentWidget(self.tabs)
        return view

    def _name(self, view: JacketView, name: str) -> None:
        place = self.tabs.indexOf(view)
        self.tabs.setTabText(place, name)
        close = self.tabs.tabBar().tabButton(place, QTabBar.ButtonPosition.RightSide)
        close.setAccessibleName(say("Close the jacket of {number}", number=name))
        close.setToolTip(close.accessibleName())

    def _bring_up_to_date(self) -> None:
        view = self.current()
        if view is not None and view in self._stale:
            self._stale.discard(view)
            view.refresh()

    def _close(self, place: int) -> None:
        view = self.tabs.widget(place)
        if not isinstance(view, JacketView):
            return
        self._stale.discard(view)
        self.tabs.removeTab(place)
        view.deleteLater()
        if not self.tabs.count():
            self._rooms.setCurrentWidget(self.empty)
            self.empty.focusFirst()
