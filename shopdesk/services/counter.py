"""The counter's own questions: jobs found by any scrap, and one job whole, from quote to settled."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.access import Access
from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.finishes import Finish
from shopdesk.domain.folding import fold
from shopdesk.domain.stage import Held, Stage, held_for
from shopdesk.services import (
    accounts,
    agreements,
    billable,
    change_orders,
    comebacks,
    finishes,
    invoices,
    payments,
    progress,
    questions,
    quotes,
    stage_facts,
    stages,
    storage_clock,
    walks,
    warranty_clock,
)
from shopdesk.services.access import access_of
from shopdesk.services.papers import keeping
from shopdesk.services.planning import appointments
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Agreement, Invoice, Paper, Payment, Quote
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job, Range

_CLOSED = (Stage.SETTLED, Stage.DONOR, Stage.NOT_TAKEN, Stage.WITHDRAWN)
_SCRAP = 3  # digits that may stand for a telephone number however it is written


@dataclass(frozen=True, slots=True)
class FoundJob:
    """A job as the counter's list shows it; no customer: the shop's own."""

    job_id: int
    range_id: int
    number: str
    name: str  # maker and model
    colour: str
    customer: str
    phone: str
    stage: Stage
    held_for: str
    owned: bool


@dataclass(frozen=True, slots=True)
class JobMoney:
    """A job's money, minor units: agreed and its ceiling without tax, the rest with tax."""

    agreed_cents: int
    ceiling_cents: int
    deposit_asked_cents: int
    taken_cents: int
    held_cents: int
    balance_cents: int


@dataclass(frozen=True, slots=True)
class JobHead:
    """Who, what and where, for the top of a job at the counter."""

    found: FoundJob
    customer_id: int | None
    email: str
    scope: Scope
    held: tuple[Held, ...]
    promised_on: dt.date | None
    gone_on: dt.date | None
    red_tagged: bool
    released: bool
    proofs_missing: tuple[str, ...]  # names
    walked: bool
    ordered: bool
    money: JobMoney


@dataclass(frozen=True, slots=True)
class JobAtCounter:
    """Everything the desk does with one job, in the order in which it happens."""

    head: JobHead
    quotes: tuple[quotes.QuoteView, ...]  # oldest first
    agreements: tuple[agreements.AgreementRow, ...]
    changes: tuple[change_orders.ChangeRow, ...]
    ready: billable.ReadyToBill
    invoices: tuple[invoices.InvoiceView, ...]  # oldest first
    payments: tuple[payments.PaymentRow, ...]
    papers: tuple[keeping.PaperRow, ...]
    life: "Life"


@dataclass(frozen=True, slots=True)
class Life:
    """What else a job has at the counter: milestones, finishes, warranty, questions, storage, visits."""

    milestones: tuple[progress.Milestone, ...]
    finishes: tuple[Finish, ...]
    finishes_settled: bool
    warranty: warranty_clock.Warranty
    came_back: comebacks.CameBack | None
    question: questions.Question | None  # the open one
    storage: storage_clock.StorageClock
    appointments: tuple[appointments.AppointmentRow, ...]
    held_elsewhere_cents: int  # money kept for the customer beside this job
    access: Access  # whether the range gets to its kitchen


def find_jobs(seat: Seat, words: str = "", *, limit: int = 100) -> list[FoundJob]:
    """Jobs in which every word is found: number, maker, customer, telephone, a paper's number.

    Open jobs first, newest first. A whole number (of a range or a paper) finds its job and no other.
    """
    query = (
        sa.select(Job, Range, Party)
        .join(Range, Range.id == Job.range_id)
        .outerjoin(Party, Party.id == Job.customer_id)
    )
    everyone = query
    for word in fold(words).split():
        query = query.where(_has(word))
    closed = sa.case((Job.stage.in_([stage.value for stage in _CLOSED]), 1), else_=0)
    with seat.look() as session:
        order = (closed, Job.id.desc())
        exact = everyone.where(_is_number(words.strip().lower())).order_by(*order)
        rows = session.execute(exact.limit(limit)).all() if words.strip() else []
        rows = rows or session.execute(query.order_by(*order).limit(limit)).all()
        return [_found(job, range_, party) for job, range_, party in rows]


def at_counter(seat: Seat, job_id: int) -> JobAtCounter:
    """One job whole, as the desk needs it."""
    with seat.look() as session:
        head = _head(seat, session, session.get_one(Job, job_id))
    return JobAtCounter(
        head,
        tuple(quotes.quote_view(seat, row.id) for row in reversed(quotes.quotes(seat, job_id=job_id))),
        tuple(agreements.agreements(seat, job_id)),
        tuple(change_orders.change_orders(seat, job_id=job_id)),
        billable.ready_to_bill(seat, job_id),
        tuple(
            invoices.invoice_view(seat, row.id) for row in reversed(invoices.invoices(seat, job_id=job_id))
        ),
        tuple(reversed(payments.payments(seat, job_id=job_id))),
        tuple(keeping.papers(seat, job_id=job_id)),
        _life(seat, job_id, head),
    )


