"""Puts what a key changed into the shop, through the services: one answer after the other."""

from shopdesk.domain.answers import Answer
from shopdesk.services import walks
from shopdesk.services.seat import Seat
from shopdesk.ui.pages.walk_round.draft import Change


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
