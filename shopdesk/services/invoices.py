"""Invoices and credits: written from what was agreed and done, issued once, never changed."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.documents.papers import render
from shopdesk.domain.adjust import Adjustment
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import payments, settings, warranty_clock
from shopdesk.services.bill_adjustments import carried
from shopdesk.services.billable import for_bill, refuse_unbillable
from shopdesk.services.invoice_drafts import copied, keep_draft
from shopdesk.services.lines import Line, from_adjustment_row, from_row
from shopdesk.services.owed import Open, open_of, still_owed
from shopdesk.services.papers.bill_of_sale import keep_bill_of_sale
from shopdesk.services.papers.invoice import credit_facts, invoice_facts
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.pricing import exempt
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice, InvoiceAdjustment
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job
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
    open_cents: int  # what is asked for: not what is written off
    currency: str
    standing: str  # being written, issued, part settled, settled, past due, written off, credited
    basis: str = "work"
    customer_id: int = 0


@dataclass(frozen=True, slots=True)
class InvoiceView:
    """One invoice with its lines."""

    row: InvoiceRow
    lines: tuple[Line, ...]
    adjustments: tuple[Adjustment, ...] = ()


def draft_invoice(seat: Seat, job_id: int) -> int:
    """Writes an invoice over the agreed lines whose work is done and which no invoice has yet.

    Parts are billed as they were covered and outwork as it was accepted; prices are the
    agreed ones, the agreed discounts come off, and so does what was billed as a share before.
    Nothing is billed above what is agreed.
    """
    with seat.change(Action.INVOICE) as work:
        job = work.get(Job, job_id, "job")
        if job.customer is None:
            raise Problem("{number} has no customer to bill. Sell it first.", number=job.range.number)
        lines = for_bill(seat, work.session, job)
        given = carried(work.session, job_id, lines)
        refuse_unbillable(work.session, job, lines, given)
        return keep_draft(seat, work, job, job.customer, lines, given)


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


def issue_invoice(seat: Seat, invoice_id: int) -> str:
    """Gives a written invoice its number, sets deposits against it, archives the paper."""
    with seat.change(Action.INVOICE) as work:
        invoice = work.get(Invoice, invoice_id, "invoice")
        _refuse_issue(seat, invoice)
        terms = settings.read(work.session, settings.Terms)
        invoice.on_day = seat.today
        invoice.due_on = seat.today + dt.timedelta(days=terms.payment_days)
        invoice.issued_at = work.now
        work.session.flush()
        sold = invoice.job.customer_id is None
        if sold:
            invoice.job.range.owner_id = invoice.customer_id
            warranty_clock.begin(work.session, invoice.job, seat.today)
        invoice.number = work.take_number("invoice")
        work.session.flush()
        payments.apply_held(work, invoice)
        title = say("Invoice {number}", number=invoice.number)
        facts = invoice_facts(seat, work.session, invoice)
        of = {"job_id": invoice.job_id, "party_id": invoice.customer_id}
        keep_paper(work, "invoice", invoice.number, title, facts, **of)
        if sold:
            keep_bill_of_sale(seat, work, invoice)
        work.about(invoice, invoice.job_id)
        return invoice.number


def _refuse_issue(seat: Seat, invoice: Invoice) -> None:
    customer = invoice.customer
    if invoice.number is not None:
        raise Problem("{number} is issued already.", number=invoice.number)
    if not customer.street and not customer.town:
        raise Problem(
            "{name} has no address. Write it down first; an invoice needs one.",
            name=customer.name,
            field="customer",
        )
    exempt_lines = any(row.tax_category == "E" and not row.tax_name for row in invoice.lines)
    if exempt_lines and not exempt(seat, customer):
        raise Problem(
            "{name} is no longer exempt from tax: look at the certificate and its day under Customers, "
            "then write the invoice anew.",
            name=customer.name,
        )


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
        _refuse_while_taken_off(work.session, invoice)
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
            basis=invoice.basis,
            milestone=invoice.milestone,
            margin_tax_cents=invoice.margin_tax_cents,
        )
        copied(invoice, credit)
        work.add(credit)
        work.session.flush()
        payments.release_shares(work, invoice)
        if invoice.job.customer_id is None:
            invoice.job.range.owner_id = None  # a sale taken back: the range is the shop's again
            invoice.job.warranty_until = None
        credit.number = work.take_number("credit")
        work.session.flush()
        facts = credit_facts(seat, work.session, credit, invoice, why.strip())
        title = say("Credit {number}", number=credit.number)
        of = {"job_id": credit.job_id, "party_id": credit.customer_id}
        keep_paper(work, "credit", credit.number, title, facts, **of)
        work.about(credit, credit.job_id)
        return credit.number


def _refuse_while_taken_off(session: sa.orm.Session, invoice: Invoice) -> None:
    """A bill for a share that a later bill took off is corrected from the later one backwards."""
    corrected = sa.select(Invoice.corrects_id).where(Invoice.corrects_id.is_not(None))
    later = session.scalar(
        sa.select(Invoice.number)
        .join(InvoiceAdjustment, InvoiceAdjustment.invoice_id == Invoice.id)
        .where(
            InvoiceAdjustment.deducts_id == invoice.id,
            Invoice.kind == "invoice",
            Invoice.number.is_not(None),
            Invoice.id.not_in(corrected),
        )
    )
    if later is not None:
        raise Problem(
            "{number} is taken off {later}. Credit {later} first, then this one.",
            number=invoice.number,
            later=later,
        )


def invoices(
    seat: Seat, *, job_id: int | None = None, owing: bool = False, party_id: int | None = None,
    limit: int = 200,
) -> list[InvoiceRow]:  # fmt: skip
    """Invoices and credits, newest first; `owing` those with something still asked for."""
    query = sa.select(Invoice).order_by(Invoice.id.desc())
    if job_id is not None:
        query = query.where(Invoice.job_id == job_id)
    if party_id is not None:
        same = sa.select(Party.id).where(sa.or_(Party.id == party_id, Party.merged_into_id == party_id))
        query = query.where(Invoice.customer_id.in_(same))
    if owing:
        query = query.where(*still_owed())
    query = query.options(
        sa.orm.joinedload(Invoice.customer), sa.orm.joinedload(Invoice.job).joinedload(Job.range)
    )
    with seat.look() as session:
        rows = list(session.scalars(query.limit(limit)))
        standing = open_of(session, rows)
        found = [_row(r, standing[r.id], seat.today) for r in rows]
        return [row for row in found if row.open_cents > 0] if owing else found


def invoice_view(seat: Seat, invoice_id: int) -> InvoiceView:
    with seat.look() as session:
        invoice = session.get_one(Invoice, invoice_id)
        standing = open_of(session, [invoice])[invoice_id]
        lines = tuple(from_row(row) for row in invoice.lines)
        given = tuple(from_adjustment_row(row) for row in invoice.adjustments)
        return InvoiceView(_row(invoice, standing, seat.today), lines, given)


def _row(invoice: Invoice, standing: Open, today: dt.date) -> InvoiceRow:
    asked = invoice.number is not None and invoice.kind == "invoice"
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
        open_cents=standing.asked_cents if asked else 0,
        currency=invoice.currency,
        standing=_standing(invoice, standing, today),
        basis=invoice.basis,
        customer_id=invoice.customer_id,
    )


def _standing(invoice: Invoice, standing: Open, today: dt.date) -> str:
    if invoice.number is None:
        return "being written"
    if standing.credited or invoice.kind == "credit":
        return "credited" if standing.credited else "issued"
    if standing.asked_cents <= 0:
        return "settled" if standing.open_cents <= 0 else "written off"
    if invoice.due_on is not None and invoice.due_on < today:
        return "past due"
    return "part settled" if standing.asked_cents < invoice.gross_cents else "issued"
