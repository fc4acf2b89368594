"""Rooms a walk-round is left for and come back to: particulars, a picture, where a figure comes from."""

from collections.abc import Callable

from PySide6.QtCore import QObject

from shopdesk.domain.rights import Action
from shopdesk.domain.worth import RouteKind
from shopdesk.domain.worth.origin import Line, behind_charge, behind_route
from shopdesk.services import intake, walks
from shopdesk.services.inspection import WalkRow, Worth, range_of
from shopdesk.services.intake import RangeDraft
from shopdesk.services.seat import Seat
from shopdesk.services.walks import WalkView
from shopdesk.ui.context import Context
from shopdesk.ui.pages.walk_round.compare_room import CompareRoom
from shopdesk.ui.pages.walk_round.particulars import Particulars
from shopdesk.ui.pages.walk_round.picture_room import PictureRoom
from shopdesk.ui.pages.walk_round.walk_room import WalkRoom
from shopdesk.ui.pages.walk_round.where_from import WhereFrom
from shopdesk.ui.pages.walk_round.worth_words import capital, route_named, scope_name
from shopdesk.wording import say

SideRoom = Particulars | PictureRoom | WhereFrom | CompareRoom


class SideRooms(QObject):
    """`show` puts a room in place of the walk-round, `back` returns to it."""

    def __init__(
        self, context: Context, room: WalkRoom, show: Callable[[SideRoom], None], back: Callable[[], None],
        parent: QObject,
    ) -> None:  # fmt: skip
        super().__init__(parent)
        self._context, self._room, self._show, self._back = context, room, show, back
        room.pictureAsked.connect(self.open_picture)
        room.verdict.originAsked.connect(self.open_origin)

    # Particulars

    def ask_particulars(self, row: WalkRow) -> None:
        """The form of this range and this visit."""
        if not self._context.may(Action.BOOK_IN):
            self._context.tell(say("The owner or the desk writes down what a range is."))
            return
        self._room.leave()
        walk = self._room.walk
        walk_id = walk.view.id if walk is not None else 0

        def read(seat: Seat) -> tuple[WalkView, RangeDraft]:
            return walks.walk_view(seat, walk_id), intake.described(seat, row.range_id)

        self._context.ask(read, self._show_particulars, key=f"particulars/{id(self)}", owner=self)

    def _show_particulars(self, found: tuple[WalkView, RangeDraft]) -> None:
        form = Particulars(self._context, *found)
        form.written.connect(self._particulars_written)
        form.left.connect(self._back)
        self._show(form)

    def _particulars_written(self) -> None:
        self._back()
        self._room.read_again()

    # A picture

    def open_picture(self, photograph_id: int) -> None:
        """One picture of the open checkpoint, large."""
        walk = self._room.walk
        if walk is None:
            return
        self._room.leave()
        room = PictureRoom(
            self._context, walk.view, self._room.pictures.shown,
            may_mark=not self._context.seat.file.looking,
        )  # fmt: skip
        room.changed.connect(lambda: self._room.pictures.show_again(walk.view))
        room.left.connect(self._back)
        self._show(room)
        room.show_picture(photograph_id)

    # Another walk-round beside this one

    def compare(self) -> None:
        """Before and after, or another range."""
        walk = self._room.walk
        if walk is not None:
            self._room.leave()
            room = CompareRoom(self._context, walk.view)
            room.left.connect(self._back)
            room.checkpointAsked.connect(self._follow_checkpoint)
            self._show(room)

    # Where a figure comes from

    def open_origin(self, place: int) -> None:
        """The lines behind a route, or behind a scope of a customer’s range."""
        worth = self._room.worth
        if worth is None:
            return
        title, lines = self._lines(worth, place)
        room = WhereFrom(self._context.region, title, lines)
        room.left.connect(self._back)
        room.checkpointAsked.connect(self._follow_checkpoint)
        room.jobAsked.connect(self._follow_job)
        room.figureAsked.connect(lambda _key: self._context.go("set-up", section="figures"))
        self._show(room)

    def _lines(self, worth: Worth, place: int) -> tuple[str, tuple[Line, ...]]:
        catalogue = self._context.seat.catalogue
        if worth.charges:
            charge = worth.charges[place]
            return capital(scope_name(charge.scope)), behind_charge(catalogue, worth.look, worth.own, charge)
        route = [r for r in worth.verdict.routes if r.kind is not RouteKind.LEAVE][place]
        lines = behind_route(catalogue, worth.look, worth.own, route, worth.verdict.cap_cents)
        return capital(route_named(route)), lines

    def _follow_checkpoint(self, code: str) -> None:
        self._back()
        self._room.go(code)

    def _follow_job(self, job_id: int) -> None:
        self._context.ask(
            lambda seat: range_of(seat, job_id), self._context.open_jacket,
            key=f"sold/{id(self)}", owner=self,
        )  # fmt: skip
