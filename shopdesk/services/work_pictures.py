"""The photographs of a range in the order of the work: what they show, and whether before, during or after.

A picture of a finding is from before, one of a task or of a tag from during the work, one of a proof from
after. One that belongs to nothing in particular goes by its time. Pictures of an agreement are never shown.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.documents.facts import Photo
from shopdesk.exchange.pictures import take_in
from shopdesk.services import stages
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.bench import Tag
from shopdesk.storage.tables.proving import Proof
from shopdesk.storage.tables.ranges import Job, Photograph, PhotographUse
from shopdesk.storage.tables.walk import Observation, WalkRound
from shopdesk.storage.tables.work import Task, TimeEntry, WorkOrder
from shopdesk.wording import say

_EDGE = 900  # pixels; sharp at the width a photograph has on paper


class When(StrEnum):
    BEFORE = "before"
    DURING = "during"
    AFTER = "after"


@dataclass(frozen=True, slots=True)
class WorkPicture:
    """`shows` names the checkpoint, task or proof; `caption` is what somebody wrote under it."""

    id: int
    job_id: int
    taken_at: dt.datetime
    when: When
    shows: str
    caption: str


def pictures_of(seat: Seat, session: Session, range_id: int) -> list[WorkPicture]:
    """Every picture of a range, each once, as they came."""
    jobs = session.scalars(sa.select(Job).where(Job.range_id == range_id).order_by(Job.id)).all()
    spans = [_span(session, job) for job in jobs]
    found: dict[int, WorkPicture] = {}
    for row in session.execute(_uses(range_id)):
        job_id, when = _bound(row) or _by_time(row.taken_in_at, spans)
        if job_id:
            shows = _shows(seat, row)
            found.setdefault(row.id, WorkPicture(row.id, job_id, row.taken_in_at, when, shows, row.caption))
    return list(found.values())


def printed_photos(
    session: Session, pictures: Iterable[WorkPicture], *, own_words: bool = True, edge: int = _EDGE
) -> tuple[Photo, ...]:
    """The pictures small enough for paper; without `own_words` nothing stands below that a person wrote."""
    told = []
    for picture in pictures:
        data = session.get_one(Photograph, picture.id).data
        caption = (picture.caption if own_words else "") or picture.shows
        told.append(Photo(take_in(data, "photograph", long_edge=edge).data, caption))
    return tuple(told)


@dataclass(frozen=True, slots=True)
class _Span:
    """One job's time: its opening, the first work and the word that it is ready."""

    job_id: int
    opened: dt.datetime | None
    begun: dt.datetime | None
    ready: dt.datetime | None


def _span(session: Session, job: Job) -> _Span:
    walked = sa.select(sa.func.min(Observation.at)).join(WalkRound).where(WalkRound.job_id == job.id)
    begun = (
        sa.select(sa.func.min(TimeEntry.started_at))
        .join(Task)
        .join(WorkOrder)
        .where(WorkOrder.job_id == job.id)
    )
    release = stages.last_release(session, job.id)
    return _Span(job.id, session.scalar(walked), session.scalar(begun), release.at if release else None)


def _uses(range_id: int) -> sa.Select[Any]:
    query: Any = (
        sa.select(
            Photograph.id, Photograph.taken_in_at, PhotographUse.caption, Observation.checkpoint,
            WalkRound.job_id.label("walked"), Task.name.label("task"), WorkOrder.job_id.label("worked"),
            Tag.what.label("tag"), Tag.job_id.label("tagged"), Proof.kind.label("proof"),
            Proof.job_id.label("proved"),
        )
        .select_from(PhotographUse)
        .join(Photograph, Photograph.id == PhotographUse.photograph_id)
        .outerjoin(Observation, Observation.id == PhotographUse.observation_id)
        .outerjoin(WalkRound, WalkRound.id == Observation.walk_round_id)
        .outerjoin(Task, Task.id == PhotographUse.task_id)
        .outerjoin(WorkOrder, WorkOrder.id == Task.work_order_id)
        .outerjoin(Tag, Tag.id == PhotographUse.tag_id)
        .outerjoin(Proof, Proof.id == PhotographUse.proof_id)
        .where(PhotographUse.range_id == range_id, PhotographUse.agreement_id.is_(None))
        .order_by(PhotographUse.id)
    )  # fmt: skip
    return query  # type: ignore[no-any-return]  # more columns than the stubs count


def _bound(row: sa.Row[Any]) -> tuple[int, When] | None:
    if row.proved is not None:
        return row.proved, When.AFTER
    if row.worked is not None or row.tagged is not None:
        return row.worked or row.tagged, When.DURING
    return (row.walked, When.BEFORE) if row.walked is not None else None


def _by_time(taken_at: dt.datetime, spans: list[_Span]) -> tuple[int, When]:
    """The newest job that had begun by then, and how far it was; 0 for a range without a job."""
    if not spans:
        return 0, When.BEFORE
    span = next((s for s in reversed(spans) if s.opened is not None and s.opened <= taken_at), spans[0])
    if span.ready is not None and taken_at >= span.ready:
        return span.job_id, When.AFTER
    begun = span.begun is not None and taken_at >= span.begun
    return span.job_id, When.DURING if begun else When.BEFORE


def _shows(seat: Seat, row: sa.Row[Any]) -> str:
    """The trade's name of what is seen; nothing that a person typed about another person."""
    if row.proof is not None:
        kinds = seat.catalogue.proofs
        return kinds[row.proof].name if row.proof in kinds else str(row.proof)
    if row.task is not None or row.tag is not None:
        return str(row.task or row.tag)
    if row.checkpoint is not None:
        points = seat.catalogue.checkpoints
        return points[row.checkpoint].name if row.checkpoint in points else str(row.checkpoint)
    return say("The range")