def _life(seat: Seat, job_id: int, head: JobHead) -> Life:
    settled, kept = finishes.finishes(seat, job_id)
    asked = questions.questions(seat, job_id=job_id, open_only=True)
    with seat.look() as session:
        job = session.get_one(Job, job_id)
        held = accounts.account_of(session, job.customer_id).held_cents if job.customer_id else 0
        return Life(
            tuple(progress.milestones(seat, job_id)),
            settled,
            kept,
            warranty_clock.of_range(session, job.range_id, seat.today),
            comebacks.came_back(session, job_id),
            asked[0] if asked else None,
            storage_clock.storage_of(seat, session, job),
            tuple(row for row in appointments.appointments(seat) if row.job_id == job_id),
            max(0, held - head.money.held_cents),
            access_of(job.range),
        )


def unanswered(seat: Seat) -> list[quotes.QuoteRow]:
    """Quotes the customer has not answered, oldest first; an older version of the same step is left out.

    Change orders stand in their own list.
    """
    newest: dict[tuple[int, str], quotes.QuoteRow] = {}
    for row in quotes.quotes(seat, open_only=True, limit=1000):
        if row.step != "change":
            newest.setdefault((row.job_id, row.step), row)
    with seat.look() as session:
        moot = _answered_otherwise(session, {row.job_id for row in newest.values()})
    left = [row for row in newest.values() if row.job_id not in moot]
    return sorted(left, key=lambda row: (row.on_day, row.id))


def _answered_otherwise(session: Session, jobs: set[int]) -> set[int]:
    """Jobs that ended, or whose newest answered quote came after every open one."""
    ended = set(session.scalars(sa.select(Job.id).where(Job.id.in_(jobs), Job.ended_as != "")))
    for job_id in jobs - ended:
        last = session.scalars(
            sa.select(Quote).where(Quote.job_id == job_id, Quote.step != "change").order_by(Quote.id.desc())
        ).first()
        if last is not None and not _open(session, last):
            ended.add(job_id)
    return ended


def _open(session: Session, quote: Quote) -> bool:
    from_quote = sa.select(Agreement.id).where(Agreement.quote_id == quote.id)
    return quote.declined_on is None and session.scalar(from_quote) is None


def _is_number(typed: str) -> sa.ColumnElement[bool]:
    """The typed text is the whole number of a range or of one of the job's papers."""
    places: list[sa.ColumnElement[bool]] = [sa.func.lower(Range.number) == typed]
    for numbered in (Quote, Invoice, Payment, Paper):
        numbers = sa.select(numbered.job_id).where(sa.func.lower(numbered.number) == typed)
        places.append(Job.id.in_(numbers.where(numbered.job_id.is_not(None))))
    return sa.or_(*places)


def _has(word: str) -> sa.ColumnElement[bool]:
    """Any place in which a scrap may stand."""
    places: list[sa.ColumnElement[bool]] = [
        Range.search_text.contains(word, autoescape=True),
        Party.search_text.contains(word, autoescape=True),
    ]
    for numbered in (Quote, Invoice, Payment):
        numbers = sa.select(numbered.job_id).where(
            sa.func.lower(numbered.number).contains(word, autoescape=True)
        )
        places.append(Job.id.in_(numbers.where(numbered.job_id.is_not(None))))
    digits = "".join(letter for letter in word if letter.isdigit())
    if len(digits) >= _SCRAP and len(digits) >= len(word) - 2:
        bare: sa.SQLColumnExpression[str] = Party.phone
        for sign in " -()./+":
            bare = sa.func.replace(bare, sign, "")
        places.append(bare.contains(digits, autoescape=True))
    return sa.or_(*places)


def _found(job: Job, range_: Range, party: Party | None) -> FoundJob:
    return FoundJob(
        job.id,
        range_.id,
        range_.number,
        " ".join(word for word in (range_.maker, range_.model) if word),
        range_.colour,
        party.name if party else "",
        party.phone if party else "",
        Stage(job.stage),
        job.held_for,
        party is None,
    )


def _head(seat: Seat, session: Session, job: Job) -> JobHead:
    facts = stage_facts.facts(session, seat.catalogue, job)
    return JobHead(
        _found(job, job.range, job.customer),
        job.customer_id,
        job.customer.email if job.customer else "",
        Scope(job.scope),
        held_for(facts),
        job.promised_on,
        job.gone_on,
        job.red_tagged,
        facts.released and not facts.release_lapsed,
        tuple(kind.name for kind in stages.proofs_missing(session, seat.catalogue, job)),
        walks.newest(session, job.id) is not None,
        facts.tasks > 0,
        _money(session, job.id),
    )


def _money(session: Session, job_id: int) -> JobMoney:
    agreed = agreements.agreed(session, job_id)
    asked = session.scalar(
        sa.select(sa.func.max(Quote.deposit_cents))
        .join(Agreement, Agreement.quote_id == Quote.id)
        .where(Quote.job_id == job_id)
    )
    taken = session.scalar(sa.select(sa.func.sum(Payment.amount_cents)).where(Payment.job_id == job_id))
    return JobMoney(
        agreed.cents,
        agreed.ceiling_cents,
        int(asked or 0),
        int(taken or 0),
        payments.held_for_job(session, job_id),
        stages.balance(session, job_id),
    )
