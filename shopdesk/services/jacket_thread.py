"""The thread of a job: what was found, the tasks it brought, and what these became on paper."""

from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.money import Spread
from shopdesk.services.because import because
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice, InvoiceLine, Quote, QuoteLine
from shopdesk.storage.tables.ranges import PhotographUse
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.stores import ConsignmentPiece, Need
from shopdesk.storage.tables.walk import Observation, WalkRound
from shopdesk.storage.tables.work import Task, TimeEntry


@dataclass(frozen=True, slots=True)
class ThreadFinding:
    """A finding of the newest walk-round with its pictures and the tasks it brought."""

    observation_id: int
    code: str
    zone: str
    words: str
    evidence: str
    extent: int
    note: str
    photographs: tuple[int, ...]
    tasks: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class ThreadTask:
    """A task with its causes, parts, hours, outwork and what it became on paper."""

    id: int
    name: str
    because: tuple[str, ...]
    findings: tuple[int, ...]  # observations
    minutes: Spread
    clocked: int
    who: tuple[str, ...]
    done_share: int
    parts: tuple[str, ...]
    outwork: tuple[str, ...]
    quoted_cents: int
    billed_cents: int
    quote_numbers: tuple[str, ...]
    invoice_numbers: tuple[str, ...]


def thread_findings(
    seat: Seat, session: Session, walk: WalkRound | None, tasks: list[Task]
) -> tuple[ThreadFinding, ...]:
    if walk is None:
        return ()
    brought: dict[int, list[int]] = {}
    for task in tasks:
        for cause in task.causes:
            if cause.observation_id is not None:
                brought.setdefault(cause.observation_id, []).append(task.id)
    pictures: dict[int | None, list[int]] = {}
    for observation_id, photograph_id in session.execute(
        sa.select(PhotographUse.observation_id, PhotographUse.photograph_id)
        .join(Observation, Observation.id == PhotographUse.observation_id)
        .where(Observation.walk_round_id == walk.id)
        .order_by(PhotographUse.id)
    ):
        pictures.setdefault(observation_id, []).append(photograph_id)
    checkpoints = seat.catalogue.checkpoints
    return tuple(
        ThreadFinding(
            o.id,
            o.finding,
            checkpoints[o.checkpoint].zone if o.checkpoint in checkpoints else "",
            because(seat.catalogue, "finding", o.finding),
            o.evidence,
            o.extent,
            o.note,
            tuple(pictures.get(o.id, ())),
            tuple(brought.get(o.id, ())),
        )
        for o in walk.observations
        if o.finding
    )


def thread_tasks(seat: Seat, session: Session, job_id: int, tasks: list[Task]) -> tuple[ThreadTask, ...]:
    keys = [t.id for t in tasks]
    hours: dict[int, int] = {}
    people: dict[int, list[str]] = {}
    for task_id, name, minutes in session.execute(
        sa.select(TimeEntry.task_id, Staff.name, sa.func.sum(TimeEntry.minutes))
        .join(Staff, Staff.id == TimeEntry.staff_id)
        .where(TimeEntry.task_id.in_(keys))
        .group_by(TimeEntry.task_id, Staff.name)
        .order_by(Staff.name)
    ):
        hours[task_id] = hours.get(task_id, 0) + int(minutes or 0)
        people.setdefault(task_id, []).append(name)
    parts = _names(
        session, sa.select(Need.task_id, Need.name).where(Need.task_id.in_(keys)).order_by(Need.id)
    )
    pieces = _names(
        session,
        sa.select(ConsignmentPiece.task_id, ConsignmentPiece.name)
        .where(ConsignmentPiece.task_id.in_(keys))
        .order_by(ConsignmentPiece.id),
    )
    quoted = session.execute(
        sa.select(QuoteLine.task_id, QuoteLine.net_cents, Quote.number)
        .join(Quote)
        .where(Quote.job_id == job_id, QuoteLine.task_id.is_not(None))
        .order_by(Quote.id)
    ).all()
    billed = session.execute(
        sa.select(InvoiceLine.task_id, InvoiceLine.net_cents, Invoice.number)
        .join(Invoice)
        .where(Invoice.job_id == job_id, Invoice.number.is_not(None), Invoice.kind == "invoice")
        .order_by(Invoice.id)
    ).all()
    lines = []
    for task in tasks:
        on_quotes = [(cents, number) for task_id, cents, number in quoted if task_id == task.id]
        newest = on_quotes[-1][1] if on_quotes else ""
        on_invoices = [(cents, number) for task_id, cents, number in billed if task_id == task.id]
        lines.append(
            ThreadTask(
                id=task.id,
                name=task.name,
                because=tuple(because(seat.catalogue, c.kind, c.code) for c in task.causes),
                findings=tuple(c.observation_id for c in task.causes if c.observation_id is not None),
                minutes=Spread(task.minutes_low, task.minutes_likely, task.minutes_high),
                clocked=hours.get(task.id, 0),
                who=tuple(people.get(task.id, ())),
                done_share=task.done_share,
                parts=tuple(parts.get(task.id, ())),
                outwork=tuple(pieces.get(task.id, ())),
                quoted_cents=sum(cents for cents, number in on_quotes if number == newest),
                billed_cents=sum(cents for cents, _ in on_invoices),
                quote_numbers=tuple(dict.fromkeys(number for _, number in on_quotes)),
                invoice_numbers=tuple(dict.fromkeys(number or "" for _, number in on_invoices)),
            )
        )
    return tuple(lines)


def _names(session: Session, query: sa.Select[int, str]) -> dict[int, list[str]]:
    found: dict[int, list[str]] = {}
    for key, name in session.execute(query):
        found.setdefault(key, []).append(name)
    return found
