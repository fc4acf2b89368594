"""A year at a glance: what was billed and what went into the work, month by month.

Bills count on their day, hours on the day they were worked, parts when they are set aside for a task,
outwork when it is back, outlays on their day. The months sum to `year_figures`.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from zoneinfo import ZoneInfo

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.rights import Action
from shopdesk.services.reckoning.billed import billed_without_tax
from shopdesk.services.reckoning.chosen import span_of
from shopdesk.services.reckoning.costs import entry_cost, midnight
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice, Outlay, Payment
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.stores import ConsignmentPiece, PartMovement
from shopdesk.storage.tables.work import TimeEntry

Column = sa.orm.InstrumentedAttribute[Any]


@dataclass(frozen=True, slots=True)
class Month:
    """One month; minor units without tax, but `taken_cents`: money taken less money given back."""

    year: int
    month: int
    bills: int = 0
    billed_cents: int = 0
    minutes: int = 0
    hours_cents: int = 0
    parts_cents: int = 0
    outwork_cents: int = 0
    outlay_cents: int = 0
    taken_cents: int = 0

    @property
    def spent_cents(self) -> int:
        return self.hours_cents + self.parts_cents + self.outwork_cents + self.outlay_cents

    @property
    def left_cents(self) -> int:
        """Billed less spent."""
        return self.billed_cents - self.spent_cents


@dataclass(frozen=True, slots=True)
class BilledPaper:
    """A bill or credit of the month, without tax, a credit below zero."""

    number: str
    kind: str
    on_day: dt.date
    range_id: int
    range_number: str
    cents: int


def months(seat: Seat, year: int) -> list[Month]:
    """The twelve months of a year."""
    zone = ZoneInfo(seat.region.timezone)
    firsts = [dt.date(year, month, 1) for month in range(1, 13)]
    instants = [midnight(day, zone) for day in firsts]
    days = span_of(year)
    span = midnight(days[0], zone), midnight(days[1], zone)
    with seat.look(Action.SEE_COSTS) as session:
        bill = sa.case((Invoice.kind == "invoice", 1), else_=0)
        issued = _by_month(
            session, Invoice.on_day, firsts, days, [bill, billed_without_tax()], Invoice.number.is_not(None)
        )
        cost = entry_cost(session, seat.region)
        clocked = _by_month(session, TimeEntry.started_at, instants, span, [TimeEntry.minutes, cost],
                            TimeEntry.minutes.is_not(None))  # fmt: skip
        parts = _by_month(session, PartMovement.at, instants, span, [-PartMovement.cost_cents],
                          PartMovement.need_id.is_not(None))  # fmt: skip
        outwork = _by_month(session, ConsignmentPiece.back_on, firsts, days, [ConsignmentPiece.cost_cents])
        spent = _by_month(session, Outlay.on_day, firsts, days, [Outlay.amount_cents])
        taken = _by_month(session, Payment.on_day, firsts, days, [Payment.amount_cents])
    one, two = (0,), (0, 0)
    return [
        Month(
            year, n, *issued.get(n, two), *clocked.get(n, two), *parts.get(n, one), *outwork.get(n, one),
            *spent.get(n, one), *taken.get(n, one),
        )
        for n in range(1, 13)
    ]  # fmt: skip


def papers_of(seat: Seat, year: int, month: int) -> list[BilledPaper]:
    """The issued bills and credits of a month, in the order of their days."""
    first = dt.date(year, month, 1)
    after = dt.date(year + month // 12, month % 12 + 1, 1)
    query = (
        sa.select(Invoice.number, Invoice.kind, Invoice.on_day, Range.id, Range.number, billed_without_tax())
        .join(Job, Job.id == Invoice.job_id)
        .join(Range, Range.id == Job.range_id)
        .where(Invoice.number.is_not(None), Invoice.on_day >= first, Invoice.on_day < after)
        .order_by(Invoice.on_day, Invoice.id)
    )
    with seat.look(Action.SEE_COSTS) as session:
        rows = session.execute(query).all()
    return [
        BilledPaper(number or "", kind, day, range_id, of, int(cents))
        for number, kind, day, range_id, of, cents in rows
        if day is not None
    ]


def _by_month(
    session: Session, when: Column, firsts: Sequence[object], span: tuple[object, object],
    figures: Sequence[sa.ColumnElement[Any] | Column], *more: sa.ColumnElement[bool],
) -> dict[int, tuple[int, ...]]:  # fmt: skip
    """Sums by month of what lies within the year; the newest months are asked for first."""
    month = sa.case(*((when >= first, n) for n, first in reversed(list(enumerate(firsts, 1)))))
    query = sa.select(month.label("month"), *(sa.func.sum(figure) for figure in figures)).where(
        when >= span[0], when < span[1], *more
    )
    rows = session.execute(query.group_by(sa.text("month")))
    return {int(row[0]): tuple(int(cents or 0) for cents in row[1:]) for row in rows}
