"""Totals of quotes and invoices after the rules of EN 16931 (BR-CO-10 to BR-CO-17).

A line's net is rounded once; tax is computed per tax category on the sum of the nets, not
per line. Worked after example 1 of the standard's committee (minor units):

>>> lines = [Amount(18323, Tax("S", Decimal(6))), Amount(4637, Tax("S", Decimal(21)))]
>>> t = total(lines)
>>> [(g.base, g.tax) for g in t.groups], t.without_tax, t.tax, t.with_tax
([(18323, 1099), (4637, 974)], 22960, 2073, 25033)
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.domain.money import round_half_up
from shopdesk.domain.problem import Problem


@dataclass(frozen=True, slots=True, order=True)
class Tax:
    """A tax category (UNCL5305 code: S standard, Z zero, E exempt, O outside scope) and rate in %."""

    category: str
    percent: Decimal
    name: str = ""

    def __post_init__(self) -> None:
        if isinstance(self.percent, float):
            raise TypeError("a tax rate is never a float")
        if not Decimal(0) <= self.percent <= Decimal(100):
            raise Problem(
                "A tax rate lies between 0 and 100 percent; {percent} does not. Check the rate.",
                percent=self.percent,
                field="percent",
            )


NO_TAX = Tax("O", Decimal(0), "")


@dataclass(frozen=True, slots=True)
class Amount:
    """What a line, an allowance (negative) or a charge adds, before tax."""

    net: int
    tax: Tax = NO_TAX


@dataclass(frozen=True, slots=True)
class TaxGroup:
    tax_kind: Tax
    base: int
    tax: int


@dataclass(frozen=True, slots=True)
class Totals:
    """lines (CO-10), without_tax (CO-13), tax (CO-14), with_tax (CO-15), due (CO-16)."""

    lines: int
    adjustments: int
    without_tax: int
    groups: tuple[TaxGroup, ...]
    tax: int
    with_tax: int
    paid: int
    rounding: int
    due: int


def total(
    lines: Iterable[Amount], adjustments: Iterable[Amount] = (), *, paid: int = 0, rounding: int = 0
) -> Totals:
    """The totals block, whatever the order of the lines; groups sorted by category and rate."""
    lines, adjustments = tuple(lines), tuple(adjustments)
    bases: dict[Tax, int] = {}
    for amount in (*lines, *adjustments):
        bases[amount.tax] = bases.get(amount.tax, 0) + amount.net
    groups = tuple(
        TaxGroup(kind, base, round_half_up(base * kind.percent / 100)) for kind, base in sorted(bases.items())
    )
    of_lines = sum(a.net for a in lines)
    of_adjustments = sum(a.net for a in adjustments)
    without_tax = of_lines + of_adjustments
    tax = sum(g.tax for g in groups)
    with_tax = without_tax + tax
    return Totals(
        of_lines,
        of_adjustments,
        without_tax,
        groups,
        tax,
        with_tax,
        paid,
        rounding,
        with_tax - paid + rounding,
    )
