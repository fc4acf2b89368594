"""The thermostat card of a job, filled in before a thermostat is condemned, quoted or ordered."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk import paths
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.thermostat_card import (
    CONDEMNING_TASKS,
    FORCED,
    Card,
    CardVerdict,
    check_answer,
    judge_card,
    missing,
    read_card,
)
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.bench import ThermostatCard
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.work import Task
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class CardStep:
    """One step as the bench asks it; `answer` is a code, empty while open."""

    code: str
    ask: str
    tell: str
    answers: tuple[tuple[str, str], ...]  # code and words
    answer: str
    note: str


@dataclass(frozen=True, slots=True)
class CardView:
    """The card of a job; `id` is None while nobody has begun it. `missing` names the open steps."""

    id: int | None
    job_id: int
    oven: str
    steps: tuple[CardStep, ...]
    missing: tuple[str, ...]
    verdict: CardVerdict
    points_words: str
    why: str
    by: str
    complete_at: dt.datetime | None


@cache
def the_card() -> Card:
    """The questions as they ship."""
    return read_card(paths.resource("catalogue", "thermostat_card.toml"))


def card_view(seat: Seat, job_id: int) -> CardView:
    """The newest card of a job with what it says; an empty one when none was begun."""
    with seat.look() as session:
        row = _newest(session, job_id)
        by = session.get_one(Staff, row.staff_id).name if row else ""
        return _view(job_id, row, by)


def cards(seat: Seat, job_id: int) -> list[CardView]:
    """Every card of a job, newest first; the earlier ones are kept as they were answered."""
    query = (
        sa.select(ThermostatCard, Staff.name)
        .join(Staff, Staff.id == ThermostatCard.staff_id)
        .where(ThermostatCard.job_id == job_id)
        .order_by(ThermostatCard.id.desc())
    )
    with seat.look() as session:
        return [_view(job_id, row, name) for row, name in session.execute(query)]


def answer_card(seat: Seat, job_id: int, step: str, answer: str, note: str = "", *, oven: str = "") -> None:
    """Answers one step of the card, the hold flame before all others.

    A card that is complete stays as it is: an answer after it begins another one.
    """
    with seat.change(Action.TEST_THERMOSTAT) as work:
        job = work.get(Job, job_id, "job")
        row = _newest(work.session, job_id)
        if row is None or row.complete_at is not None:
            row = work.add(_blank(work, seat, job.id))
        given = _answers(row)
        check_answer(the_card(), given, step, answer)
        if step == FORCED:
            row.forced_test = answer
        else:
            row.answers = {**row.answers, step: answer}
        row.notes = {**row.notes, step: note.strip()} if note.strip() else row.notes
        row.oven, row.staff_id = oven.strip() or row.oven, seat.acting.staff_id
        if not missing(the_card(), _answers(row)):
            row.complete_at = work.now
        work.session.flush()
        work.about(row, job_id)


def begin_again(seat: Seat, job_id: int) -> None:
    """Another card beside the one that is complete: the work since then may have changed the answers."""
    with seat.change(Action.TEST_THERMOSTAT) as work:
        row = _newest(work.session, job_id)
        if row is None or row.complete_at is None:
            return
        again = work.add(_blank(work, seat, work.get(Job, job_id, "job").id))
        work.session.flush()
        work.about(again, job_id)


def refuse_without_card(session: Session, jobs_and_tasks: Iterable[tuple[int, str]]) -> None:
    """Refuses what condemns a thermostat (job, task code) while its job's card lacks something."""
    for job_id in {job_id for job_id, code in jobs_and_tasks if code in CONDEMNING_TASKS}:
        lacking = lacking_words(session, job_id)
        if lacking:
            raise Problem(
                "{number}: no thermostat is condemned, quoted or ordered before its card is complete. "
                "Still missing: {steps}",
                number=session.get_one(Job, job_id).range.number,
                steps=lacking,
            )


def refuse_tasks_without_card(session: Session, tasks: Iterable[Task]) -> None:
    """The same for tasks of work orders, as quotes, orders and consignments name them."""
    refuse_without_card(session, [(task.work_order.job_id, task.code) for task in tasks])


def lacking_words(session: Session, job_id: int) -> str:
    """What a job's card lacks, in words; empty when one card of the job is complete.

    A card begun again after a complete one takes nothing back.
    """
    complete = sa.select(ThermostatCard.id).where(
        ThermostatCard.job_id == job_id, ThermostatCard.complete_at.is_not(None)
    )
    if session.scalar(complete.limit(1)) is not None:
        return ""
    row = _newest(session, job_id)
    return " ".join(say(step.ask) for step in missing(the_card(), _answers(row) if row else {}))


def _newest(session: Session, job_id: int) -> ThermostatCard | None:
    return session.scalars(
        sa.select(ThermostatCard)
        .where(ThermostatCard.job_id == job_id)
        .order_by(ThermostatCard.id.desc())
        .limit(1)
    ).first()


def _blank(work: UnitOfWork, seat: Seat, job_id: int) -> ThermostatCard:
    return ThermostatCard(
        job_id=job_id, begun_at=work.now, staff_id=seat.acting.staff_id, answers={}, notes={}, forced_test="",
        oven="",
    )  # fmt: skip


def _answers(row: ThermostatCard) -> dict[str, str]:
    return {**row.answers, **({FORCED: row.forced_test} if row.forced_test else {})}


def _view(job_id: int, row: ThermostatCard | None, by: str) -> CardView:
    card = the_card()
    given = _answers(row) if row else {}
    notes = row.notes if row else {}
    verdict = judge_card(card, given)
    return CardView(
        id=row.id if row else None,
        job_id=job_id,
        oven=row.oven if row else "",
        steps=tuple(
            CardStep(
                step.code, say(step.ask), say(step.tell), tuple((c.code, say(c.says)) for c in step.answers),
                given.get(step.code, ""), notes.get(step.code, ""),
            )
            for step in card.steps
        ),
        missing=tuple(say(step.ask) for step in missing(card, given)),
        verdict=verdict,
        points_words=say(verdict.points.value) if verdict.points else "",
        why=say(verdict.why),
        by=by,
        complete_at=row.complete_at if row else None,
    )  # fmt: skip
