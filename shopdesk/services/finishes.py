"""The finish of each surface of a job: proposed by scope, settled with the customer, kept on the quote."""

from collections.abc import Sequence

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.finishes import Finish, Grade, proposed
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.seat import Seat
from shopdesk.services.stages import build_of
from shopdesk.storage.tables.counter import FinishGrade
from shopdesk.storage.tables.ranges import Job
from shopdesk.wording import say


def finishes(seat: Seat, job_id: int) -> tuple[tuple[Finish, ...], bool]:
    """The finishes of a job, and whether they were settled; else what its scope usually means."""
    with seat.look() as session:
        job = session.get_one(Job, job_id)
        kept = settled(session, job_id)
        return (kept, True) if kept else (proposed(build_of(job), Scope(job.scope)), False)


def keep_finishes(seat: Seat, job_id: int, rows: Sequence[Finish]) -> None:
    """Settles the finish of every surface; a quote written from now on holds them."""
    names = [row.surface.strip() for row in rows]
    if not all(names):
        raise Problem("Name the surface.", field="surface")
    double = next((name for name in names if names.count(name) > 1), None)
    if double is not None:
        raise Problem("“{surface}” stands there twice. Leave one out.", surface=double, field="surface")
    with seat.change(Action.QUOTE) as work:
        job = work.get(Job, job_id, "job")
        kept = {
            row.surface: row
            for row in work.session.scalars(sa.select(FinishGrade).where(FinishGrade.job_id == job_id))
        }
        for row in rows:
            at = kept.pop(row.surface.strip(), None) or work.add(
                FinishGrade(job_id=job.id, surface=row.surface.strip())
            )
            at.grade, at.note = row.grade.value, row.note.strip()
        for gone in kept.values():
            work.session.delete(gone)
        work.session.flush()
        work.about(job, job.id)


def settled(session: Session, job_id: int) -> tuple[Finish, ...]:
    rows = session.scalars(
        sa.select(FinishGrade).where(FinishGrade.job_id == job_id).order_by(FinishGrade.id)
    )
    return tuple(Finish(surface=row.surface, grade=Grade(row.grade), note=row.note) for row in rows)


def for_quote(session: Session, job: Job, scope: Scope) -> tuple[Finish, ...]:
    """What a quote of this scope promises: the settled finishes where the job stands at that scope."""
    kept = settled(session, job.id) if job.scope == scope.value else ()
    return kept or proposed(build_of(job), scope)


def grade_name(grade: Grade) -> str:
    return {
        Grade.AS_IT_IS: say("left as it is"),
        Grade.CLEANED: say("cleaned"),
        Grade.POLISHED: say("polished"),
        Grade.TOUCHED_UP: say("touched up; marks may show"),
        Grade.SEASONED: say("stripped and seasoned"),
        Grade.RE_PLATED: say("re-plated"),
        Grade.RE_ENAMELLED: say("re-enamelled; a pinhole or two is usual"),
        Grade.RENEWED: say("renewed"),
    }[grade]
