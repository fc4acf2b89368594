"""Of which range a job is: what the head of a screen about a job says."""

from dataclasses import dataclass

from shopdesk.domain.build import Build
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.ranges import Job


@dataclass(frozen=True, slots=True)
class JobRange:
    job_id: int
    range_id: int
    number: str
    maker: str
    model: str
    colour: str
    build: Build


def job_range(seat: Seat, job_id: int) -> JobRange:
    """The range of a job, as it is described."""
    with seat.look() as session:
        row = session.get_one(Job, job_id).range
        return JobRange(job_id, row.id, row.number, row.maker, row.model, row.colour, Build(**row.build))
