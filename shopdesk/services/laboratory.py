"""What waits for a laboratory on a job, place by place, and what it answered. Nobody judges it by eye."""

import datetime as dt
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import Problem
from shopdesk.domain.work import Cause
from shopdesk.domain.work.holds import LABORATORY
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.work import HoldAnswer, WorkOrder
from shopdesk.storage.unit_of_work import UnitOfWork


@dataclass(frozen=True, slots=True)
class SuspectPlace:
    """A checkpoint that holds work back; `answer` is empty, negative or positive."""

    code: str
    name: str
    answer: str
    reference: str
    at: dt.datetime | None


@dataclass(frozen=True, slots=True)
class Answers:
    """How the laboratory's word stands over all suspect places of a job."""

    by_place: dict[str, str]

    @property
    def clear(self) -> bool:
        """Whether each place has an answer and the last one of each is negative."""
        return all(answer == "negative" for answer in self.by_place.values())

    @property
    def worst(self) -> str:
        return "positive" if "positive" in self.by_place.values() else ""


def suspect_places(seat: Seat, job_id: int) -> list[SuspectPlace]:
    """What on a job's order waits for a laboratory, with the last answer to each."""
    with seat.look() as session:
        order = session.scalar(sa.select(WorkOrder).where(WorkOrder.job_id == job_id))
        places = list(order.suspects or []) if order else []
        last = _last(session, {job_id: places})
        known = seat.catalogue.checkpoints
        return [
            SuspectPlace(
                code,
                known[code].name if code in known else code,
                answer.answer if answer else "",
                answer.reference if answer else "",
                answer.at if answer else None,
            )
            for code in places
            for answer in [last.get((job_id, code))]
        ]


def answers(session: Session, jobs: Collection[int]) -> dict[int, Answers]:
    """The laboratory's word on each job; without suspect places on record its last word counts for all."""
    suspects = {job_id: [LABORATORY] for job_id in jobs}
    for job_id, places in session.execute(
        sa.select(WorkOrder.job_id, WorkOrder.suspects).where(WorkOrder.job_id.in_(jobs))
    ):
        suspects[job_id] = list(places or [LABORATORY])
    last = _last(session, suspects)
    return {
        job_id: Answers({p: last[job_id, p].answer if (job_id, p) in last else "" for p in places})
        for job_id, places in suspects.items()
    }


def record(
    seat: Seat,
    work: UnitOfWork,
    job_id: int,
    hold: str,
    answer: str,
    reference: str,
    places: Sequence[str],
) -> HoldAnswer:
    """An answer put on record for some suspect places, or for all that are suspected now."""
    order = work.session.scalar(sa.select(WorkOrder).where(WorkOrder.job_id == job_id))
    suspected = list(order.suspects or []) if order else []
    strange = [code for code in places if code not in suspected]
    if strange:
        raise Problem("Nothing waits for a laboratory at {place}.", place=strange[0], field="places")
    row = work.add(
        HoldAnswer(
            job_id=job_id,
            hold=hold,
            at=work.now,
            staff_id=seat.acting.staff_id,
            answer=answer,
            reference=reference,
            covers=list(places) or suspected,
        )
    )
    work.session.flush()
    work.about(row, job_id)
    return row


def places_of(seat: Seat, causes: Sequence[Cause]) -> list[str]:
    """The checkpoints that causes of the laboratory's hold stand at, each once."""
    findings = seat.catalogue.findings
    codes = [findings[c.code].checkpoint if c.code in findings else c.code for c in causes]
    return list(dict.fromkeys(codes))


def _last(session: Session, places: Mapping[int, Sequence[str]]) -> dict[tuple[int, str], HoldAnswer]:
    """The last answer to each place of each job; one that names no place covers all."""
    last: dict[tuple[int, str], HoldAnswer] = {}
    for row in session.scalars(
        sa.select(HoldAnswer)
        .where(HoldAnswer.job_id.in_(places), HoldAnswer.hold == LABORATORY)
        .order_by(HoldAnswer.id)
    ):
        for place in row.covers or places[row.job_id]:
            last[row.job_id, place] = row
    return last
