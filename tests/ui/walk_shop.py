"""Ranges to walk round, written down in a shop."""

from collections.abc import Mapping
from typing import Any

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Purpose
from shopdesk.services import intake, walks
from shopdesk.services.seat import Seat
from shopdesk.services.walks import WalkView

FULL = Build(burners=6, deep_well=True, griddle=True, lamp=True, clock=True, shelf=True, outlet=True)


def a_range(
    seat: Seat, *, build: Build = FULL, purpose: Purpose = Purpose.RESALE, asking: int | None = 45_000,
    customer_id: int | None = None, booked_in: bool = False,
) -> intake.Taken:  # fmt: skip
    """A range somebody offers."""
    draft = intake.RangeDraft(maker="Corvane", model="No. 40", colour="ivory", build=build)
    job = intake.JobDraft(purpose=purpose, asking_cents=asking, customer_id=customer_id)
    return intake.take_on(seat, draft, job, booked_in=booked_in)


def a_walk(seat: Seat, **wanted: Any) -> WalkView:
    """A walk-round just begun."""
    taken = a_range(seat, **wanted)
    return walks.walk_view(seat, walks.open_walk(seat, taken.job_id, place="Seller’s garage"))


def kept(seat: Seat, walk_id: int) -> Mapping[str, list[str]]:
    """What the shop holds: findings at each checkpoint, "" for none found."""
    held: dict[str, list[str]] = {}
    for given in walks.walk_view(seat, walk_id).given:
        held.setdefault(given.answer.checkpoint, []).append(given.answer.finding or "")
    return held
