"""What the day asks of each side of the shop: what is held and since when, which promises are at risk,
whom to call, what is expected, who comes.

Each side of the shop has its own day: the shop as a whole (its owner), the bench, the desk.
"""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.sides import Side
from shopdesk.domain.stage import Hold, Stage
from shopdesk.services import settings
from shopdesk.services.planning import appointments
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.plan import MorningOdds
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.stores import (
    Consignment,
    ConsignmentPiece,
    GoodsIn,
    PurchaseLine,
    PurchaseOrder,
)

AHEAD = 7  # days of promises and deliveries that concern today
COMING = 1  # days of appointments
MOST = 40  # lines of a kind
_PROMISE_OPEN = tuple(s.value for s in tuple(Stage)[:8])  # gone and later keep or break no promise any more
_AT_BENCH = (Stage.AGREED.value, Stage.ON_THE_BENCH.value, Stage.PROVING.value)
_OF_DESK = (Hold.ANSWER.value, Hold.DEPOSIT.value)


@dataclass(frozen=True, slots=True)
class HeldGroup:
    """Ranges held for one reason; `number` is the range that has waited longest."""

    reason: str
    count: int
    number: str
    since: dt.date | None
    range_id: int


@dataclass(frozen=True, slots=True)
class Due:
    """One thing with its day. `kind` is promise, call, order, outwork or an appointment's; the keys open it.

    `why` of a call is what it is held for, or ready; `percent` of a promise the odds that it is kept.
    """

    kind: str
    number: str
    who: str
    on: dt.date | None
    job_id: int | None = None
    range_id: int | None = None
    record_id: int | None = None
    why: str = ""
    percent: int | None = None
    minute: int | None = None


@dataclass(frozen=True, slots=True)
class Today:
    """A side's day in facts; what is due by kind, the earliest first within it."""

    day: dt.date
    held: tuple[HeldGroup, ...]
    due: tuple[Due, ...]

    def of(self, *kinds: str) -> tuple[Due, ...]:
        return tuple(one for one in self.due if one.kind in kinds)


def today(seat: Seat, side: Side = Side.SHOP) -> Today:
    """What this side of the shop has to know and do today."""
    with seat.look() as session:
        stages = _AT_BENCH if side is Side.BENCH else _PROMISE_OPEN
        held = () if side is Side.DESK else _held(session, stages)
        due = [
            *(() if side is Side.DESK else _promised(seat, session, stages)),
            *(_calls(session) if side is Side.DESK else ()),
            *_orders(seat, session),
            *_outwork(seat, session),
        ]
    return Today(seat.today, held, (*due, *_visits(seat, own=side is Side.BENCH)))


def _held(session: Session, stages: tuple[str, ...]) -> tuple[HeldGroup, ...]:
    rows = session.execute(
        sa.select(Job.held_for, Range.number, Job.held_since, Range.id)
        .join(Range)
        .where(Job.held_for != "", Job.ended_as == "", Job.stage.in_((*stages, Stage.GONE.value)))
        .order_by(Job.held_since.is_(None), Job.held_since, Job.id)
    )
    groups: dict[str, list[Any]] = {}
    for reason, *first in rows:
        groups.setdefault(reason, []).append(first)
    return tuple(HeldGroup(reason, len(of), *of[0]) for reason, of in groups.items())


def _promised(seat: Seat, session: Session, stages: tuple[str, ...]) -> Iterator[Due]:
    """Promises late or due soon, and later ones whose odds are below those the shop promises by."""
    below = settings.read(session, settings.PlanTerms).odds_percent
    newest = (
        sa.select(MorningOdds.job_id, sa.func.max(MorningOdds.on_day).label("on_day"))
        .group_by(MorningOdds.job_id)
        .subquery()
    )
    rows = session.execute(
        sa.select(Range.number, Party.name, Job.promised_on, Job.id, Range.id, MorningOdds.odds_percent)
        .join(Range, Range.id == Job.range_id)
        .outerjoin(Party, Party.id == Job.customer_id)
        .outerjoin(newest, newest.c.job_id == Job.id)
        .outerjoin(
            MorningOdds,
            (MorningOdds.job_id == Job.id)
            & (MorningOdds.on_day == newest.c.on_day)
            & (MorningOdds.promised_on == Job.promised_on),
        )
        .where(
            Job.stage.in_(stages),
            sa.or_(
                Job.promised_on <= _until(seat),
                Job.promised_on.is_not(None) & (MorningOdds.odds_percent < below),
            ),
        )
        .order_by(Job.promised_on, Job.id)
        .limit(MOST)
    )
    for number, who, on, job_id, range_id, percent in rows:
        yield Due("promise", number, who or "", on, job_id, range_id, percent=percent)


def _calls(session: Session) -> Iterator[Due]:
    """Whom the desk has to call: who owes an answer or a deposit, and whose range stands ready."""
    rows = session.execute(
        sa.select(Range.number, Party.name, Job.held_since, Job.id, Range.id, Job.held_for)
        .join(Range, Range.id == Job.range_id)
        .join(Party, Party.id == Job.customer_id)
        .where(
            Job.ended_as == "",
            sa.or_(Job.held_for.in_(_OF_DESK), (Job.held_for == "") & (Job.stage == Stage.READY.value)),
        )
        .order_by(Job.held_since.is_(None), Job.held_since, Job.id)
        .limit(MOST)
    )
    for number, who, since, job_id, range_id, held in rows:
        yield Due("call", number, who, since, job_id, range_id, why=held or Stage.READY.value)


def _orders(seat: Seat, session: Session) -> Iterator[Due]:
    came = (
        sa.select(sa.func.coalesce(sa.func.sum(GoodsIn.quantity), 0))
        .where(GoodsIn.line_id == PurchaseLine.id)
        .correlate(PurchaseLine)
        .scalar_subquery()
    )
    rows = session.execute(
        sa.select(PurchaseOrder.number, Party.name, PurchaseOrder.expected_on, PurchaseOrder.id)
        .join(Party, Party.id == PurchaseOrder.supplier_id)
        .where(
            PurchaseOrder.cancelled_on.is_(None),
            PurchaseOrder.expected_on <= _until(seat),
            PurchaseOrder.lines.any(PurchaseLine.quantity > came),
        )
        .order_by(PurchaseOrder.expected_on, PurchaseOrder.id)
        .limit(MOST)
    )
    for number, who, on, key in rows:
        yield Due("order", number, who, on, record_id=key)


def _outwork(seat: Seat, session: Session) -> Iterator[Due]:
    rows = session.execute(
        sa.select(Consignment.number, Party.name, Consignment.expected_on, Consignment.id)
        .join(Party, Party.id == Consignment.firm_id)
        .where(
            Consignment.expected_on <= _until(seat),
            Consignment.pieces.any(ConsignmentPiece.back_on.is_(None)),
        )
        .order_by(Consignment.expected_on, Consignment.id)
        .limit(MOST)
    )
    for number, who, on, key in rows:
        yield Due("outwork", number, who, on, record_id=key)


def _visits(seat: Seat, *, own: bool) -> Iterator[Due]:
    """Who comes or is gone to, today and tomorrow; at the bench those this person goes to."""
    last = seat.today + dt.timedelta(days=COMING)
    for row in appointments.appointments(seat):
        if row.day > last or (own and seat.acting.staff_id not in {key for key, _ in row.going}):
            continue
        yield Due(row.kind, row.number, row.who, row.day, row.job_id, row.range_id, row.id, minute=row.minute)


def _until(seat: Seat) -> dt.date:
    return seat.today + dt.timedelta(days=AHEAD)
