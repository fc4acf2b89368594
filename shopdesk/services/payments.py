"""Money taken and given back, and what it settles. Payments are only ever added."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.days import refuse_odd_day
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.owed import issued_invoices, settled_by_invoice
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.papers.receipt import receipt_facts
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice, Payment, PaymentShare
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say

METHODS = ("cash", "card", "transfer", "cheque")


@dataclass(frozen=True, slots=True)
class PaymentRow:
    """A payment as lists show it; `held_cents` is not yet set against an invoice."""

    id: int
    number: str
    kind: str
    on_day: dt.date
    method: str
    reference: str
    amount_cents: int
    held_cents: int
    customer: str
    job_id: int | None
    currency: str


def take_payment(
    seat: Seat,
    job_id: int,
    amount_cents: int,
    method: str,
    *,
    reference: str = "",
    deposit: bool = False,
    on: dt.date | None = None,
) -> str:
    """Takes money for a job; it settles open invoices, oldest first, and the rest is held.

    A deposit is held until an invoice is issued. Returns the receipt's number.
    """
    check_payment(seat, amount_cents, method, on)
    with seat.change(Action.TAKE_PAYMENT) as work:
        job = work.get(Job, job_id, "job")
        party = _payer(work.session, job)
        payment = _new(seat, work, party, job_id, "deposit" if deposit else "payment", amount_cents)
        payment.method, payment.reference, payment.on_day = method, reference.strip(), on or seat.today
        work.session.flush()
        if not deposit:
            _settle(work, payment)
        return receipt(seat, work, payment)


def refund(seat: Seat, job_id: int, amount_cents: int, method: str, *, reference: str = "") -> str:
    """Gives back money that is held for the customer of a job; returns the receipt's number."""
    if amount_cents <= 0:
        raise Problem("A refund is above zero.", field="amount")
    _check_method(method)
    with seat.change(Action.TAKE_PAYMENT) as work:
        job = work.get(Job, job_id, "job")
        held = held_for_job(work.session, job_id)
        if amount_cents > held:
            raise Problem(
                "Only {held} is held for this job; no more can be given back. Credit an invoice first.",
                field="amount",
                held=seat.region.money(held),
            )
        payment = _new(seat, work, _payer(work.session, job), job_id, "refund", -amount_cents)
        payment.method, payment.reference, payment.on_day = method, reference.strip(), seat.today
        work.session.flush()
        return receipt(seat, work, payment)


def payments(seat: Seat, *, job_id: int | None = None, limit: int = 200) -> list[PaymentRow]:
    """Payments and refunds, newest first."""
    query = sa.select(Payment).options(sa.orm.joinedload(Payment.party), sa.orm.selectinload(Payment.shares))
    if job_id is not None:
        query = query.where(Payment.job_id == job_id)
    with seat.look() as session:
        rows = session.scalars(query.order_by(Payment.id.desc()).limit(limit)).all()
        held = _held_of(rows)
        return [
            PaymentRow(
                p.id,
                p.number,
                p.kind,
                p.on_day,
                p.method,
                p.reference,
                p.amount_cents,
                held[p.id],
                p.party.name,
                p.job_id,
                p.currency,
            )
            for p in rows
        ]


def _held_of(rows: Sequence[Payment]) -> dict[int, int]:
    """What is still held of each payment, newest first: what went back came from the ones before it."""
    gone: dict[tuple[int | None, int], int] = {}
    held: dict[int, int] = {}
    for payment in rows:
        pool = (payment.job_id, 0 if payment.job_id else payment.party_id)
        if payment.amount_cents < 0:
            gone[pool] = gone.get(pool, 0) - payment.amount_cents
            held[payment.id] = 0
            continue
        back = min(_held(payment), gone.get(pool, 0))
        gone[pool] = gone.get(pool, 0) - back
        held[payment.id] = _held(payment) - back
    return held


@dataclass(frozen=True, slots=True)
class HeldMoney:
    """Money that settles nothing yet, minor units, and the day the first of it came.

    No job: kept for the customer, whatever they owe next.
    """

    job_id: int | None
    range_number: str
    customer: str
    held_cents: int
    since: dt.date
    party_id: int = 0


def held_money(seat: Seat) -> list[HeldMoney]:
    """Every job, and every customer beside their jobs, that money is held for, the longest first."""
    used = (
        sa.select(sa.func.coalesce(sa.func.sum(PaymentShare.amount_cents), 0))
        .where(PaymentShare.payment_id == Payment.id)
        .correlate(Payment)
        .scalar_subquery()
    )
    each = sa.select(
        Payment.job_id, Payment.party_id, Payment.on_day, (Payment.amount_cents - used).label("left")
    ).subquery()
    total = sa.func.sum(each.c.left)
    since = sa.func.min(sa.case((each.c.left > 0, each.c.on_day)))
    query = (
        sa.select(each.c.job_id, Range.number, sa.func.min(Party.name), total, since, sa.func.min(Party.id))
        .join(Party, Party.id == each.c.party_id)
        .outerjoin(Job, Job.id == each.c.job_id)
        .outerjoin(Range, Range.id == Job.range_id)
        .group_by(each.c.job_id, Range.number, sa.case((each.c.job_id.is_(None), each.c.party_id)))
        .having(total != 0)
        .order_by(since, each.c.job_id)
    )
    with seat.look() as session:
        return [HeldMoney(job, number or "", name, int(cents), day, party) for
                job, number, name, cents, day, party in session.execute(query)]  # fmt: skip


