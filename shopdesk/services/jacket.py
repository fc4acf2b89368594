"""A range's jacket: everything about it on one page, and the thread from finding to invoice line."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Purpose, Scope
from shopdesk.domain.money import Spread
from shopdesk.domain.stage import Held, Stage
from shopdesk.domain.stage import held_for as held_by_facts
from shopdesk.services import agreements, payments, stages
from shopdesk.services.because import because
from shopdesk.services.intake import RangeDraft
from shopdesk.services.papers.keeping import PaperRow
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice, InvoiceLine, Paper, Quote, QuoteLine
from shopdesk.storage.tables.proving import Proof
from shopdesk.storage.tables.ranges import Job, PhotographUse, Range
from shopdesk.storage.tables.shop import Journal, Staff
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


@dataclass(frozen=True, slots=True)
class ProofLine:
    kind: str
    name: str
    result: str
    at: dt.datetime
    who: str
    readings: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class JobLine:
    """One job of the range, for choosing among several."""

    id: int
    opened_on: dt.date
    stage: Stage


@dataclass(frozen=True, slots=True)
class Money:
    """A job's money, minor units: agreed without tax, the rest with tax."""

    agreed_cents: int
    ceiling_cents: int
    billed_cents: int
    held_cents: int
    balance_cents: int


@dataclass(frozen=True, slots=True)
class HistoryLine:
    at: dt.datetime
    who: str
    action: str
    record: str  # the table of what was done


@dataclass(frozen=True, slots=True)
class Jacket:
    """A range and one of its jobs (the newest unless asked), whole."""

    range_id: int
    job_id: int
    number: str
    described: RangeDraft
    customer_id: int | None
    customer: str
    customer_phone: str
    stage: Stage
    held: tuple[Held, ...]
    purpose: Purpose
    scope: Scope
    complaint: str
    opened_on: dt.date
    booked_in_on: dt.date | None
    promised_on: dt.date | None
    gone_on: dt.date | None
    red_tagged: bool
    walk_id: int | None
    findings: tuple[ThreadFinding, ...]
    tasks: tuple[ThreadTask, ...]
    proofs: tuple[ProofLine, ...]
    papers: tuple[PaperRow, ...]
    photographs: tuple[int, ...]
    money: Money
    jobs: tuple[JobLine, ...]
    history: tuple[HistoryLine, ...]


def jacket(seat: Seat, range_id: int, job_id: int | None = None) -> Jacket:
    """Everything about a range on one page."""
    with seat.look() as session:
        range_ = session.get_one(Range, range_id)
        job = session.get_one(Job, job_id) if job_id else range_.jobs[-1]
        walk = session.scalars(
            sa.select(WalkRound).where(WalkRound.job_id == job.id).order_by(WalkRound.id.desc()).limit(1)
        ).first()
        tasks = list(stages.tasks_of(session, job.id))
        agreed = agreements.agreed(session, job.id)
        return Jacket(
            range_id=range_.id,
            job_id=job.id,
            number=range_.number,
            described=_described(range_),
            customer_id=job.customer_id,
            customer=job.customer.name if job.customer else "",
            customer_phone=job.customer.phone if job.customer else "",
            stage=Stage(job.stage),
            held=held_by_facts(stages.facts(session, seat.catalogue, job)),
            purpose=Purpose(job.purpose),
            scope=Scope(job.scope),
            complaint=job.complaint,
            opened_on=job.opened_on,
            booked_in_on=job.booked_in_on,
            promised_on=job.promised_on,
            gone_on=job.gone_on,
            red_tagged=job.red_tagged,
            walk_id=walk.id if walk else None,
            findings=_findings(seat, session, walk, tasks),
            tasks=_tasks(seat, session, job.id, tasks),
            proofs=_proofs(seat, session, job.id),
            papers=_papers(session, job.id),
            photographs=_photographs(session, range_.id),
            money=Money(
                agreed.cents,
                agreed.ceiling_cents,
                _billed(session, job.id),
                payments.held_for_job(session, job.id),
                stages.balance(session, job.id),
            ),
            jobs=tuple(JobLine(j.id, j.opened_on, Stage(j.stage)) for j in range_.jobs),
            history=_history(session, job.id),
        )


def _described(row: Range) -> RangeDraft:
    texts = {n: getattr(row, n) for n in RangeDraft.__dataclass_fields__ if n != "build"}
    return RangeDraft(**texts, build=Build(**row.build))


def _findings(
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


def _tasks(seat: Seat, session: Session, job_id: int, tasks: list[Task]) -> tuple[ThreadTask, ...]:
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


def _proofs(seat: Seat, session: Session, job_id: int) -> tuple[ProofLine, ...]:
    rows = session.execute(
        sa.select(Proof, Staff.name)
        .join(Staff, Staff.id == Proof.staff_id)
        .where(Proof.job_id == job_id)
        .order_by(Proof.at, Proof.id)
    )
    known = seat.catalogue.proofs
    return tuple(
        ProofLine(
            p.kind,
            known[p.kind].name if p.kind in known else p.kind,
            p.result,
            p.at,
            who,
            tuple((name, text) for name, text in p.readings),
        )
        for p, who in rows
    )


def _papers(session: Session, job_id: int) -> tuple[PaperRow, ...]:
    rows = session.execute(
        sa.select(
            Paper.id, Paper.kind, Paper.number, Paper.title, Paper.job_id, Paper.issued_at, Paper.sha256
        )
        .where(Paper.job_id == job_id)
        .order_by(Paper.id)
    )
    return tuple(PaperRow(*row) for row in rows)


def _photographs(session: Session, range_id: int) -> tuple[int, ...]:
    rows = session.scalars(
        sa.select(PhotographUse.photograph_id)
        .where(PhotographUse.range_id == range_id)
        .order_by(PhotographUse.id)
    )
    return tuple(dict.fromkeys(rows))


def _billed(session: Session, job_id: int) -> int:
    signed = sa.case((Invoice.kind == "credit", -Invoice.gross_cents), else_=Invoice.gross_cents)
    billed = session.scalar(
        sa.select(sa.func.sum(signed)).where(Invoice.job_id == job_id, Invoice.number.is_not(None))
    )
    return int(billed or 0)


def _history(session: Session, job_id: int) -> tuple[HistoryLine, ...]:
    rows = session.execute(
        sa.select(Journal.at, Journal.who, Journal.action, Journal.record)
        .where(Journal.job_id == job_id)
        .order_by(Journal.id.desc())
        .limit(200)
    )
    return tuple(HistoryLine(*row) for row in rows)
