"""What the place of a ready range costs: free days, then so much a day, not while a question is open.

Nothing is charged before a ready letter told the customer, and nothing twice.
"""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.letters import storage_days
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import settings, stages
from shopdesk.services.invoice_drafts import STORAGE, keep_draft
from shopdesk.services.lines import Line, without_tax
from shopdesk.services.owed import issued_invoices
from shopdesk.services.pricing import exempt
from shopdesk.services.questions import stretches
from shopdesk.services.seat import Seat
from shopdesk.services.taxes import place_of, tax_on
from shopdesk.storage.tables.counter import Invoice, Letter
from shopdesk.storage.tables.ranges import Job
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class StorageClock:
    """How the storage of a job stands today; `days` are those not billed yet."""

    free_until: dt.date | None = None
    daily_cents: int = 0
    days: int = 0

    @property
    def cents(self) -> int:
        return self.days * self.daily_cents


def storage(seat: Seat, job_id: int) -> StorageClock:
    with seat.look() as session:
        return storage_of(seat, session, session.get_one(Job, job_id))


def storage_of(seat: Seat, session: Session, job: Job) -> StorageClock:
    """Free days begin with the first ready letter, or with the release while none went out."""
    clocks = settings.read(session, settings.Clocks)
    first = session.scalar(
        sa.select(sa.func.min(Letter.on_day)).where(Letter.job_id == job.id, Letter.kind.startswith("ready"))
    )
    release = stages.last_release(session, job.id)
    told = first or (seat.region.local_day(release.at) if release is not None else None)
    if told is None or job.customer_id is None:
        return StorageClock(daily_cents=clocks.storage_cents)
    until = min(seat.today, job.gone_on or seat.today)
    days = 0
    if first is not None:
        stopped = stretches(session, job.id, seat.today)
        days = storage_days(first, clocks.storage_free_days, until, stopped) - _billed(session, job.id)
    free_until = told + dt.timedelta(days=clocks.storage_free_days)
    return StorageClock(free_until, clocks.storage_cents, max(0, days))


def draft_storage(seat: Seat, job_id: int) -> int:
    """Writes a bill for the days of storage that are not billed yet; returns its key."""
    with seat.change(Action.INVOICE) as work:
        job = work.get(Job, job_id, "job")
        standing = storage_of(seat, work.session, job)
        if job.customer is None or not standing.cents:
            raise Problem("No storage is charged for {number} today.", number=job.range.number)
        line = Line(
            kind="charge",
            what=say("Storage, by the day"),
            quantity=standing.days,
            unit_cents=standing.daily_cents,
            because=say("ready and not fetched, as our letter said"),
            tax=tax_on(work.session, "charge", seat.today, place_of(job.customer)),
        )
        lines = without_tax([line]) if exempt(seat, job.customer) else [line]
        return keep_draft(seat, work, job, job.customer, lines, basis=STORAGE)


def _billed(session: Session, job_id: int) -> int:
    bills = session.scalars(issued_invoices(Invoice.job_id == job_id, Invoice.basis == STORAGE))
    return sum(row.quantity for bill in bills for row in bill.lines)
