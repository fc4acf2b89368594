"""The day at the top of a place: one sentence that unfolds into short lines, each opening its record.

Not there at all on a day that asks nothing. Whether it is folded is remembered for each place; in a low
window it folds by itself, so that the place keeps its room.
"""

from collections.abc import Callable, Hashable
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QSizePolicy, QWidget

from shopdesk.domain.sides import Side
from shopdesk.ui.context import Topics
from shopdesk.ui.look import spacing
from shopdesk.ui.pages.page import Page
from shopdesk.ui.today_words import Way, today_strips, today_summary
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import QuietButton
from shopdesk.ui.widgets.strip_list import StripList
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat
    from shopdesk.services.today import Today

KEYS = "Ctrl+D"
SHOWN = 4  # lines; the rest is scrolled to
LOW = 34  # lines of text in the window; a lower one begins folded
_CONCERNED = frozenset({"everything", "jobs", "ranges", "papers", "people", "stores", "money", "settings"})


class _Head(QuietButton):
    """One line, cut with dots where the width ends; whole in its tip."""

    align = "left"

    def __init__(self, pressed: Callable[[], object]) -> None:
        super().__init__("", pressed)
        self._whole = ""
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def show_whole(self, text: str) -> None:
        self._whole = text
        self._cut()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._cut()

    def _cut(self) -> None:
        room = self.width() - 2 * spacing(self.font()).gap
        self.setText(self.fontMetrics().elidedText(self._whole, Qt.TextElideMode.ElideRight, room))


class TodayList(QWidget):
    """`side` is whose day it is; the page asks it to refresh with itself."""

    def __init__(self, page: Page, side: Side) -> None:
        super().__init__()
        self._page, self._side = page, side
        self._ways: dict[Hashable, Way] = {}
        self._summary = ""
        memory = page.context.memory
        self._folded = memory.text(self._name) == "folded"
        self._low = False
        self.head = _Head(self.toggle)
        self.list = StripList(say("Today"), empty="", lines=1, most=SHOWN)
        self.list.opened.connect(self._open)
        self.setLayout(upright([self.head, self.list], gap="hair"))
        self.hide()
        shortcut = QShortcut(QKeySequence(KEYS), page)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(self.go_in)

    def refresh(self, topics: Topics) -> None:
        if topics & _CONCERNED:
            side = self._side
            self._page.ask(lambda seat: _today(seat, side), self.show_day, key="today")

    def show_day(self, day: "Today") -> None:
        region = self._page.context.region
        found = today_strips(region, day)
        self._ways = {strip.key: way for strip, way in found}
        self._summary = today_summary(day)
        self.list.show_rows([strip for strip, _ in found])
        self.setVisible(bool(found))
        self._arrange()

    def toggle(self) -> None:
        """Unfolds the lines, or folds them; remembered."""
        self._folded = not self.list.isHidden()
        self._low = False
        self._page.context.memory.keep(self._name, "folded" if self._folded else "open")
        self._arrange()

    def go_in(self) -> None:
        """The keyboard into the lines; pressed again there, back to the page."""
        if self.isHidden():
            return
        if self.list.view.hasFocus():
            self._page.focusFirst()
            return
        if self.list.isHidden():
            self.toggle()
        self.list.focusFirst()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._notice_height()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._notice_height()

    @property
    def _name(self) -> str:
        return f"{self._page.place}/today"

    def _notice_height(self) -> None:
        low = self.window().height() < LOW * self.fontMetrics().lineSpacing()
        if low != self._low:
            self._low = low
            self._arrange()

    def _arrange(self) -> None:
        folded = self._folded or self._low
        mark = "▸" if folded else "▾"  # a mark, no word: it is drawn by the typeface
        self.head.show_whole(say("{mark}  Today: {what}", mark=mark, what=self._summary))
        name = say("Today: {what}. Unfold it", what=self._summary)
        self.head.setAccessibleName(name if folded else say("Today: {what}. Fold it", what=self._summary))
        self.head.setToolTip(say("{what} ({keys})", what=self._summary, keys=KEYS))
        self.list.setVisible(not folded)

    def _open(self, key: Hashable) -> None:
        way = self._ways.get(key)
        if way is not None:
            self._page.context.go(way.place, **dict(way.what))


def _today(seat: "Seat", side: Side) -> "Today":
    from shopdesk.services.today import today  # it brings the plan and the stores; the place shows first

    return today(seat, side)
