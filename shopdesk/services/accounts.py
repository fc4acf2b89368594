"""A customer's money over all their jobs: paying several bills at once, credit that is kept, and its use.

Held money lies in pools: one for each job it came for, and one for the customer alone. Nothing
leaves a pool that is not in it.
"""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.owed import issued_invoices, open_of
from shopdesk.services.payments import check_payment, receipt
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice, Payment, PaymentShare
from shopdesk.storage.tables.people import Party
from shopdesk.storage.unit_of_work import UnitOfWork


@dataclass(frozen=True, slots=True)
class OpenInvoice:
    """A bill of a customer with something left to pay, minor units."""

    id: int
    number: str
    job_id: int
    on_day: dt.date
    due_on: dt.date | None
    gross_cents: int
    open_cents: int


@dataclass(frozen=True, slots=True)
class Account:
    """What a customer owes and what is held for them."""

    party_id: int
    open: tuple[OpenInvoice, ...]  # oldest first
    held_cents: int

    @property
    def owed_cents(self) -> int:
        return sum(bill.open_cents for bill in self.open)


def account(seat: Seat, party_id: int) -> Account:
    with seat.look() as session:
        return account_of(session, party_id)


def account_of(session: Session, party_id: int) -> Account:
    keys = same_party(session, party_id)
    held = sum(pools(session, keys).values())
    return Account(party_id, tuple(open_invoices(session, keys)), held)


def same_party(session: Session, party_id: int) -> list[int]:
    """A customer's key with those of records merged into it; issued papers keep the old ones."""
    merged = sa.select(Party.id).where(sa.or_(Party.id == party_id, Party.merged_into_id == party_id))
    return list(session.scalars(merged))


def open_invoices(session: Session, parties: Iterable[int]) -> list[OpenInvoice]:
    bills = session.scalars(issued_invoices(Invoice.customer_id.in_(list(parties)))).all()
    standing = open_of(session, bills)
    return [
        OpenInvoice(
            bill.id, bill.number or "", bill.job_id, bill.on_day or dt.date.min, bill.due_on,
            bill.gross_cents, standing[bill.id].asked_cents,
        )
        for bill in bills
        if standing[bill.id].asked_cents > 0
    ]  # fmt: skip


def pools(session: Session, parties: Iterable[int]) -> dict[int | None, int]:
    """Money held for a customer by the job it came for (None: for no job in particular), minor units."""
    keys = list(parties)
    taken = session.execute(
        sa.select(Payment.job_id, sa.func.sum(Payment.amount_cents))
        .where(Payment.party_id.in_(keys))
        .group_by(Payment.job_id)
    )
    found: dict[int | None, int] = {job: int(cents) for job, cents in taken}
    used = session.execute(
        sa.select(Payment.job_id, sa.func.sum(PaymentShare.amount_cents))
        .join(PaymentShare, PaymentShare.payment_id == Payment.id)
        .where(Payment.party_id.in_(keys))
        .group_by(Payment.job_id)
    )
    for job, cents in used:
        found[job] = found.get(job, 0) - int(cents)
    return {job: cents for job, cents in found.items() if cents}


def pay(
    seat: Seat, party_id: int, amount_cents: int, method: str, *, shares: Mapping[int, int] | None = None,
    reference: str = "", on: dt.date | None = None,
) -> str:  # fmt: skip
    """Takes one payment for several bills of a customer; what is over is kept for them.

    `shares` says how much goes to which invoice; without it the oldest are settled first.
    Returns the receipt's number.
    """
    check_payment(seat, amount_cents, method, on)
    with seat.change(Action.TAKE_PAYMENT) as work:
        party = work.get(Party, party_id, "customer")
        payment = _new(seat, work, party, amount_cents, "payment")
        payment.method, payment.reference, payment.on_day = method, reference.strip(), on or seat.today
        work.session.flush()
        for invoice, cents in _shares(seat, work, party, amount_cents, shares):
            payment.shares.append(PaymentShare(invoice_id=invoice.id, amount_cents=cents))
            work.jobs.add(invoice.job_id)
        work.session.flush()
        return receipt(seat, work, payment)


