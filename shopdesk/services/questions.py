"""A customer questions a job or its bill. While a question is open no clock of that job runs."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import settings
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Dispute
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job, Range


@dataclass(frozen=True, slots=True)
class Question:
    """What a customer questions; `answer_by` by the shop's own rule."""

    id: int
    job_id: int
    range_number: str
    customer: str
    raised_on: dt.date
    what: str
    answer_by: dt.date
    closed_on: dt.date | None
    outcome: str


def raise_question(seat: Seat, job_id: int, what: str) -> int:
    """Records that the customer questions a job or its bill; one question a job is open at a time."""
    if not what.strip():
        raise Problem("Write what the customer questions, in their words.", field="what")
    with seat.change(Action.WRITE_LETTER) as work:
        job = work.get(Job, job_id, "job")
        if open_question(work.session, job_id) is not None:
            raise Problem("A question about {number} is open. Close it first.", number=job.range.number)
        row = work.add(Dispute(job_id=job.id, raised_on=seat.today, what=what.strip()))
        work.session.flush()
        work.about(row, job.id)
        return row.id


def close_question(seat: Seat, question_id: int, outcome: str) -> None:
    """Ends a question with what came of it; the clocks run on from today."""
    if not outcome.strip():
        raise Problem("Write what came of it.", field="outcome")
    with seat.change(Action.WRITE_LETTER) as work:
        row = work.get(Dispute, question_id, "question")
        if row.closed_on is not None:
            raise Problem("This question is closed already.")
        row.closed_on, row.outcome = seat.today, outcome.strip()
        work.about(row, row.job_id)


def questions(seat: Seat, *, job_id: int | None = None, open_only: bool = False) -> list[Question]:
    """Questions, the oldest first."""
    query = (
        sa.select(Dispute, Range.number, Party.name)
        .join(Job, Job.id == Dispute.job_id)
        .join(Range, Range.id == Job.range_id)
        .outerjoin(Party, Party.id == Job.customer_id)
        .order_by(Dispute.raised_on, Dispute.id)
    )
    if job_id is not None:
        query = query.where(Dispute.job_id == job_id)
    if open_only:
        query = query.where(Dispute.closed_on.is_(None))
    with seat.look() as session:
        days = dt.timedelta(days=settings.read(session, settings.Clocks).dispute_days)
        return [
            Question(
                row.id, row.job_id, number, name or "", row.raised_on, row.what, row.raised_on + days,
                row.closed_on, row.outcome,
            )
            for row, number, name in session.execute(query)
        ]  # fmt: skip


def open_question(session: Session, job_id: int) -> Dispute | None:
    return session.scalar(sa.select(Dispute).where(Dispute.job_id == job_id, Dispute.closed_on.is_(None)))


def stretches(session: Session, job_id: int, today: dt.date) -> list[tuple[dt.date, dt.date]]:
    """First and last days on which a question of a job was open."""
    rows = session.scalars(sa.select(Dispute).where(Dispute.job_id == job_id).order_by(Dispute.id))
    return [(row.raised_on, row.closed_on or today) for row in rows]
