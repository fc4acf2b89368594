"""The invoice, and the credit that corrects one."""

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.documents.facts import Consent, InvoiceFacts, Paid
from shopdesk.domain.catalogue.model import Scope
from shopdesk.services import settings
from shopdesk.services.lines import (
    Line,
    adjustment_facts,
    from_adjustment_row,
    from_row,
    to_facts,
    totals_of,
)
from shopdesk.services.papers.heads import party_facts, range_facts, shop_head
from shopdesk.services.papers.proof_sheet import standing_of
from shopdesk.services.papers.quote import scope_name
from shopdesk.services.papers.words import consent_way, method_name, staff_name
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Agreement, ChangeOrder, Invoice, Payment, PaymentShare, Quote
from shopdesk.wording import say

_EXEMPT = "E"  # UNCL5305


def invoice_facts(seat: Seat, session: Session, invoice: Invoice) -> InvoiceFacts:
    job = invoice.job
    lines = [from_row(row) for row in invoice.lines]
    given = [from_adjustment_row(row) for row in invoice.adjustments]
    texts = settings.read(session, settings.Texts)
    payments = _payments(session, invoice.id)
    return InvoiceFacts(
        shop=shop_head(seat, session),
        number=invoice.number or "",
        day=invoice.on_day or seat.today,
        due_on=invoice.due_on,
        customer=party_facts(invoice.customer),
        range=range_facts(job.range, seat.region),
        received_on=job.booked_in_on,
        trouble=job.complaint,
        lines=tuple(to_facts(line) for line in lines),
        totals=totals_of(lines, paid=sum(paid.cents for paid in payments), adjustments=given),
        adjustments=adjustment_facts(given),
        payments=payments,
        consents=consents(seat, session, job.id),
        standing=standing_of(seat, session, job),
        how_to_pay=(texts.invoice,) if texts.invoice else (),
        terms=tuple(t for t in (_exempt(invoice, lines), texts.warranty) if t),
    )


def credit_facts(seat: Seat, session: Session, credit: Invoice, of: Invoice, why: str) -> InvoiceFacts:
    job = credit.job
    lines = [from_row(row) for row in credit.lines]
    given = [from_adjustment_row(row) for row in credit.adjustments]
    return InvoiceFacts(
        shop=shop_head(seat, session),
        number=credit.number or "",
        day=credit.on_day or seat.today,
        customer=party_facts(credit.customer),
        range=range_facts(job.range, seat.region),
        lines=tuple(to_facts(line) for line in lines),
        totals=totals_of(lines, adjustments=given),
        adjustments=adjustment_facts(given),
        standing=standing_of(seat, session, job) if job.red_tagged else None,
        terms=tuple(t for t in (_exempt(credit, lines),) if t),
        credit_of=of.number or "",
        credit_why=why,
    )


def consents(seat: Seat, session: Session, job_id: int) -> tuple[Consent, ...]:
    """Every agreement of a job, change orders too, in the order in which they were given."""
    rows = session.execute(
        sa.select(Agreement, Quote, ChangeOrder)
        .join(Quote, Quote.id == Agreement.quote_id)
        .outerjoin(ChangeOrder, ChangeOrder.quote_id == Quote.id)
        .where(Agreement.job_id == job_id)
        .order_by(Agreement.at, Agreement.id)
    )
    return tuple(
        Consent(
            amount_cents=agreement.amount_cents,
            at=seat.region.instant(agreement.at),
            who=agreement.who,
            how=consent_way(agreement.how),
            number_called=agreement.number_called,
            taken_by=staff_name(session, agreement.taken_by_id),
            what=" ".join(w for w in (_what(quote, change), agreement.note) if w),
        )
        for agreement, quote, change in rows
    )


def _what(quote: Quote, change: ChangeOrder | None) -> str:
    if change is not None:
        return say("Change order {number}: {what}.", number=quote.number, what=change.what.rstrip("."))
    if quote.step == "change":
        return say("Change order {number}.", number=quote.number)
    scope = say("teardown only") if quote.step == "teardown" else scope_name(Scope(quote.scope))
    return say("Quote {number}, {scope}.", number=quote.number, scope=scope)


def _payments(session: Session, invoice_id: int) -> tuple[Paid, ...]:
    """What settles an invoice; shares taken back from it again are left out."""
    rows = session.execute(
        sa.select(Payment, sa.func.sum(PaymentShare.amount_cents))
        .join(PaymentShare, PaymentShare.payment_id == Payment.id)
        .where(PaymentShare.invoice_id == invoice_id)
        .group_by(Payment.id)
        .order_by(Payment.on_day, Payment.id)
    )
    return tuple(
        Paid(label=_label(payment), day=payment.on_day, cents=int(cents)) for payment, cents in rows if cents
    )


def _label(payment: Payment) -> str:
    how = method_name(payment.method)
    if payment.kind == "deposit":
        return say("Deposit {number}, {how}", number=payment.number, how=how)
    return say("Payment {number}, {how}", number=payment.number, how=how)


def _exempt(invoice: Invoice, lines: list[Line]) -> str:
    certificate = invoice.customer.exempt_certificate
    if not certificate or not any(line.tax.category == _EXEMPT for line in lines):
        return ""
    return say("Exempt from tax, certificate {certificate}.", certificate=certificate)
