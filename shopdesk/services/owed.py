"""What is still open on issued invoices: less what settles them, nothing once credited or written off."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.storage.tables.counter import Invoice, PaymentShare, WriteOff


@dataclass(frozen=True, slots=True)
class Open:
    """One issued invoice, minor units. `asked_cents` is what reminders ask for: open, not written off."""

    gross_cents: int
    settled_cents: int
    written_off_cents: int
    credited: bool

    @property
    def open_cents(self) -> int:
        """What a payment could still settle."""
        return 0 if self.credited else self.gross_cents - self.settled_cents

    @property
    def asked_cents(self) -> int:
        return max(0, self.open_cents - self.written_off_cents)


def settled_by_invoice(session: Session, invoice_ids: Iterable[int]) -> dict[int, int]:
    rows = session.execute(
        sa.select(PaymentShare.invoice_id, sa.func.sum(PaymentShare.amount_cents))
        .where(PaymentShare.invoice_id.in_(list(invoice_ids)))
        .group_by(PaymentShare.invoice_id)
    )
    return {key: int(cents) for key, cents in rows}


def written_off_by_invoice(session: Session, invoice_ids: Iterable[int]) -> dict[int, int]:
    rows = session.execute(
        sa.select(WriteOff.invoice_id, sa.func.sum(WriteOff.amount_cents))
        .where(WriteOff.invoice_id.in_(list(invoice_ids)))
        .group_by(WriteOff.invoice_id)
    )
    return {key: int(cents) for key, cents in rows}


def credited(session: Session, invoice_ids: Iterable[int]) -> set[int]:
    query = sa.select(Invoice.corrects_id).where(Invoice.corrects_id.in_(list(invoice_ids)))
    return {int(key) for key in session.scalars(query) if key is not None}


def open_of(session: Session, invoices: Iterable[Invoice]) -> dict[int, Open]:
    """How each invoice stands, by its key."""
    gross = {invoice.id: invoice.gross_cents for invoice in invoices}
    settled, written = settled_by_invoice(session, gross), written_off_by_invoice(session, gross)
    taken_back = credited(session, gross)
    return {
        key: Open(cents, settled.get(key, 0), written.get(key, 0), key in taken_back)
        for key, cents in gross.items()
    }


def issued_invoices(*more: sa.ColumnElement[bool]) -> sa.Select[Invoice]:
    """Issued and uncredited invoices, oldest first."""
    corrected = sa.select(Invoice.corrects_id).where(Invoice.corrects_id.is_not(None))
    standing = (Invoice.kind == "invoice", Invoice.number.is_not(None), Invoice.id.not_in(corrected))
    return sa.select(Invoice).where(*standing, *more).order_by(Invoice.on_day, Invoice.id)


def still_owed() -> tuple[sa.ColumnElement[bool], ...]:
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


AGES = (30, 60, 90)  # days past due; common practice, no source


def age_of(due_on: dt.date | None, today: dt.date) -> int:
    """0 not due yet, then 1 up to 30 days past due, 2 to 60, 3 to 90, 4 longer."""
    late = (today - due_on).days if due_on is not None else 0
    return 0 if late <= 0 else 1 + sum(late > age for age in AGES)
