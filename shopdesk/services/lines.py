"""Lines of quotes and invoices: what each is for, what it comes to, and why it is there."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TypeVar

from shopdesk.documents.facts import LineFacts
from shopdesk.domain.money import for_minutes
from shopdesk.domain.totals import Amount, Tax, Totals, total
from shopdesk.storage.tables.counter import InvoiceLine, LineColumns, QuoteLine

OFFICE = "office"  # a station: the shop's own paperwork is in its rates, and nobody is asked about it


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A line before tax. Labour: `quantity` minutes at `unit_cents` an hour; else pieces and each.

    `share_cents`: what a share of an agreed line comes to, so that all its shares sum to the line;
    it lies within a minor unit or two of quantity times price.
    """

    kind: str
    what: str
    quantity: int
    unit_cents: int
    because: str
    tax: Tax
    condition: str = ""
    task_id: int | None = None
    need_id: int | None = None
    piece_id: int | None = None
    share_cents: int | None = None

    @property
    def net_cents(self) -> int:
        if self.share_cents is not None:
            return self.share_cents
        return _times(self.kind, self.quantity, self.unit_cents)


def _times(kind: str, quantity: int, unit_cents: int) -> int:
    return for_minutes(quantity, unit_cents) if kind == "labour" else quantity * unit_cents


_Kept = TypeVar("_Kept", QuoteLine, InvoiceLine)


def to_row(line: Line, place: int, row: _Kept) -> _Kept:
    """Copies a line into a row of its paper; nothing in it is looked up again later."""
    row.place, row.kind, row.what = place, line.kind, line.what
    row.quantity, row.unit_cents, row.net_cents = line.quantity, line.unit_cents, line.net_cents
    row.tax_category, row.tax_percent, row.tax_name = line.tax.category, line.tax.percent, line.tax.name
    row.condition, row.because = line.condition, line.because
    row.task_id, row.need_id = line.task_id, line.need_id
    if isinstance(row, InvoiceLine):
        row.piece_id = line.piece_id
    return row


def from_row(row: QuoteLine | InvoiceLine) -> Line:
    times = _times(row.kind, row.quantity, row.unit_cents)
    return Line(
        kind=row.kind,
        what=row.what,
        quantity=row.quantity,
        unit_cents=row.unit_cents,
        because=row.because,
        tax=tax_of(row),
        condition=row.condition,
        task_id=row.task_id,
        need_id=row.need_id,
        piece_id=row.piece_id if isinstance(row, InvoiceLine) else None,
        share_cents=None if row.net_cents == times else row.net_cents,
    )


def tax_of(row: LineColumns) -> Tax:
    return Tax(row.tax_category, row.tax_percent, row.tax_name)


def without_tax(lines: Iterable[Line], category: str = "E") -> list[Line]:
    """The same lines for an exempt customer."""
    return [replace(line, tax=Tax(category, Decimal(0), "")) for line in lines]


def totals_of(lines: Iterable[Line], paid: int = 0) -> Totals:
    return total([Amount(line.net_cents, line.tax) for line in lines], paid=paid)


def to_facts(line: Line) -> LineFacts:
    """A line as papers print it."""
    return LineFacts(
        kind=line.kind,  # type: ignore[arg-type]  # the database checks the kinds
        what=line.what,
        quantity=line.quantity,
        unit_cents=line.unit_cents,
        net_cents=line.net_cents,
        because=line.because,
        condition=line.condition,  # type: ignore[arg-type]
        tax_name=line.tax.name if line.tax.percent else "",
    )
