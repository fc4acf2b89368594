"""What the shop's own record says of its estimates: hours over what was thought, surprises, outwork.

Until enough jobs are finished, the shop's terms of planning and plain judgement stand instead.
"""

from dataclasses import dataclass
from fractions import Fraction
from statistics import mean, median, quantiles

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.services import settings
from shopdesk.storage.tables import work as rows
from shopdesk.storage.tables.counter import ChangeOrder
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.stores import Consignment, ConsignmentPiece

ENOUGH_JOBS = 10
ENOUGH_PIECES = 8
OUTWORK = (Fraction(85, 100), Fraction(1), Fraction(17, 10))
"""Low, likely, high time away over what was agreed; judgement, no source."""


@dataclass(frozen=True, slots=True)
class Record:
    """`jobs` finished ones stand behind hours and surprises, `pieces` returned ones behind outwork."""

    hours_factor: float = 1.0
    surprises: float = 1.0
    outwork: tuple[Fraction, Fraction, Fraction] = OUTWORK
    jobs: int = 0
    pieces: int = 0


def read_record(session: Session) -> Record:
    terms = settings.read(session, settings.PlanTerms)
    factor, surprises = terms.hours_factor_percent / 100, terms.surprises_percent / 100
    finished = sa.select(Job.id).where(Job.stage.in_(("gone", "settled")))
    jobs = session.scalar(sa.select(sa.func.count()).select_from(finished.subquery())) or 0
    if jobs >= ENOUGH_JOBS:
        changes = session.scalar(
            sa.select(sa.func.count(ChangeOrder.id)).where(ChangeOrder.job_id.in_(finished))
        )
        surprises = (changes or 0) / jobs
        factor = _hours_factor(session, finished) or factor
    shares = _outwork_shares(session)
    outwork = _three_points(shares) if len(shares) >= ENOUGH_PIECES else OUTWORK
    return Record(factor, surprises, outwork, jobs if jobs >= ENOUGH_JOBS else 0, len(shares))


def _hours_factor(session: Session, finished: sa.Select[int]) -> float | None:
    """Clocked over expected minutes of the finished jobs' tasks that somebody clocked."""
    clocked = (
        sa.select(rows.TimeEntry.task_id, sa.func.sum(rows.TimeEntry.minutes).label("minutes"))
        .join(rows.Task)
        .join(rows.WorkOrder)
        .where(rows.WorkOrder.job_id.in_(finished), rows.TimeEntry.minutes.is_not(None))
        .group_by(rows.TimeEntry.task_id)
        .subquery()
    )
    expected = rows.Task.minutes_low + 4 * rows.Task.minutes_likely + rows.Task.minutes_high
    row = session.execute(
        sa.select(sa.func.sum(clocked.c.minutes), sa.func.sum(expected)).join(
            rows.Task, rows.Task.id == clocked.c.task_id
        )
    ).one()
    if not row[0] or not row[1]:
        return None
    return min(2.5, max(0.5, 6 * float(row[0]) / float(row[1])))


def _outwork_shares(session: Session) -> list[float]:
    """Days away over days agreed, of every piece that came back."""
    found = session.execute(
        sa.select(Consignment.sent_on, Consignment.expected_on, ConsignmentPiece.back_on)
        .join(Consignment)
        .where(ConsignmentPiece.back_on.is_not(None), Consignment.expected_on.is_not(None))
    )
    return [
        max(0.1, (back - sent).days / (expected - sent).days)
        for sent, expected, back in found
        if expected is not None and back is not None and (expected - sent).days > 0
    ]


def _three_points(shares: list[float]) -> tuple[Fraction, Fraction, Fraction]:
    """Low, middle and a high such that the three-point mean is the mean seen."""
    low, middle = min(shares), median(shares)
    high = max(6 * mean(shares) - 4 * middle - low, middle, quantiles(shares, n=20)[-1])
    return tuple(Fraction(x).limit_denominator(1000) for x in (low, middle, high))  # type: ignore[return-value]
