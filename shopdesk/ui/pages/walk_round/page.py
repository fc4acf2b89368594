"""The place of the walk-round: choose a range, begin, answer a key at a time, decide."""

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QStackedWidget, QWidget

from shopdesk.domain.rights import Action
from shopdesk.services import walks
from shopdesk.services.inspection import WalkRow, newest_job, to_walk, walk_row
from shopdesk.services.seat import Seat
from shopdesk.services.walks import WalkView
from shopdesk.ui.context import Context, Topics
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.range_form.booking import BookingForm
from shopdesk.ui.pages.range_form.booking_draft import Booked
from shopdesk.ui.pages.walk_round.begin_form import BeginForm
from shopdesk.ui.pages.walk_round.chooser import Chooser
from shopdesk.ui.pages.walk_round.deeds import Deeds
from shopdesk.ui.pages.walk_round.head import Head
from shopdesk.ui.pages.walk_round.side_rooms import SideRoom, SideRooms
from shopdesk.ui.pages.walk_round.walk_room import WalkRoom
from shopdesk.ui.widgets.boxes import upright
from shopdesk.wording import say

_LISTED = frozenset({"everything", "jobs", "ranges", "settings", "catalogue"})


class WalkRoundPage(Page):
    """Rooms behind each other: the ranges, a new one, the beginning, the walk, its particulars."""

    place = "walk-round"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._rooms = QStackedWidget()
        self._made: BookingForm | SideRoom | None = None  # made when asked for
        self._over_walk = False  # whether what was made is left for the walk-round
        self.row: WalkRow | None = None
        may_add = context.may(Action.BOOK_IN)
        self.chooser = Chooser(context.region, context.memory, may_add=may_add, first=self.add_range)
        self.begin = BeginForm(self._begin)
        self.room = WalkRoom(context)
        self.deeds = Deeds(context, lambda: self.row, lambda: self.room.walk, self)
        self.head = Head(context.region, self.deeds)
        self.side = SideRooms(context, self.room, self._show_over, self._back_to_walk, self)
        self._walking = self._make_walking()
        for room in (self.chooser, self.begin, self._walking):
            self._rooms.addWidget(room)
        self._join()
        self.setLayout(upright([self._rooms]))

    def refresh(self, topics: Topics) -> None:
        if topics & _LISTED:
            self.ask(to_walk, self.chooser.list.show_rows, key="rows")
        row = self.row
        if row is None:
            return
        if topics & {"everything", "settings", "catalogue"}:
            self.room.read_again()
        if topics & {"everything", f"job {row.job_id}", f"range {row.range_id}"}:
            self.ask(lambda seat: walk_row(seat, row.job_id), self._take_row, key="row")

    def focusFirst(self) -> None:
        here = self._rooms.currentWidget()
        if here is self._walking:
            self.room.focusFirst()
        elif isinstance(here, Chooser | BeginForm):
            here.focusFirst()
        elif self._made is not None:
            self._made.focusFirst()

    def open_on(self, **what: Any) -> None:
        """`job_id` or `range_id` of the range to walk round; `look_over` writes a new one down."""
        if what.get("look_over"):
            self.add_range()
        elif "job_id" in what:
            self.open_job(int(what["job_id"]))
        elif "range_id" in what:
            range_id = int(what["range_id"])
            self.ask(lambda seat: newest_job(seat, range_id), self.open_job, key="open")

    def keep_draft(self) -> None:
        self.room.leave()

    # Which range

    def show_ranges(self) -> None:
        """Back to the list; the walk-round is kept as it stands."""
        self.room.leave()
        self._drop_made()
        self.row = None
        self.room.judging.stop()
        self.room.pictures.watch(False)
        self._rooms.setCurrentWidget(self.chooser)
        self.chooser.focusFirst()

    def add_range(self) -> None:
        """The form of a range not written down yet."""
        form = BookingForm(self, booked_in=False, back=say("Back to the ranges"))
        form.booked.connect(self._range_written)
        form.left.connect(self.show_ranges)
        form.afresh.connect(self.add_range)
        self._show_made(form)

    def open_job(self, job_id: int) -> None:
        """A range's walk-round where it was left, or the beginning of one."""

        def read(seat: Seat) -> tuple[WalkRow, WalkView | None]:
            return walk_row(seat, job_id), walks.last_walk(seat, job_id)

        self.ask(read, self._opened, key="open")

    def _opened(self, found: tuple[WalkRow, WalkView | None]) -> None:
        row, view = found
        self._drop_made()
        self._take_row(row)
        if view is None:
            self._show_begin(row)
        else:
            self._show_walk(view)

    def _take_row(self, row: WalkRow) -> None:
        """The same range as the shop knows it now; a walk-round finished meanwhile is read again."""
        before, self.row = self.row, row
        self.head.show_row(row)
        walk = self.room.walk
        same = before is not None and walk is not None and row.walk_id == walk.view.id
        if walk is not None and same and row.finished != walk.view.finished:
            self.room.read_again()

    def _range_written(self, booked: Booked) -> None:
        taken = booked.taken
        self.context.tell(say("{number} is written down, not booked in.", number=taken.number))
        self.open_job(taken.job_id)

    # Beginning and going on

    def _show_begin(self, row: WalkRow) -> None:
        if not self.context.may(Action.WALK):
            self.context.tell(say("{number} was not walked round yet.", number=row.number))
            self.show_ranges()
            return
        walk = self.room.walk
        again = walk is not None and walk.view.job_id == row.job_id
        self.begin.show_range(row, walk.view.place if walk is not None and again else "")
        self._rooms.setCurrentWidget(self.begin)
        self.begin.focusFirst()

    def _begin(self, place: str, circumstances: str) -> None:
        row = self.row
        if row is None:
            return

        def begin(seat: Seat) -> WalkView:
            walk_id = walks.open_walk(seat, row.job_id, place=place, circumstances=circumstances)
            return walks.walk_view(seat, walk_id)

        self.do(begin, self._show_walk, self.begin.form.show_problem, changes=[f"job {row.job_id}", "jobs"])

    def _show_walk(self, view: WalkView) -> None:
        self.room.show_walk(view)
        self.room.pictures.watch(True)
        self._rooms.setCurrentWidget(self._walking)
        self.room.focusFirst()

    def _walk_again(self) -> None:
        if self.row is not None:
            self._show_begin(self.row)

    # Beside the walk

    def _ask_particulars(self) -> None:
        if self.row is not None:
            self.side.ask_particulars(self.row)

    def _back_to_walk(self) -> None:
        self._drop_made()
        self._rooms.setCurrentWidget(self._walking)
        self.room.focusFirst()

    # Inside

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape goes back to the keys of the walk, from there a room."""
        here = self._rooms.currentWidget()
        if event.key() != Qt.Key.Key_Escape or here is self.chooser:
            super().keyPressEvent(event)
        elif here is self._made and self._over_walk:
            self._back_to_walk()
        elif here is self._walking and not self.room.checkpoint.hasFocus():
            self.room.focusFirst()
        else:
            self.show_ranges()

    def _show_over(self, room: SideRoom) -> None:
        """In place of the walk-round, which is come back to."""
        self._show_made(room)
        self._over_walk = True

    def _show_made(self, form: BookingForm | SideRoom) -> None:
        self._drop_made()
        self._made = form
        self._rooms.addWidget(form)
        self._rooms.setCurrentWidget(form)
        form.focusFirst()

    def _drop_made(self) -> None:
        if self._made is not None:
            self._rooms.removeWidget(self._made)
            self._made.deleteLater()
            self._made = None
        self._over_walk = False

    def _make_walking(self) -> QWidget:
        box = upright([self.head, self.room], gap="small", margin="gap")
        box.setStretchFactor(self.room, 1)
        holder = QWidget()
        holder.setLayout(box)
        return holder

    def _join(self) -> None:
        self.chooser.chosen.connect(self.open_job)
        self.chooser.newAsked.connect(self.add_range)
        self.room.particularsAsked.connect(self._ask_particulars)
        self.room.moved.connect(self._show_standing)
        self.head.othersAsked.connect(self.show_ranges)
        self.head.particularsAsked.connect(self._ask_particulars)
        self.head.compareAsked.connect(self.side.compare)
        self.head.secondAsked.connect(self._walk_again)

    def _show_standing(self) -> None:
        if self.room.walk is not None:
            self.head.show_walk(self.room.walk, self.room.worth, may_answer=self.room.may_answer)