def held_for_job(session: Session, job_id: int) -> int:
    """Money of a job that settles nothing yet, less what was given back; minor units."""
    taken = session.scalar(sa.select(sa.func.sum(Payment.amount_cents)).where(Payment.job_id == job_id)) or 0
    used = (
        session.scalar(
            sa.select(sa.func.sum(PaymentShare.amount_cents)).join(Payment).where(Payment.job_id == job_id)
        )
        or 0
    )
    return int(taken) - int(used)


def apply_held(work: UnitOfWork, invoice: Invoice) -> None:
    """Sets money held for the job against an invoice that was just issued, oldest first."""
    to_settle = invoice.gross_cents - settled_by_invoice(work.session, [invoice.id]).get(invoice.id, 0)
    spendable = held_for_job(work.session, invoice.job_id)
    rows = work.session.scalars(
        sa.select(Payment)
        .where(Payment.job_id == invoice.job_id, Payment.amount_cents > 0)
        .order_by(Payment.id)
    )
    for payment in rows:
        part = min(_held(payment), to_settle, spendable)
        if part > 0:
            payment.shares.append(PaymentShare(invoice_id=invoice.id, amount_cents=part))
            to_settle -= part
            spendable -= part
    work.session.flush()


def release_shares(work: UnitOfWork, invoice: Invoice) -> None:
    """Money that settled an invoice now credited is held for the customer again."""
    rows = work.session.execute(
        sa.select(PaymentShare.payment_id, sa.func.sum(PaymentShare.amount_cents))
        .where(PaymentShare.invoice_id == invoice.id)
        .group_by(PaymentShare.payment_id)
    ).all()
    for payment_id, cents in rows:
        if cents:
            work.add(PaymentShare(payment_id=payment_id, invoice_id=invoice.id, amount_cents=-int(cents)))
    work.session.flush()


def _held(payment: Payment) -> int:
    return payment.amount_cents - sum(s.amount_cents for s in payment.shares)


def check_payment(seat: Seat, amount_cents: int, method: str, on: dt.date | None) -> None:
    """Refuses an amount, a way or a day that cannot be."""
    if amount_cents <= 0:
        raise Problem("A payment is above zero. Give money back as a refund.", field="amount")
    _check_method(method)
    if on is not None:
        refuse_odd_day(on, field="on")
        if on > seat.today:
            raise Problem("{day} has not come yet.", field="on", day=seat.region.day(on))


def _check_method(method: str) -> None:
    if method not in METHODS:
        raise Problem("Money comes as cash, card, transfer or cheque.", field="method")


def _payer(session: Session, job: Job) -> Party:
    if job.customer is not None:
        return job.customer
    invoice = session.scalars(
        sa.select(Invoice).where(Invoice.job_id == job.id).order_by(Invoice.id.desc())
    ).first()
    if invoice is None:
        raise Problem(
            "{number} is the shop's own and not sold yet; nobody owes for it.", number=job.range.number
        )
    return invoice.customer


def _new(seat: Seat, work: UnitOfWork, party: Party, job_id: int, kind: str, cents: int) -> Payment:
    return work.add(
        Payment(
            number=work.take_number("payment"),
            party_id=party.id,
            job_id=job_id,
            kind=kind,
            amount_cents=cents,
            currency=seat.region.currency,
            taken_by_id=seat.acting.staff_id,
        )
    )


def _settle(work: UnitOfWork, payment: Payment) -> None:
    rows = work.session.scalars(issued_invoices(Invoice.job_id == payment.job_id)).all()
    settled = settled_by_invoice(work.session, [r.id for r in rows])
    left = payment.amount_cents
    for invoice in rows:
        part = min(left, invoice.gross_cents - settled.get(invoice.id, 0))
        if part > 0:
            payment.shares.append(PaymentShare(invoice_id=invoice.id, amount_cents=part))
            left -= part
    work.session.flush()


def receipt(seat: Seat, work: UnitOfWork, payment: Payment) -> str:
    """Prints and keeps the receipt of money that came or went; returns its number."""
    facts = receipt_facts(seat, work.session, payment)
    title = say("Payment receipt {number}", number=payment.number)
    keep_paper(
        work,
        "payment receipt",
        payment.number,
        title,
        facts,
        job_id=payment.job_id,
        party_id=payment.party_id,
    )
    work.about(payment, payment.job_id)
    return payment.number
