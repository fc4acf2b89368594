"""What the day asks of the shop: what is held, what was promised, what is expected back."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.domain.stage import Stage
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.stores import (
    Consignment,
    ConsignmentPiece,
    GoodsIn,
    PurchaseLine,
    PurchaseOrder,
)

AHEAD = 7  # days of promises and deliveries that concern today
_PROMISE_OPEN = tuple(s.value for s in tuple(Stage)[:8])  # gone and later keep or break no promise any more


@dataclass(frozen=True, slots=True)
class HeldGroup:
    """Ranges held for one reason; `number` is the range that has waited longest."""

    reason: str
    count: int
    number: str
    since: dt.date | None


@dataclass(frozen=True, slots=True)
class Expected:
    """Something with its day: a range promised, an order or outwork that is to come."""

    number: str
    who: str
    on: dt.date


@dataclass(frozen=True, slots=True)
class Today:
    """The day in facts; lists by day, the earliest first."""

    day: dt.date
    held: tuple[HeldGroup, ...]
    promised: tuple[Expected, ...]
    orders: tuple[Expected, ...]
    outwork: tuple[Expected, ...]


def today(seat: Seat) -> Today:
    """What is held, and what is late or due within a week."""
    until = seat.today + dt.timedelta(days=AHEAD)
    with seat.look() as session:
        return Today(
            seat.today,
            _held(session),
            _promised(session, until),
            _orders(session, until),
            _outwork(session, until),
        )


def _held(session: sa.orm.Session) -> tuple[HeldGroup, ...]:
    rows = session.execute(
        sa.select(Job.held_for, Range.number, Job.held_since)
        .join(Range)
        .where(Job.held_for != "", Job.ended_as == "")
        .order_by(Job.held_since.is_(None), Job.held_since, Job.id)
    )
    groups: dict[str, list[tuple[str, dt.date | None]]] = {}
    for reason, number, since in rows:
        groups.setdefault(reason, []).append((number, since))
    return tuple(HeldGroup(reason, len(of), *of[0]) for reason, of in groups.items())


def _promised(session: sa.orm.Session, until: dt.date) -> tuple[Expected, ...]:
    rows = session.execute(
        sa.select(Range.number, Party.name, Job.promised_on)
        .join(Range, Range.id == Job.range_id)
        .outerjoin(Party, Party.id == Job.customer_id)
        .where(Job.stage.in_(_PROMISE_OPEN), Job.promised_on <= until)
        .order_by(Job.promised_on, Job.id)
    )
    return _expected(rows)


def _orders(session: sa.orm.Session, until: dt.date) -> tuple[Expected, ...]:
    came = (
        sa.select(sa.func.coalesce(sa.func.sum(GoodsIn.quantity), 0))
        .where(GoodsIn.line_id == PurchaseLine.id)
        .correlate(PurchaseLine)
        .scalar_subquery()
    )
    rows = session.execute(
        sa.select(PurchaseOrder.number, Party.name, PurchaseOrder.expected_on)
        .join(Party, Party.id == PurchaseOrder.supplier_id)
        .where(
            PurchaseOrder.cancelled_on.is_(None),
            PurchaseOrder.expected_on <= until,
            PurchaseOrder.lines.any(PurchaseLine.quantity > came),
        )
        .order_by(PurchaseOrder.expected_on, PurchaseOrder.id)
    )
    return _expected(rows)


def _outwork(session: sa.orm.Session, until: dt.date) -> tuple[Expected, ...]:
    rows = session.execute(
        sa.select(Consignment.number, Party.name, Consignment.expected_on)
        .join(Party, Party.id == Consignment.firm_id)
        .where(
            Consignment.expected_on <= until,
            Consignment.pieces.any(ConsignmentPiece.back_on.is_(None)),
        )
        .order_by(Consignment.expected_on, Consignment.id)
    )
    return _expected(rows)


def _expected(rows: Iterable[sa.Row[str, str | None, dt.date | None]]) -> tuple[Expected, ...]:
    return tuple(Expected(number, who or "", on) for number, who, on in rows if on is not None)
