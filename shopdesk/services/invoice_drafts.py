"""The invoice that is being written: at most one a job, changed freely until it is issued."""

from collections.abc import Iterable, Sequence

import sqlalchemy as sa

from shopdesk.domain.adjust import Adjustment, Change, bases_of, on_paper
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.billable import refuse_above_agreed
from shopdesk.services.lines import (
    Line,
    adjusted,
    amounts_of,
    from_adjustment_row,
    from_row,
    to_adjustment_row,
    to_row,
    totals_of,
)
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice, InvoiceAdjustment, InvoiceLine
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.unit_of_work import UnitOfWork

SALE, WARRANTY, STORAGE, WITHDRAWAL = "sale", "warranty", "storage", "withdrawal"
_BESIDE = (SALE, WARRANTY, STORAGE)  # not bounded by what was agreed for the work


def keep_draft(
    seat: Seat, work: UnitOfWork, job: Job, customer: Party, lines: Sequence[Line],
    adjustments: Sequence[Adjustment] = (), *, basis: str = "work", milestone: str = "",
    margin_tax_cents: int = 0,
) -> int:  # fmt: skip
    """Writes the one draft of a job in place of any before; returns its key."""
    drop_drafts(work, job.id)
    invoice = Invoice(
        job_id=job.id,
        customer_id=customer.id,
        currency=seat.region.currency,
        basis=basis,
        milestone=milestone,
        margin_tax_cents=margin_tax_cents,
    )
    _fill(invoice, lines, adjustments)
    work.add(invoice)
    work.session.flush()
    work.about(invoice, job.id)
    return invoice.id


def drop_drafts(work: UnitOfWork, job_id: int) -> None:
    for draft in work.session.scalars(
        sa.select(Invoice).where(Invoice.job_id == job_id, Invoice.number.is_(None))
    ):
        work.session.delete(draft)
    work.session.flush()


def change_draft(seat: Seat, invoice_id: int, changes: Iterable[Change]) -> None:
    """Gives a discount or adds a surcharge on an invoice that is being written.

    A change on a line takes the place of the one it had; on the paper it is added. A surcharge
    may not take the bill past what was agreed.
    """
    with seat.change(Action.INVOICE) as work:
        invoice = _draft(work, invoice_id)
        lines = [from_row(row) for row in invoice.lines]
        given = [from_adjustment_row(row) for row in invoice.adjustments]
        for change in changes:
            if change.line is None:
                standing = bases_of([*amounts_of(lines), *(a.as_amount() for a in given)])
                given += on_paper(change, standing)
                continue
            at = next((i for i, line in enumerate(lines) if line.key == change.line), None)
            if at is None:
                raise Problem("There is no line “{what}” any more to change.", what=change.line[1])
            lines[at] = adjusted(lines[at], change)
        _keep_changed(work, invoice, lines, given)


def undo_changes(seat: Seat, invoice_id: int, why: str) -> None:
    """Takes a discount or surcharge with this reason off an invoice that is being written."""
    with seat.change(Action.INVOICE) as work:
        invoice = _draft(work, invoice_id)
        before = [from_adjustment_row(row) for row in invoice.adjustments]
        given = [entry for entry in before if entry.why != why or entry.deducts is not None]
        if len(given) == len(before):
            raise Problem("There is no discount or surcharge “{why}” on this invoice.", why=why)
        _keep_changed(work, invoice, [from_row(row) for row in invoice.lines], given)


def _draft(work: UnitOfWork, invoice_id: int) -> Invoice:
    invoice = work.get(Invoice, invoice_id, "invoice")
    if invoice.number is not None:
        raise Problem("{number} is issued and stays as it is. Credit it instead.", number=invoice.number)
    return invoice


def _keep_changed(
    work: UnitOfWork, invoice: Invoice, lines: Sequence[Line], given: Sequence[Adjustment]
) -> None:
    if invoice.basis not in _BESIDE:
        refuse_above_agreed(work.session, invoice.job, totals_of(lines, adjustments=given).without_tax)
    invoice.lines, invoice.adjustments = [], []
    work.session.flush()
    _fill(invoice, lines, given)
    work.session.flush()
    work.about(invoice, invoice.job_id)


def _fill(invoice: Invoice, lines: Sequence[Line], adjustments: Sequence[Adjustment]) -> None:
    sums = totals_of(lines, adjustments=adjustments)
    if sums.without_tax < 0:
        raise Problem("More is taken off than the bill comes to. Look at its discounts.", field="amount")
    invoice.net_cents, invoice.tax_cents, invoice.gross_cents = sums.without_tax, sums.tax, sums.with_tax
    invoice.lines = [to_row(line, place, InvoiceLine()) for place, line in enumerate(lines, start=1)]
    invoice.adjustments = [
        to_adjustment_row(entry, place, InvoiceAdjustment())
        for place, entry in enumerate(adjustments, start=1)
    ]


def copied(invoice: Invoice, onto: Invoice) -> None:
    """The lines and adjustments of an invoice on its credit, to the cent."""
    onto.lines = [to_row(from_row(row), p, InvoiceLine()) for p, row in enumerate(invoice.lines, start=1)]
    onto.adjustments = [
        to_adjustment_row(from_adjustment_row(row), p, InvoiceAdjustment())
        for p, row in enumerate(invoice.adjustments, start=1)
    ]
