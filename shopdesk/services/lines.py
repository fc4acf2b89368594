"""Lines of quotes and invoices: what each is for, what it comes to, and why it is there."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TypeVar

from shopdesk.documents.facts import AdjustmentFacts, LineFacts
from shopdesk.domain.adjust import Adjustment, Change, bases_of, on_paper
from shopdesk.domain.money import for_minutes
from shopdesk.domain.problem import Problem
from shopdesk.domain.totals import Amount, Tax, Totals, total
from shopdesk.storage.tables.counter import (
    AdjustmentColumns,
    InvoiceAdjustment,
    InvoiceLine,
    LineColumns,
    QuoteAdjustment,
    QuoteLine,
)

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
    adjust_cents: int = 0  # a discount below, a surcharge above zero; in the net
    adjust_why: str = ""
    agreed_cents: int | None = None  # on a bill: what it takes of its agreed line; none: its net

    @property
    def full_cents(self) -> int:
        """Quantity times price, or the share of it, before its discount or surcharge."""
        if self.share_cents is not None:
            return self.share_cents
        return _times(self.kind, self.quantity, self.unit_cents)

    @property
    def net_cents(self) -> int:
        return self.full_cents + self.adjust_cents

    @property
    def key(self) -> tuple[str, str]:
        """What a person points at: the kind and the text of the line."""
        return self.kind, self.what


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
    row.adjust_cents, row.adjust_why = line.adjust_cents, line.adjust_why
    if isinstance(row, InvoiceLine):
        row.piece_id = line.piece_id
        row.agreed_cents = line.agreed_cents
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
        share_cents=None if row.net_cents - row.adjust_cents == times else row.net_cents - row.adjust_cents,
        adjust_cents=row.adjust_cents,
        adjust_why=row.adjust_why,
        agreed_cents=row.agreed_cents if isinstance(row, InvoiceLine) else None,
    )


def tax_of(row: LineColumns | AdjustmentColumns) -> Tax:
    return Tax(row.tax_category, row.tax_percent, row.tax_name)


def without_tax(lines: Iterable[Line], category: str = "E") -> list[Line]:
    """The same lines for an exempt customer."""
    return [replace(line, tax=Tax(category, Decimal(0), "")) for line in lines]


def totals_of(lines: Iterable[Line], paid: int = 0, adjustments: Iterable[Adjustment] = ()) -> Totals:
    """The sums of a paper: its lines, and what is taken off or added to the whole."""
    return total(amounts_of(lines), [a.as_amount() for a in adjustments], paid=paid)


def amounts_of(lines: Iterable[Line]) -> list[Amount]:
    return [Amount(line.net_cents, line.tax) for line in lines]


def changed(lines: Iterable[Line], changes: Iterable[Change]) -> tuple[list[Line], list[Adjustment]]:
    """Lines with the discounts and surcharges given on them, and those on the whole paper.

    A change on a line that is not there is refused: what somebody gave away is never lost in silence.
    """
    made, given = list(lines), list(changes)
    for change in given:
        if change.line is not None:
            at = next((i for i, line in enumerate(made) if line.key == change.line), None)
            if at is None:
                raise Problem("There is no line “{what}” any more to change.", what=change.line[1])
            made[at] = adjusted(made[at], change)
    adjustments: list[Adjustment] = []
    for change in given:
        if change.line is None:
            standing = bases_of([*amounts_of(made), *(a.as_amount() for a in adjustments)])
            adjustments += on_paper(change, standing)
    return made, adjustments


def adjusted(line: Line, change: Change) -> Line:
    """A line with a discount or surcharge in place of any it had; it takes the same of what was agreed."""
    taken = line.net_cents if line.agreed_cents is None else line.agreed_cents
    less = change.on(line.full_cents)
    return replace(line, adjust_cents=less, adjust_why=change.why.strip(), agreed_cents=taken)


_Adjusted = TypeVar("_Adjusted", QuoteAdjustment, InvoiceAdjustment)


def to_adjustment_row(adjustment: Adjustment, place: int, row: _Adjusted) -> _Adjusted:
    row.place, row.why, row.percent = place, adjustment.why, adjustment.percent
    row.amount_cents = adjustment.amount_cents
    tax = adjustment.tax
    row.tax_category, row.tax_percent, row.tax_name = tax.category, tax.percent, tax.name
    if isinstance(row, InvoiceAdjustment):
        row.deducts_id = adjustment.deducts
    return row


def from_adjustment_row(row: QuoteAdjustment | InvoiceAdjustment) -> Adjustment:
    return Adjustment(
        why=row.why,
        amount_cents=row.amount_cents,
        tax=tax_of(row),
        percent=row.percent,
        deducts=row.deducts_id if isinstance(row, InvoiceAdjustment) else None,
    )


def adjustment_facts(adjustments: Iterable[Adjustment]) -> tuple[AdjustmentFacts, ...]:
    """As papers print them: what was split over several taxes stands once."""
    merged: dict[tuple[str, Decimal | None], int] = {}
    for entry in adjustments:
        key = (entry.why, entry.percent)
        merged[key] = merged.get(key, 0) + entry.amount_cents
    return tuple(AdjustmentFacts(why=why, percent=rate, cents=cents) for (why, rate), cents in merged.items())


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
        adjust_cents=line.adjust_cents,
        adjust_why=line.adjust_why,
    )
