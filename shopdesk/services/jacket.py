"""A range's jacket: everything about it on one page, and the thread from finding to invoice line."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Purpose, Scope
from shopdesk.domain.stage import Held, Stage
from shopdesk.domain.stage import held_for as held_by_facts
from shopdesk.services import agreements, payments, stage_facts, stages
from shopdesk.services.intake import RangeDraft
from shopdesk.services.jacket_thread import ThreadFinding, ThreadTask, thread_findings, thread_tasks
from shopdesk.services.papers.keeping import PaperRow
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice, Paper
from shopdesk.storage.tables.proving import Proof
from shopdesk.storage.tables.ranges import Job, PhotographUse, Range
from shopdesk.storage.tables.shop import Journal, Staff
from shopdesk.storage.tables.walk import WalkRound


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
        tasks = list(stages.tasks_of(session, job.id, with_causes=True))
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
            held=held_by_facts(stage_facts.facts(session, seat.catalogue, job)),
            purpose=Purpose(job.purpose),
            scope=Scope(job.scope),
            complaint=job.complaint,
            opened_on=job.opened_on,
            booked_in_on=job.booked_in_on,
            promised_on=job.promised_on,
            gone_on=job.gone_on,
            red_tagged=job.red_tagged,
            walk_id=walk.id if walk else None,
            findings=thread_findings(seat, session, walk, tasks),
            tasks=thread_tasks(seat, session, job.id, tasks),
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
