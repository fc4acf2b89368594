"""Where a range is: what was done since the customer last heard, what it waits for, its date, what is owed.

In sentences that can be read out on the telephone. Nothing here needs the right to see costs.
"""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import NotFound
from shopdesk.domain.stage import Held, Stage
from shopdesk.domain.stage import held_for as held_by_facts
from shopdesk.services import payments, stage_facts, stages
from shopdesk.services.seat import Seat
from shopdesk.services.standing_words import (
    done_words,
    held_sentences,
    money_words,
    promise_words,
    stage_words,
)
from shopdesk.services.work_pictures import WorkPicture, pictures_of
from shopdesk.storage.tables.counter import ChangeOrder, Letter, Paper
from shopdesk.storage.tables.plan import MorningOdds
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.work import Task

_TELLING = ("repair", "refit")
PROGRESS = "progress"  # kind of a progress letter among the letters


@dataclass(frozen=True, slots=True)
class PromiseNow:
    """The promised day with the odds the plan last told, and on which day it told them."""

    on_day: dt.date | None
    odds_percent: int | None = None
    ready_50: dt.date | None = None
    ready_95: dt.date | None = None
    told_on: dt.date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """`since`: the customer's last letter about progress, else the day the range came or was agreed."""

    range_id: int
    job_id: int
    number: str
    name: str
    customer_id: int | None
    customer: str
    phone: str
    email: str
    stage: Stage
    since: dt.date
    told_at: dt.datetime | None  # the last progress letter
    done: tuple[str, ...]
    found_more: tuple[str, ...]
    held: tuple[Held, ...]
    promise: PromiseNow
    owed_cents: int
    deposit_cents: int
    pictures: tuple[WorkPicture, ...]  # the newest first
    sentences: tuple[str, ...]


def where_it_stands(seat: Seat, range_id: int) -> Standing:
    """A range by its newest job."""
    with seat.look() as session:
        job = session.scalars(
            sa.select(Job).where(Job.range_id == range_id).order_by(Job.id.desc()).limit(1)
        ).first()
        if job is None:
            raise NotFound("There is no such range in this shop. Look for it by its number.")
        return standing_of_job(seat, session, job)


def standing_of_job(seat: Seat, session: Session, job: Job) -> Standing:
    last, since = _since(seat, session, job)
    done = _done(session, job.id, last)
    more = _found_more(session, job.id, since)
    held = held_by_facts(stage_facts.facts(session, seat.catalogue, job))
    promise = _promise(session, job)
    owed, deposit = stages.balance(session, job.id), payments.held_for_job(session, job.id)
    stage, region = Stage(job.stage), seat.region
    pictures = [p for p in pictures_of(seat, session, job.range_id) if p.job_id == job.id]
    sentences = (
        stage_words(stage, job.gone_on, region),
        *done_words(done, more, since, stage, region),
        *(held_sentences(seat.catalogue, region, held) if job.gone_on is None else ()),
        *promise_words(promise.on_day, promise.odds_percent, promise.ready_50, promise.ready_95, stage, seat),
        *money_words(owed, deposit, region),
    )
    return Standing(
        range_id=job.range_id, job_id=job.id, number=job.range.number,
        name=" ".join(word for word in (job.range.maker, job.range.model) if word),
        customer_id=job.customer_id, customer=job.customer.name if job.customer else "",
        phone=job.customer.phone if job.customer else "", email=job.customer.email if job.customer else "",
        stage=stage, since=since, told_at=last, done=done, found_more=more, held=held,
        promise=promise, owed_cents=owed, deposit_cents=deposit, pictures=tuple(reversed(pictures)),
        sentences=sentences,
    )  # fmt: skip


def _since(seat: Seat, session: Session, job: Job) -> tuple[dt.datetime | None, dt.date]:
    """The instant of the last progress letter, if any, and the day from which things are told."""
    query = sa.select(Paper.issued_at).join(Letter, Letter.paper_id == Paper.id)
    at = session.scalar(
        query.where(Letter.job_id == job.id, Letter.kind == PROGRESS).order_by(Letter.id.desc()).limit(1)
    )
    return (at, seat.region.local_day(at)) if at is not None else (None, job.booked_in_on or job.opened_on)


def _done(session: Session, job_id: int, since: dt.datetime | None) -> tuple[str, ...]:
    """Tasks finished after an instant: what was mended first, then the rest, as they were done."""
    tasks = [
        task
        for task in stages.tasks_of(session, job_id)
        if task.done_share == 100 and task.done_at is not None and (since is None or task.done_at > since)
    ]
    told = sorted(tasks, key=lambda task: (task.stage not in _TELLING, task.done_at, task.place))
    return tuple(_named(task) for task in told)


def _named(task: Task) -> str:
    return task.name if task.count == 1 else f"{task.name} × {task.count}"


def _found_more(session: Session, job_id: int, since: dt.date) -> tuple[str, ...]:
    query = sa.select(ChangeOrder.what).where(ChangeOrder.job_id == job_id, ChangeOrder.found_on >= since)
    return tuple(session.scalars(query.order_by(ChangeOrder.id)))


def _promise(session: Session, job: Job) -> PromiseNow:
    query = sa.select(MorningOdds).where(
        MorningOdds.job_id == job.id, MorningOdds.promised_on.is_not_distinct_from(job.promised_on)
    )
    row = session.scalars(query.order_by(MorningOdds.on_day.desc()).limit(1)).first()
    if row is None:
        return PromiseNow(job.promised_on)
    return PromiseNow(job.promised_on, row.odds_percent, row.ready_50, row.ready_95, row.on_day)
