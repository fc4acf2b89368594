"""What comes off or on a whole bill: discounts agreed on the quote, and shares that were billed before."""

from collections.abc import Iterable
from dataclasses import replace

from sqlalchemy.orm import Session

from shopdesk.domain.adjust import Adjustment, Change, bases_of, on_paper
from shopdesk.domain.totals import Amount, Tax
from shopdesk.services.agreed_lines import agreed_quotes
from shopdesk.services.lines import Line, amounts_of, from_adjustment_row, from_row, tax_of
from shopdesk.services.owed import issued_invoices
from shopdesk.storage.tables.counter import Invoice
from shopdesk.wording import say

PROGRESS = "progress"


def carried(session: Session, job_id: int, lines: Iterable[Line], *, whole: bool = True) -> list[Adjustment]:
    """The adjustments of a bill over these lines.

    A percentage falls on whatever is billed; an amount comes off once, with the first bills that are
    large enough (with `whole`, not when a customer withdraws). Then every bill for a share that was sent
    before is taken off, as far as what is billed here carries the same tax.
    """
    amounts = amounts_of(lines)
    made = _agreed_changes(session, job_id, amounts, whole=whole)
    return made + deductions(session, job_id, [*amounts, *(a.as_amount() for a in made)])


def agreed_adjustments(session: Session, job_id: int) -> list[Adjustment]:
    """Discounts and surcharges on the agreed quotes that count."""
    return [from_adjustment_row(row) for quote in agreed_quotes(session, job_id) for row in quote.adjustments]


def deductions(session: Session, job_id: int, amounts: Iterable[Amount]) -> list[Adjustment]:
    """What earlier bills for a share take off a bill of these amounts, tax by tax, oldest first."""
    room = bases_of(amounts)
    taken = _taken_off(session, job_id)
    made = []
    for bill in session.scalars(issued_invoices(Invoice.job_id == job_id, Invoice.basis == PROGRESS)):
        for tax, cents in billed_by_tax(bill).items():
            part = min(cents - taken.get((bill.id, tax), 0), max(0, room.get(tax, 0)))
            if part > 0:
                room[tax] -= part
                why = say("Billed before, {number}", number=bill.number)
                made.append(Adjustment(why=why, amount_cents=-part, tax=tax, deducts=bill.id))
    return made


def left_of_shares(session: Session, job_id: int) -> int:
    """What was billed as a share and is on no later bill yet, minor units before tax."""
    taken = _taken_off(session, job_id)
    bills = session.scalars(issued_invoices(Invoice.job_id == job_id, Invoice.basis == PROGRESS))
    return sum(
        cents - taken.get((bill.id, tax), 0) for bill in bills for tax, cents in billed_by_tax(bill).items()
    )


def billed_by_tax(bill: Invoice) -> dict[Tax, int]:
    """A bill's nets by tax, its adjustments in it."""
    rows = [from_adjustment_row(row).as_amount() for row in bill.adjustments]
    return bases_of([*amounts_of(from_row(row) for row in bill.lines), *rows])


def _agreed_changes(session: Session, job_id: int, amounts: list[Amount], *, whole: bool) -> list[Adjustment]:
    made: list[Adjustment] = []
    applied = _applied(session, job_id)
    by_reason: dict[tuple[str, object], int] = {}
    for given in agreed_adjustments(session, job_id):
        key = (given.why, given.percent)
        by_reason[key] = by_reason.get(key, 0) + given.amount_cents
    for (why, percent), cents in by_reason.items():
        bases = bases_of([*amounts, *(a.as_amount() for a in made)])
        there = sum(base for base in bases.values() if base > 0)
        if percent is not None:
            if there > 0:
                made += on_paper(Change(why=why, percent=percent), bases)  # type: ignore[arg-type]
            continue
        left = cents - applied.get(why, 0)
        left = max(left, -there) if left < 0 else left
        if whole and left and there > 0:
            made += on_paper(Change(why=why, cents=left), bases)
    return made


def _applied(session: Session, job_id: int) -> dict[str, int]:
    """Amounts of the agreed quote that earlier bills took off or put on already, by their reason."""
    done: dict[str, int] = {}
    for bill in session.scalars(issued_invoices(Invoice.job_id == job_id, Invoice.basis != PROGRESS)):
        for row in bill.adjustments:
            if row.percent is None and row.deducts_id is None:
                done[row.why] = done.get(row.why, 0) + row.amount_cents
    return done


def _taken_off(session: Session, job_id: int) -> dict[tuple[int, Tax], int]:
    done: dict[tuple[int, Tax], int] = {}
    for bill in session.scalars(issued_invoices(Invoice.job_id == job_id)):
        for row in bill.adjustments:
            if row.deducts_id is not None:
                key = (row.deducts_id, tax_of(row))
                done[key] = done.get(key, 0) - row.amount_cents
    return done


def for_share(adjustments: Iterable[Adjustment], parts: Iterable[int]) -> list[Adjustment]:
    """The same adjustments at the amounts of a share; those that come to nothing are left out."""
    return [
        replace(entry, amount_cents=part, percent=None)
        for entry, part in zip(adjustments, parts, strict=True)
        if part
    ]
