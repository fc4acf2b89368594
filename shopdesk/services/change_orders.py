"""Change orders as the counter sees them: found at the bench, to be priced, waiting for consent."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.domain.money import Spread
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Agreement, ChangeOrder, Quote
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.work import Task

WAITS = ("to be priced", "open")


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """A change order; `standing` is to be priced, open (without an answer), agreed or declined."""

    id: int
    job_id: int
    number: str
    found_on: dt.date
    found_by: str
    what: str
    minutes: Spread
    quote_id: int | None
    priced_on: dt.date | None
    net_cents: int
    standing: str
    range_number: str
    customer: str
    anew: bool = False  # declined, or its price ran out: it may be priced again


def change_orders(seat: Seat, *, job_id: int | None = None, waiting: bool = False) -> list[ChangeRow]:
    """Change orders, oldest first; `waiting` those to be priced or without an answer."""
    minutes = [
        sa.select(sa.func.coalesce(sa.func.sum(column), 0))
        .where(Task.change_order_id == ChangeOrder.id)
        .correlate(ChangeOrder)
        .scalar_subquery()
        for column in (Task.minutes_low, Task.minutes_likely, Task.minutes_high)
    ]
    query = (
        sa.select(ChangeOrder, Staff.name, Quote, Agreement.id, Range.number, Party.name, *minutes)
        .join(Staff, Staff.id == ChangeOrder.found_by_id)
        .join(Job, Job.id == ChangeOrder.job_id)
        .join(Range, Range.id == Job.range_id)
        .outerjoin(Party, Party.id == Job.customer_id)
        .outerjoin(Quote, Quote.id == ChangeOrder.quote_id)
        .outerjoin(Agreement, Agreement.quote_id == Quote.id)
        .order_by(ChangeOrder.id)
    )
    if job_id is not None:
        query = query.where(ChangeOrder.job_id == job_id)
    if waiting:
        query = query.where(
            Agreement.id.is_(None),
            Quote.declined_on.is_(None),
            Job.ended_as == "",
            Job.customer_id.is_not(None),
        )
    with seat.look() as session:
        return [
            ChangeRow(
                change.id, change.job_id, change.number, change.found_on, found_by, change.what,
                Spread(int(low), int(likely), int(high)), change.quote_id, quote.on_day if quote else None,
                quote.net_cents if quote else 0, _standing(quote, agreement_id), number, customer or "",
                _may_be_priced_anew(quote, agreement_id, seat.today),
            )
            for change, found_by, quote, agreement_id, number, customer, low, likely, high in session.execute(
                query
            )
        ]  # fmt: skip


def _standing(quote: Quote | None, agreement_id: int | None) -> str:
    if quote is None:
        return "to be priced"
    if agreement_id is not None:
        return "agreed"
    return "declined" if quote.declined_on is not None else "open"


def _may_be_priced_anew(quote: Quote | None, agreement_id: int | None, today: dt.date) -> bool:
    if quote is None or agreement_id is not None:
        return False
    ran_out = quote.valid_until is not None and quote.valid_until < today
    return quote.declined_on is not None or ran_out
