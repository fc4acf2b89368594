"""The figures of a year: hours worked, what was billed and what went into it, and what is owed by age.

Every figure is one aggregate over the rows of the year; nothing is read job by job.
"""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from zoneinfo import ZoneInfo

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.rights import Action
from shopdesk.services.owed import age_of
from shopdesk.services.reckoning.billed import billed_without_tax
from shopdesk.services.reckoning.costs import midnight, wages
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice, PaymentShare, WriteOff
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.stores import ConsignmentPiece, PartMovement
from shopdesk.storage.tables.work import TimeEntry


@dataclass(frozen=True, slots=True)
class PersonHours:
    """What one person clocked in the year, and what those hours cost the shop (minor units)."""

    staff_id: int
    name: str
    minutes: int
    cost_cents: int


@dataclass(frozen=True, slots=True)
class YearFigures:
    """A year's figures, minor units without tax. Parts count when they are set aside for a task, outwork
    when a piece comes back."""

    year: int
    hours: tuple[PersonHours, ...]
    bills: int
    billed_cents: int  # bills less credits
    parts_cents: int
    outwork_cents: int
    ages: tuple[int, int, int, int, int]  # owed today: not due, past due to 30, 60, 90 days, and longer

    @property
    def minutes(self) -> int:
        return sum(person.minutes for person in self.hours)

    @property
    def hours_cents(self) -> int:
        return sum(person.cost_cents for person in self.hours)

    @property
    def margin_cents(self) -> int:
        """Billed, less hours at their cost, parts and outwork."""
        return self.billed_cents - self.hours_cents - self.parts_cents - self.outwork_cents


def year_figures(seat: Seat, year: int) -> YearFigures:
    """The figures of one calendar year of the shop; what is owed is as of today."""
    first, after = dt.date(year, 1, 1), dt.date(year + 1, 1, 1)
    zone = ZoneInfo(seat.region.timezone)
    begins, ends = (midnight(day, zone) for day in (first, after))
    with seat.look(Action.SEE_COSTS) as session:
        bills, billed = _billed(session, first, after)
        return YearFigures(
            year=year,
            hours=tuple(_hours(session, begins, ends, zone)),
            bills=bills,
            billed_cents=billed,
            parts_cents=_parts(session, begins, ends),
            outwork_cents=_outwork(session, first, after),
            ages=owed_ages(session, seat.today),
        )


def _hours(session: Session, begins: dt.datetime, ends: dt.datetime, zone: ZoneInfo) -> Iterator[PersonHours]:
    """By person; an hour costs the wage in force on its day, each entry rounded by itself."""
    of_people = wages(session)
    for staff_id, name in session.execute(sa.select(Staff.id, Staff.name).order_by(Staff.name, Staff.id)):
        minutes, cost = 0, 0
        for since, until, cents in _periods(of_people.get(staff_id, []), begins, ends, zone):
            clocked, cost_cents = _clocked(session, staff_id, since, until, cents)
            minutes += clocked
            cost += cost_cents
        if minutes:
            yield PersonHours(staff_id, name, minutes, cost)


def _periods(
    steps: list[tuple[dt.date, int]], begins: dt.datetime, ends: dt.datetime, zone: ZoneInfo
) -> Iterator[tuple[dt.datetime, dt.datetime, int]]:
    """Stretches of the year with one wage; nothing an hour before the first was set."""
    starts = [(begins, 0)]
    for day, cents in steps:
        since = midnight(day, zone)
        if since <= begins:
            starts = [(begins, cents)]
        elif since < ends:
            starts.append((since, cents))
    for (since, cents), until in zip(starts, [*(s for s, _ in starts[1:]), ends], strict=True):
        yield since, until, cents


def _clocked(
    session: Session, staff_id: int, since: dt.datetime, until: dt.datetime, cents: int
) -> tuple[int, int]:
    """Minutes of one person in a stretch with one wage, and what they cost."""
    cost = sa.func.sum((TimeEntry.minutes * cents + 30) // 60)
    clocked = sa.select(sa.func.sum(TimeEntry.minutes), cost).where(
        TimeEntry.staff_id == staff_id, TimeEntry.started_at >= since, TimeEntry.started_at < until
    )
    minutes, cost_cents = session.execute(clocked).one()
    return int(minutes or 0), int(cost_cents or 0)


def _billed(session: Session, first: dt.date, after: dt.date) -> tuple[int, int]:
    """How many bills were issued, and their sums without tax less credits."""
    bill = sa.case((Invoice.kind == "invoice", 1), else_=0)
    issued = (Invoice.number.is_not(None), Invoice.on_day >= first, Invoice.on_day < after)
    bills, cents = session.execute(
        sa.select(sa.func.sum(bill), sa.func.sum(billed_without_tax())).where(*issued)
    ).one()
    return int(bills or 0), int(cents or 0)


def _parts(session: Session, begins: dt.datetime, ends: dt.datetime) -> int:
    moved = sa.select(-sa.func.sum(PartMovement.cost_cents)).where(
        PartMovement.need_id.is_not(None), PartMovement.at >= begins, PartMovement.at < ends,
    )  # fmt: skip
    return int(session.scalar(moved) or 0)


def _outwork(session: Session, first: dt.date, after: dt.date) -> int:
    back = sa.select(sa.func.sum(ConsignmentPiece.cost_cents)).where(
        ConsignmentPiece.back_on >= first, ConsignmentPiece.back_on < after
    )
    return int(session.scalar(back) or 0)


def owed_ages(session: Session, today: dt.date) -> tuple[int, int, int, int, int]:
    """What is asked for on issued bills by how long it is past due (see `owed.AGES`)."""
    settled = _by_invoice(PaymentShare.invoice_id, PaymentShare.amount_cents)
    given_up = _by_invoice(WriteOff.invoice_id, WriteOff.amount_cents)
    corrected = sa.select(Invoice.corrects_id).where(Invoice.corrects_id.is_not(None))
    asked = (
        Invoice.gross_cents
        - sa.func.coalesce(settled.c.cents, 0)
        - sa.func.coalesce(given_up.c.cents, 0)
    )  # fmt: skip
    query = (
        sa.select(Invoice.due_on, sa.func.sum(asked))
        .outerjoin(settled, settled.c.invoice_id == Invoice.id)
        .outerjoin(given_up, given_up.c.invoice_id == Invoice.id)
        .where(
            Invoice.kind == "invoice", Invoice.number.is_not(None), Invoice.id.not_in(corrected), asked > 0
        )
        .group_by(Invoice.due_on)
    )
    ages = [0, 0, 0, 0, 0]
    for due_on, cents in session.execute(query):
        ages[age_of(due_on, today)] += int(cents)
    one, two, three, four, five = ages
    return one, two, three, four, five


def _by_invoice(
    key: sa.orm.InstrumentedAttribute[int], cents: sa.orm.InstrumentedAttribute[int]
) -> sa.Subquery:
    return sa.select(key.label("invoice_id"), sa.func.sum(cents).label("cents")).group_by(key).subquery()