def use_credit(seat: Seat, invoice_id: int, amount_cents: int | None = None) -> int:
    """Sets money held for a customer against one of their bills, whichever job it came for.

    Without an amount as much as there is and as the bill leaves open. Returns what was set against it.
    """
    with seat.change(Action.TAKE_PAYMENT) as work:
        invoice = work.get(Invoice, invoice_id, "invoice")
        left = open_of(work.session, [invoice])[invoice.id].open_cents if _is_bill(invoice) else 0
        if left <= 0:
            raise Problem("Nothing is open on {number}.", number=invoice.number or "?", field="amount")
        parties = same_party(work.session, invoice.customer.merged_into_id or invoice.customer_id)
        held = pools(work.session, parties)
        there = sum(cents for cents in held.values() if cents > 0)
        wanted = min(left, there) if amount_cents is None else amount_cents
        if not 0 < wanted <= min(left, there):
            raise Problem(
                "{held} is held and {left} is open on {number}; write an amount within both.",
                field="amount",
                held=seat.region.money(there),
                left=seat.region.money(left),
                number=invoice.number,
            )
        _move(work, parties, held, invoice, wanted)
        work.about(invoice, invoice.job_id)
        return wanted


def give_back(seat: Seat, party_id: int, amount_cents: int, method: str, *, reference: str = "") -> str:
    """Gives back money that is kept for a customer and for no job; returns the receipt's number."""
    check_payment(seat, amount_cents, method, None)
    with seat.change(Action.TAKE_PAYMENT) as work:
        party = work.get(Party, party_id, "customer")
        held = pools(work.session, same_party(work.session, party_id)).get(None, 0)
        if amount_cents > held:
            raise Problem(
                "Only {held} is kept for {name} beside their jobs; no more can be given back here.",
                field="amount",
                held=seat.region.money(held),
                name=party.name,
            )
        payment = _new(seat, work, party, -amount_cents, "refund")
        payment.method, payment.reference, payment.on_day = method, reference.strip(), seat.today
        work.session.flush()
        return receipt(seat, work, payment)


def _is_bill(invoice: Invoice) -> bool:
    return invoice.kind == "invoice" and invoice.number is not None


def _new(seat: Seat, work: UnitOfWork, party: Party, cents: int, kind: str) -> Payment:
    return work.add(
        Payment(
            number=work.take_number("payment"),
            party_id=party.id,
            kind=kind,
            amount_cents=cents,
            currency=seat.region.currency,
            taken_by_id=seat.acting.staff_id,
        )
    )


def _shares(
    seat: Seat, work: UnitOfWork, party: Party, cents: int, wanted: Mapping[int, int] | None
) -> list[tuple[Invoice, int]]:
    """Bills with what goes to each; refuses a share that does not fit the bill or the payment."""
    bills = work.session.scalars(
        issued_invoices(Invoice.customer_id.in_(same_party(work.session, party.id)))
    ).all()
    left = {key: each.open_cents for key, each in open_of(work.session, bills).items()}
    if wanted is None:
        wanted, rest = {}, cents
        for bill in bills:
            wanted[bill.id] = min(rest, left[bill.id])
            rest -= wanted[bill.id]
    if sum(wanted.values()) > cents:
        raise Problem(
            "The shares come to more than the {amount} that was paid.", field="amount",
            amount=seat.region.money(cents),
        )  # fmt: skip
    by_key = {bill.id: bill for bill in bills}
    for key, part in wanted.items():
        if key not in by_key:
            raise Problem("That is no open bill of {name}.", name=party.name)
        if not 0 <= part <= left[key]:
            raise Problem(
                "{left} is open on {number}; a share lies within it.", field="amount",
                left=seat.region.money(left[key]), number=by_key[key].number,
            )  # fmt: skip
    return [(by_key[key], part) for key, part in wanted.items() if part]


def _move(
    work: UnitOfWork, parties: list[int], held: dict[int | None, int], invoice: Invoice, wanted: int
) -> None:  # fmt: skip
    """Shares of payments of the pools, the bill's own job first; a pool never gives more than it holds."""
    order = sorted(held, key=lambda job: (job != invoice.job_id, job is not None, job or 0))
    for job in order:
        room = min(wanted, held[job])
        rows = work.session.scalars(
            sa.select(Payment)
            .where(Payment.party_id.in_(parties), Payment.job_id == job, Payment.amount_cents > 0)
            .order_by(Payment.id)
        )
        for payment in rows:
            part = min(room, payment.amount_cents - sum(s.amount_cents for s in payment.shares))
            if part > 0:
                payment.shares.append(PaymentShare(invoice_id=invoice.id, amount_cents=part))
                room -= part
                wanted -= part
        if job is not None:
            work.jobs.add(job)
    work.session.flush()
