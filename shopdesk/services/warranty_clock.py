"""The warranty's clock: it starts when a range leaves or is sold, and runs as long as was promised then."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.services import settings
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.ranges import Job


@dataclass(frozen=True, slots=True)
class Warranty:
    """How a range stands: its last job that left, and until when the shop answers for it."""

    job_id: int | None = None
    left_on: dt.date | None = None
    until: dt.date | None = None
    standing: bool = False  # today


def begin(session: Session, job: Job, on: dt.date) -> None:
    """Starts the clock of a job with the days the shop promises now; later terms do not move it."""
    days = settings.read(session, settings.Terms).warranty_days
    job.warranty_until = on + dt.timedelta(days=days) if days else None


def warranty(seat: Seat, range_id: int) -> Warranty:
    """How the warranty of a range stands today."""
    with seat.look() as session:
        return of_range(session, range_id, seat.today)


def of_range(session: Session, range_id: int, today: dt.date) -> Warranty:
    job = session.scalars(
        sa.select(Job)
        .where(Job.range_id == range_id, sa.or_(Job.gone_on.is_not(None), Job.warranty_until.is_not(None)))
        .order_by(Job.warranty_until.desc().nulls_last(), Job.id.desc())
        .limit(1)
    ).first()
    if job is None:
        return Warranty()
    until = job.warranty_until
    return Warranty(job.id, job.gone_on, until, until is not None and today <= until)
