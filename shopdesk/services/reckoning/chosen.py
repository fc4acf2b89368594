"""Which ranges a reckoning is over: here now, or those that left in a year; by stage and purpose."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.services.seat import Seat
from shopdesk.storage.tables.ranges import Job

LEFT: sa.ColumnElement[dt.date | None] = sa.func.coalesce(Job.gone_on, Job.ended_on)


@dataclass(frozen=True, slots=True)
class Chosen:
    """`year` in which a job left or ended; 0 for those that are still open. Empty texts ask nothing."""

    year: int = 0
    stage: str = ""
    purpose: str = ""

    def jobs(self) -> sa.Select[int]:
        """The keys of the jobs, to be used inside other questions."""
        query = sa.select(Job.id)
        if self.year:
            first, after = span_of(self.year)
            query = query.where(first <= LEFT, after > LEFT)
        else:
            query = query.where(Job.gone_on.is_(None), Job.ended_on.is_(None))
        if self.stage:
            query = query.where(Job.stage == self.stage)
        if self.purpose:
            query = query.where(Job.purpose == self.purpose)
        return query


def span_of(year: int) -> tuple[dt.date, dt.date]:
    """The first day of a year, and the first of the next."""
    return dt.date(year, 1, 1), dt.date(year + 1, 1, 1)


def years(seat: Seat) -> list[int]:
    """Years to choose from, this one first."""
    with seat.look() as session:
        oldest = session.scalar(sa.select(sa.func.min(Job.opened_on)))
    first = min(oldest.year, seat.today.year) if oldest else seat.today.year
    return list(range(seat.today.year, first - 1, -1))
