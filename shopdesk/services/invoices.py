"""Invoices and credits: written from what was agreed and done, issued once, never changed."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.documents.papers import render
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import payments, settings
from shopdesk.services.billable import for_bill, refuse_unbillable
from shopdesk.services.lines import Line, from_row, to_row, totals_of, without_tax
from shopdesk.services.papers.invoice import credit_facts, invoice_facts
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.quotes import exempt
from shopdesk.services.seat import Seat
from shopdesk.services.shops import tax_on
from shopdesk.storage.tables.counter import Invoice, InvoiceLine, PaymentShare
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class InvoiceRow:
    """An invoice or credit as lists show it; `standing` follows from facts."""

    id: int
    kind: str
    number: str  # empty while it is being written
    job_id: int
    range_number: str
    customer: str
    on_day: dt.date | None
    due_on: dt.date | None
    net_cents: int
    tax_cents: int
    gross_cents: int
    open_cents: int
    currency: str
    standing: str  # being written, issued, part settled, settled, past due, credited


@dataclass(frozen=True, slots=True)
class InvoiceView:
    """One invoice with its lines."""

    row: InvoiceRow
    lines: tuple[Line, ...]


def draft_invoice(seat: Seat, job_id: int) -> int:
    """Writes an invoice over the agreed lines whose work is done and which no invoice has yet.

    Parts are billed as they were covered and outwork as it was accepted; prices are the
    agreed ones. Nothing is billed above what is agreed.
    """
    with seat.change(Action.INVOICE) as work:
        job = work.get(Job, job_id, "job")
        if job.customer is None:
            raise Problem("{number} has no customer to bill. Sell it first.", number=job.range.number)
        _drop_drafts(work, job_id)
        lines = for_bill(seat, work.session, job)
        refuse_unbillable(work.session, job, lines)
        return _keep_draft(seat, work, job, job.customer, lines)


def preview_invoice(seat: Seat, invoice_id: int) -> bytes:
    """The paper of an invoice that is being written, without a number."""
    with seat.look() as session:
        return render(invoice_facts(seat, session, session.get_one(Invoice, invoice_id)))


def drop_invoice(seat: Seat, invoice_id: int) -> None:
    """Throws away an invoice that was written and not issued."""
    with seat.change(Action.INVOICE) as work:
        invoice = work.get(Invoice, invoice_id, "invoice")
        if invoice.number is not None:
            raise Problem("{number} is issued; credit it instead of throwing it away.", number=invoice.number)
        work.about(invoice, invoice.job_id)
        work.session.delete(invoice)


def draft_sale(seat: Seat, job_id: int, customer_id: int, price_cents: int) -> int:
    """Writes the bill of sale for a range of the shop's own; the buyer becomes its owner on issue."""
    if price_cents <= 0:
        raise Problem("A sale has a price above zero.", field="price")
    with seat.change(Action.INVOICE) as work:
        job = work.get(Job, job_id, "job")
        customer = work.get(Party, customer_id, "customer")
        if job.customer_id is not None:
            raise Problem("{number} belongs to a customer; bill the work instead.", number=job.range.number)
        if _sold(work, job_id):
            raise Problem("{number} is sold already. Credit that invoice first.", number=job.range.number)
        _drop_drafts(work, job_id)
        name = " ".join(w for w in (job.range.maker, job.range.model, job.range.serial) if w)
        line = Line(
            kind="charge",
            what=say("Restored range {number} {name}", number=job.range.number, name=name).strip(),
            quantity=1,
            unit_cents=price_cents,
            because=say("sold as agreed"),
            tax=tax_on(work.session, "charge", seat.today),
        )
        lines = without_tax([line]) if exempt(seat, customer) else [line]
        return _keep_draft(seat, work, job, customer, lines)


def issue_invoice(seat: Seat, invoice_id: int) -> str:
    """Gives a written invoice its number, sets deposits against it, archives the paper."""
    with seat.change(Action.INVOICE) as work:
        invoice = work.get(Invoice, invoice_id, "invoice")
        if invoice.number is not None:
            raise Problem("{number} is issued already.", number=invoice.number)
        if not invoice.customer.street and not invoice.customer.town:
            raise Problem(
                "{name} has no address. Write it down first; an invoice needs one.",
                name=invoice.customer.name,
                field="customer",
            )
        terms = settings.read(work.session, settings.Terms)
        invoice.on_day = seat.today
        invoice.due_on = seat.today + dt.timedelta(days=terms.payment_days)
        invoice.issued_at = work.now
        work.session.flush()
        if invoice.job.customer_id is None:
            invoice.job.range.owner_id = invoice.customer_id
        invoice.number = work.take_number("invoice")
        work.session.flush()
        payments.apply_held(work, invoice)
        facts = invoice_facts(seat, work.session, invoice)
        keep_paper(
            work,
            "invoice",
            invoice.number,
            say("Invoice {number}", number=invoice.number),
            facts,
            job_id=invoice.job_id,
            party_id=invoice.customer_id,
        )
        work.about(invoice, invoice.job_id)
        return invoice.number


