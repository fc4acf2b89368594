"""What stands open today: what is owed on each bill by age, and what lies on the shelf at what it cost."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.domain.rights import Action
from shopdesk.services.owed import age_of, issued_invoices, open_of, still_owed
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.stores import Part, PartMovement


@dataclass(frozen=True, slots=True)
class OwedBill:
    """An issued bill with something still asked for; `age` as in `owed.age_of`. Amounts with tax."""

    invoice_id: int
    job_id: int
    range_id: int
    range_number: str
    number: str
    customer: str
    on_day: dt.date | None
    due_on: dt.date | None
    gross_cents: int
    asked_cents: int
    age: int


@dataclass(frozen=True, slots=True)
class OnShelf:
    """One kind of part that lies here, at what it cost."""

    part_id: int
    number: str
    name: str
    condition: str
    lies_at: str
    quantity: int
    value_cents: int


def owed_bills(seat: Seat) -> list[OwedBill]:
    """Every bill with something asked for today, the longest past due first."""
    query = issued_invoices(*still_owed()).options(
        sa.orm.joinedload(Invoice.customer), sa.orm.joinedload(Invoice.job).joinedload(Job.range)
    )
    with seat.look(Action.INVOICE) as session:
        bills = session.scalars(query).all()
        standing = open_of(session, bills)
        found = [
            OwedBill(
                bill.id, bill.job_id, bill.job.range_id, bill.job.range.number, bill.number or "",
                bill.customer.name, bill.on_day, bill.due_on, bill.gross_cents, standing[bill.id].asked_cents,
                age_of(bill.due_on, seat.today),
            )
            for bill in bills
            if standing[bill.id].asked_cents
        ]  # fmt: skip
    return sorted(found, key=lambda bill: (bill.due_on or seat.today, bill.invoice_id))


def on_shelf(seat: Seat) -> list[OnShelf]:
    """What lies in the stores, the dearest first."""
    count, value = sa.func.sum(PartMovement.quantity), sa.func.sum(PartMovement.cost_cents)
    query = (
        sa.select(Part.id, Part.number, Part.name, Part.condition, Part.lies_at, count, value)
        .join(PartMovement, PartMovement.part_id == Part.id)
        .group_by(Part.id, Part.number, Part.name, Part.condition, Part.lies_at)
        .having(sa.or_(count != 0, value != 0))
        .order_by(value.desc(), Part.id)
    )
    with seat.look(Action.SEE_COSTS) as session:
        return [OnShelf(*row[:5], int(row[5]), int(row[6])) for row in session.execute(query)]
