"""What the shop's own finished ranges were sold for, and the figures that follow for one range."""

import sqlalchemy as sa
from sqlalchemy.orm import Session, joinedload

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.worth.past_sales import PastSale, Valued, valued
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice
from shopdesk.storage.tables.ranges import Job


def past_sales(session: Session, currency: str) -> list[PastSale]:
    """Every sale of a range of the shop's own that was billed and not credited."""
    credited = sa.select(Invoice.corrects_id).where(Invoice.corrects_id.is_not(None))
    query = (
        sa.select(Invoice)
        .join(Job, Job.id == Invoice.job_id)
        .where(
            Invoice.kind == "invoice",
            Job.customer_id.is_(None),
            Invoice.number.is_not(None),
            Invoice.currency == currency,
            Invoice.id.not_in(credited),
        )
        .options(joinedload(Invoice.job).joinedload(Job.range))
        .order_by(Invoice.id)
    )
    return [_sale(row) for row in session.scalars(query) if row.on_day is not None]


def valued_for(seat: Seat, session: Session, build: Build) -> Valued:
    """The shop's figures for one build, with its own past sales of like ranges where there are any."""
    sales = past_sales(session, seat.region.currency)
    return valued(seat.catalogue.figures, build, sales, seat.today)


def _sale(row: Invoice) -> PastSale:
    job = row.job
    assert row.on_day is not None, "an issued invoice has its day"
    return PastSale(
        job.range.number, Build(**job.range.build), Scope(job.scope), row.on_day, row.net_cents, job.id
    )
