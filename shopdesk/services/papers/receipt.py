"""The payment receipt: money taken or given back, and what it settles."""

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.documents.facts import PaymentReceiptFacts, Settled
from shopdesk.services.papers.heads import party_facts, range_facts, shop_head
from shopdesk.services.papers.words import method_name, staff_name
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice, Payment, PaymentShare
from shopdesk.storage.tables.ranges import Job


def receipt_facts(seat: Seat, session: Session, payment: Payment) -> PaymentReceiptFacts:
    job = session.get(Job, payment.job_id) if payment.job_id else None
    settled = _settled(session, payment.id)
    held = payment.amount_cents - sum(share.cents for share in settled)
    return PaymentReceiptFacts(
        shop=shop_head(seat, session),
        number=payment.number,
        day=payment.on_day,
        customer=party_facts(payment.party),
        amount_cents=payment.amount_cents,
        method=method_name(payment.method),
        kind=payment.kind,  # type: ignore[arg-type]  # the database checks the kinds
        range=range_facts(job.range, seat.region) if job else None,
        reference=payment.reference,
        taken_by=staff_name(session, payment.taken_by_id),
        settled=settled,
        held_cents=max(0, held),
        red_tagged=job is not None and job.red_tagged,
    )


def _settled(session: Session, payment_id: int) -> tuple[Settled, ...]:
    """The shares of one payment by invoice, each with what stays open on the invoice."""
    mine = session.execute(
        sa.select(Invoice, sa.func.sum(PaymentShare.amount_cents))
        .join(PaymentShare, PaymentShare.invoice_id == Invoice.id)
        .where(PaymentShare.payment_id == payment_id)
        .group_by(Invoice.id)
        .order_by(Invoice.id)
    ).all()
    return tuple(
        Settled(
            invoice=invoice.number or "",
            cents=int(cents),
            open_cents=invoice.gross_cents - _on(session, invoice.id),
        )
        for invoice, cents in mine
        if cents
    )


def _on(session: Session, invoice_id: int) -> int:
    """All that settles an invoice so far, minor units."""
    total = sa.select(sa.func.sum(PaymentShare.amount_cents)).where(PaymentShare.invoice_id == invoice_id)
    return int(session.scalar(total) or 0)