def credit_invoice(seat: Seat, invoice_id: int, why: str) -> str:
    """Corrects an issued invoice by a credit over all of it; what was paid is held for the customer."""
    if not why.strip():
        raise Problem("Say why the invoice is credited; it prints on the credit.", field="why")
    with seat.change(Action.INVOICE) as work:
        invoice = work.get(Invoice, invoice_id, "invoice")
        if invoice.number is None or invoice.kind != "invoice":
            raise Problem("Only an issued invoice can be credited.")
        if work.session.scalar(sa.select(Invoice.id).where(Invoice.corrects_id == invoice.id)):
            raise Problem("{number} is credited already.", number=invoice.number)
        credit = Invoice(
            job_id=invoice.job_id,
            customer_id=invoice.customer_id,
            kind="credit",
            corrects_id=invoice.id,
            issued_at=work.now,
            on_day=seat.today,
            due_on=seat.today,
            currency=invoice.currency,
            net_cents=invoice.net_cents,
            tax_cents=invoice.tax_cents,
            gross_cents=invoice.gross_cents,
        )
        credit.lines = [
            to_row(from_row(row), place, InvoiceLine()) for place, row in enumerate(invoice.lines, start=1)
        ]
        work.add(credit)
        work.session.flush()
        payments.release_shares(work, invoice)
        if invoice.job.customer_id is None:
            invoice.job.range.owner_id = None  # a sale taken back: the range is the shop's again
        credit.number = work.take_number("credit")
        work.session.flush()
        facts = credit_facts(seat, work.session, credit, invoice, why.strip())
        keep_paper(
            work,
            "credit",
            credit.number,
            say("Credit {number}", number=credit.number),
            facts,
            job_id=credit.job_id,
            party_id=credit.customer_id,
        )
        work.about(credit, credit.job_id)
        return credit.number


def invoices(
    seat: Seat, *, job_id: int | None = None, owing: bool = False, limit: int = 200
) -> list[InvoiceRow]:
    """Invoices and credits, newest first; `owing` those with something still open."""
    query = sa.select(Invoice).order_by(Invoice.id.desc()).limit(limit)
    if job_id is not None:
        query = query.where(Invoice.job_id == job_id)
    if owing:
        query = query.where(*_still_owed())
    query = query.options(
        sa.orm.joinedload(Invoice.customer), sa.orm.joinedload(Invoice.job).joinedload(Job.range)
    )
    with seat.look() as session:
        rows = list(session.scalars(query))
        settled = payments.settled_by_invoice(session, [r.id for r in rows])
        credited = set(
            session.scalars(sa.select(Invoice.corrects_id).where(Invoice.corrects_id.is_not(None)))
        )
        return [_row(r, settled.get(r.id, 0), r.id in credited, seat.today) for r in rows]


def invoice_view(seat: Seat, invoice_id: int) -> InvoiceView:
    with seat.look() as session:
        invoice = session.get_one(Invoice, invoice_id)
        settled = payments.settled_by_invoice(session, [invoice_id]).get(invoice_id, 0)
        credited = session.scalar(sa.select(Invoice.id).where(Invoice.corrects_id == invoice_id)) is not None
        lines = tuple(from_row(row) for row in invoice.lines)
        return InvoiceView(_row(invoice, settled, credited, seat.today), lines)


def _still_owed() -> tuple[sa.ColumnElement[bool], ...]:
    """Issued, not credited, and not yet settled in full."""
    settled = (
        sa.select(sa.func.coalesce(sa.func.sum(PaymentShare.amount_cents), 0))
        .where(PaymentShare.invoice_id == Invoice.id)
        .correlate(Invoice)
        .scalar_subquery()
    )
    corrected = sa.select(Invoice.corrects_id).where(Invoice.corrects_id.is_not(None))
    return (
        Invoice.kind == "invoice",
        Invoice.number.is_not(None),
        Invoice.id.not_in(corrected),
        Invoice.gross_cents > settled,
    )


def _sold(work: UnitOfWork, job_id: int) -> bool:
    corrected = sa.select(Invoice.corrects_id).where(Invoice.corrects_id.is_not(None))
    issued = sa.select(Invoice.id).where(
        Invoice.job_id == job_id,
        Invoice.kind == "invoice",
        Invoice.number.is_not(None),
        Invoice.id.not_in(corrected),
    )
    return work.session.scalar(issued.limit(1)) is not None


def _drop_drafts(work: UnitOfWork, job_id: int) -> None:
    for draft in work.session.scalars(
        sa.select(Invoice).where(Invoice.job_id == job_id, Invoice.number.is_(None))
    ):
        work.session.delete(draft)
    work.session.flush()


def _keep_draft(seat: Seat, work: UnitOfWork, job: Job, customer: Party, lines: list[Line]) -> int:
    sums = totals_of(lines)
    invoice = Invoice(
        job_id=job.id,
        customer_id=customer.id,
        currency=seat.region.currency,
        net_cents=sums.without_tax,
        tax_cents=sums.tax,
        gross_cents=sums.with_tax,
    )
    invoice.lines = [to_row(line, place, InvoiceLine()) for place, line in enumerate(lines, start=1)]
    work.add(invoice)
    work.session.flush()
    work.about(invoice, job.id)
    return invoice.id


def _row(invoice: Invoice, settled: int, credited: bool, today: dt.date) -> InvoiceRow:
    issued = invoice.number is not None
    open_cents = 0
    if issued and invoice.kind == "invoice" and not credited:
        open_cents = invoice.gross_cents - settled
    return InvoiceRow(
        id=invoice.id,
        kind=invoice.kind,
        number=invoice.number or "",
        job_id=invoice.job_id,
        range_number=invoice.job.range.number,
        customer=invoice.customer.name,
        on_day=invoice.on_day,
        due_on=invoice.due_on,
        net_cents=invoice.net_cents,
        tax_cents=invoice.tax_cents,
        gross_cents=invoice.gross_cents,
        open_cents=open_cents,
        currency=invoice.currency,
        standing=_standing(invoice, open_cents, credited, today),
    )


def _standing(invoice: Invoice, open_cents: int, credited: bool, today: dt.date) -> str:
    if invoice.number is None:
        return "being written"
    if invoice.kind == "credit" or credited:
        return "credited" if credited else "issued"
    if open_cents <= 0:
        return "settled"
    if invoice.due_on is not None and invoice.due_on < today:
        return "past due"
    return "part settled" if open_cents < invoice.gross_cents else "issued"
