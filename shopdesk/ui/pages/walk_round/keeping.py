"""Puts what a key changed into the shop, through the services: one answer after the other."""

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from shopdesk.domain.answers import Answer
from shopdesk.domain.changed import Seen
from shopdesk.services import walks
from shopdesk.services.seat import Seat
from shopdesk.services.walks import WalkView
from shopdesk.ui.context import Context
from shopdesk.ui.pages.walk_round.draft import Change


class Keeper(QObject):
    """`kept` names the walk-round that stands differently now; `refused` carries the shop's Problem."""

    kept = Signal(int)
    refused = Signal(object)

    def __init__(self, context: Context, parent: QObject) -> None:
        super().__init__(parent)
        self._context = context
        self.read: Seen | None = None  # the state of the shop the walk-round on screen was read from
        self._untold = False  # changes that other places do not know of yet; they are told on leaving

    def keep(self, view: WalkView, change: Change) -> None:
        self.do(view, lambda seat: keep(seat, view.id, change))

    def do(self, view: WalkView, action: Callable[[Seat], object]) -> None:
        """Something of this walk-round is written down."""
        self._untold = True
        self._context.do(
            action, lambda _done: self.kept.emit(view.id), self.refused.emit, owner=self, seen=self.read
        )

    def tell_others(self, view: WalkView) -> None:
        """Other places hear what changed since one came here."""
        if self._untold:
            self._untold = False
            self._context.do(lambda _seat: None, changes=[f"job {view.job_id}", "jobs"])


def keep(seat: Seat, walk_id: int, change: Change) -> None:
    """After this the shop holds at that checkpoint what the change says."""
    for gone in _taken_back(change):
        walks.take_back(seat, walk_id, change.checkpoint, gone.finding)
    for answer in change.after:
        if answer not in change.before:
            walks.answer(seat, walk_id, answer)


def _taken_back(change: Change) -> list[Answer]:
    """What the new answers do not displace by themselves: a finding is displaced by none, all by none."""
    stay = {answer.finding for answer in change.after}
    if change.after and None in stay:  # "nothing found" or "not seen" displaces every finding
        return []
    found_now = any(answer.finding is not None for answer in change.after)
    return [
        answer
        for answer in change.before
        if answer.finding not in stay and not (found_now and answer.finding is None)
    ]
