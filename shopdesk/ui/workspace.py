"""An open shop in the window: the rail, the band of a sample, and the pages."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QLabel, QWidget
from shiboken6 import isValid

from shopdesk.ui.conflicts import Conflicts
from shopdesk.ui.context import Context
from shopdesk.ui.copy_timer import CopyTimer
from shopdesk.ui.desk import Desk
from shopdesk.ui.find_panel import FindButton, FindPanel
from shopdesk.ui.first_range_strip import FirstRangeStrip
from shopdesk.ui.hearing import SeatsHearing
from shopdesk.ui.opening import Opened
from shopdesk.ui.opening_codes import open_code, tell_foreign
from shopdesk.ui.person_chooser import PersonChooser
from shopdesk.ui.places import Place
from shopdesk.ui.rail import Rail
from shopdesk.ui.scanning import Scanner
from shopdesk.ui.sign_in import IdleWatch, LockPane, lock_after
from shopdesk.ui.undo_button import UndoButton
from shopdesk.ui.view import View, ViewButton
from shopdesk.ui.whole_check import WholeCheck
from shopdesk.ui.widgets.band import Band
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.empty_state import EmptyState
from shopdesk.ui.workers import Workers
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat


NEXT_JACKET = "Ctrl+J"
JACKET = "jacket"
FIRST_HOUR = "first-hour"  # key of the place for a shop made just now


class Workspace(QWidget):
    """Made when a shop opens, gone when it closes."""

    def __init__(
        self, context: Context, opened: Opened, places: Sequence[Place], view: View, workers: Workers
    ) -> None:
        super().__init__()
        self.context = context
        self.desk = Desk(context, places)
        shown = [place for place in places if not place.hidden]
        self.people = PersonChooser(context)
        self.busy = QLabel(say("Working…"))
        self.busy.hide()
        self.finder = FindPanel(context, places, self, lambda: self.desk.page(self.desk.here))
        self.undo = UndoButton(context)
        self.rail = Rail(shown, [
            self.busy, level([STRETCH, FindButton(self.finder), self.undo, STRETCH]), self.people,
            ViewButton(view),
        ])  # fmt: skip
        self.rail.placeAsked.connect(self.desk.go)
        self.desk.shown.connect(self.rail.show_open)
        self.desk.shown.connect(lambda key: context.memory.keep("window/place", key))
        self._came_from: QWidget | None = None
        self.first_range = FirstRangeStrip(context, leads=not opened.sample)
        context.firstRangeAsked.connect(self.first_range.take_up)
        self._right = self._make_right(opened)
        row = level([self.rail, self._right], gap="hair")
        row.setStretchFactor(self._right, 1)
        self.setLayout(row)
        self.copying = CopyTimer(context, self)
        self.hearing = SeatsHearing(context, self)
        self.whole = WholeCheck(context, self)
        self.scanner = Scanner(
            self, lambda code: open_code(context, code), lambda text: tell_foreign(context, text)
        )
        self._workers = workers
        self.locked: LockPane | None = None
        self.conflicts = Conflicts(context, self, self._reachable)
        self.idle = IdleWatch(self)
        self.idle.idle.connect(self.lock)
        context.seatChanged.connect(self._ask_when_to_lock)
        context.changed.connect(lambda topics: self._ask_when_to_lock() if "staff" in topics else None)
        self._ask_when_to_lock()
        QShortcut(QKeySequence(NEXT_JACKET), self).activated.connect(self._next_jacket)
        back = QShortcut(QKeySequence(QKeySequence.StandardKey.Back), self)
        back.activated.connect(self._back)
        self._show_first(opened, places)

    def _make_right(self, opened: Opened) -> QWidget:
        """The pages, under what one must not forget and where a first range goes on."""
        bands = [Band(text) for text in _standing_facts(opened)]
        box = upright([*bands, self.first_range, self.desk], gap="hair")
        box.setStretchFactor(self.desk, 1)
        holder = QWidget()
        holder.setLayout(box)
        return holder

    def _show_first(self, opened: Opened, places: Sequence[Place]) -> None:
        """The first hour of a shop made just now, else the place that was open last."""
        shown = [place.key for place in places if not place.hidden]
        last = self.context.memory.text("window/place")
        if not shown:
            self.desk.addWidget(EmptyState(say("This program came without its places. Install it again.")))
        elif opened.fresh and any(place.key == FIRST_HOUR for place in places):
            self.desk.go(FIRST_HOUR)
        else:
            self.desk.go(last if last in shown else shown[0])

    def _back(self) -> None:
        if self.locked is None and self.conflicts.pane is None:
            self.desk.back()

    def _next_jacket(self) -> None:
        """The open jackets, one after another, from wherever one is."""
        if self.locked is not None:
            return
        self.desk.go(JACKET, {"next": True} if self.desk.here == JACKET else {})

    def lock(self) -> None:
        """Asks who is there; pages and what is typed in them wait below, out of sight and out of reach."""
        if self.locked is not None:
            return
        self._came_from = self.window().focusWidget()
        self.finder.hide()
        self.locked = LockPane(self.context, self._workers, self)
        self.locked.sign_in.signedIn.connect(self._unlock)
        self._reachable(False)
        self.conflicts.hold(True)

    def _unlock(self, seat: "Seat") -> None:
        if self.locked is None:
            return
        pane, self.locked = self.locked, None
        self.conflicts.hold(False)
        self._reachable(self.conflicts.pane is None)
        pane.hide()
        pane.deleteLater()
        self.context.take_seat(seat)
        if self._came_from is not None and isValid(self._came_from):
            self._came_from.setFocus()

    def _reachable(self, reachable: bool) -> None:
        for part in (self.rail, self._right, self.finder):
            part.setEnabled(reachable)

    def _ask_when_to_lock(self) -> None:
        self.context.ask(lock_after, self._watch, key="when to lock", owner=self)

    def _watch(self, minutes: int) -> None:
        self.idle.watch(self.window().windowHandle(), minutes)

    def show_busy(self, busy: bool) -> None:
        """Whether work is under way in the background."""
        self.busy.setVisible(busy)


def _standing_facts(opened: Opened) -> list[str]:
    """What one must not forget while this shop is open."""
    facts = []
    if opened.sample:
        facts.append(
            say(
                "Sample shop: its calendar stands still at {day}. What you change here is not kept.",
                day=opened.stands_at,
            )
        )
    if opened.seat.file.looking:
        facts.append(say("Open to look at only: nothing can be changed here."))
    return facts
