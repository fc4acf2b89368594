"""Two walk-rounds side by side: of one range before and after, or of two ranges one thinks of buying."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session, joinedload

from shopdesk.domain.build import Build
from shopdesk.domain.comparing import Difference, differences
from shopdesk.domain.condition import Found, condition
from shopdesk.domain.money import Spread
from shopdesk.domain.worth import ScopeCharge, Verdict, judge, scope_charges
from shopdesk.services import walks
from shopdesk.services.past_sales import valued_for
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.walk import WalkRound

MOST = 100


@dataclass(frozen=True, slots=True)
class WalkChoice:
    """A walk-round that may be set beside another; `same_range`: of the same range, another day."""

    walk_id: int
    number: str
    maker: str
    model: str
    on_day: dt.date
    same_range: bool


@dataclass(frozen=True, slots=True)
class Beside:
    """One side: the walk-round with what it comes to; `charges` for a customer's own range."""

    walk_id: int
    number: str
    on_day: dt.date
    build: Build
    found: tuple[Found, ...]
    not_seen: int
    verdict: Verdict
    value: Spread
    asking_cents: int | None
    charges: tuple[ScopeCharge, ...] = ()


@dataclass(frozen=True, slots=True)
class Comparison:
    """The earlier walk-round first."""

    first: Beside
    second: Beside
    same_range: bool
    differences: tuple[Difference, ...]


def to_compare(seat: Seat, walk_id: int) -> list[WalkChoice]:
    """Other walk-rounds with answers: those of the same range first, then the newest of the others."""
    with seat.look() as session:
        mine = session.get_one(WalkRound, walk_id)
        query = (
            sa.select(WalkRound)
            .join(Job)
            .where(WalkRound.id != walk_id, WalkRound.observations.any())
            .options(joinedload(WalkRound.job).joinedload(Job.range))
            .order_by((Job.range_id == mine.job.range_id).desc(), WalkRound.id.desc())
            .limit(MOST)
        )
        return [_choice(row, mine.job.range_id) for row in session.scalars(query)]


def compare(seat: Seat, one_id: int, other_id: int) -> Comparison:
    """Both sides with what they come to, and where they differ."""
    first_id, second_id = sorted((one_id, other_id))
    with seat.look() as session:
        first, second = (_beside(seat, session, key) for key in (first_id, second_id))
        rows = [session.get_one(WalkRound, key) for key in (first_id, second_id)]
        looks = [walks.view_of(session, row).look for row in rows]
        same = rows[0].job.range_id == rows[1].job.range_id
    return Comparison(first, second, same, differences(seat.catalogue, *looks))


def _beside(seat: Seat, session: Session, walk_id: int) -> Beside:
    row = session.get_one(WalkRound, walk_id)
    view = walks.view_of(session, row)
    figures = valued_for(seat, session, view.build).figures
    verdict = judge(seat.catalogue, view.look, figures, seed=view.seed)
    theirs = row.job.customer_id is not None
    charges = scope_charges(seat.catalogue, view.look, figures, seed=view.seed) if theirs else ()
    known = condition(seat.catalogue, view.look)
    found = tuple(f for zone in known.zones for f in zone.found)
    return Beside(
        walk_id, view.range_number, row.on_day, view.build, found, len(known.not_seen), verdict,
        verdict.chosen.value, view.asking_cents, charges,
    )  # fmt: skip


def _choice(row: WalkRound, range_id: int) -> WalkChoice:
    known = row.job.range
    return WalkChoice(row.id, known.number, known.maker, known.model, row.on_day, known.id == range_id)
