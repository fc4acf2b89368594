"""Whether a job is a comeback, and whether it is done at no charge. Asked within a session."""

from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.storage.tables.counter import Comeback


@dataclass(frozen=True, slots=True)
class CameBack:
    """Why a job is a comeback; `free` when it is done at no charge."""

    of_job_id: int
    free: bool
    why: str


def came_back(session: Session, job_id: int) -> CameBack | None:
    row = session.scalar(sa.select(Comeback).where(Comeback.job_id == job_id))
    return CameBack(row.of_job_id, row.free, row.why) if row else None


def free_jobs(session: Session, jobs: set[int]) -> set[int]:
    """Jobs done at no charge: nothing is quoted, and nobody has to agree to a price."""
    query = sa.select(Comeback.job_id).where(Comeback.job_id.in_(jobs), Comeback.free == True)
    return set(session.scalars(query))


def is_free(session: Session, job_id: int) -> bool:
    return bool(free_jobs(session, {job_id}))
