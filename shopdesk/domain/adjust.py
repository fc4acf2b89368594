"""Discounts and surcharges: on one line, or on a whole paper and then split over its taxes.

EN 16931 knows them as allowances (BG-20, BG-27) and charges (BG-21, BG-28): each has a reason,
and one on a whole paper has exactly one tax, so that an amount taken off a bill of several taxes
is shared over them in proportion to what they are on. Knows no papers.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.domain.money import round_half_up, share
from shopdesk.domain.problem import Problem
from shopdesk.domain.totals import Amount, Tax


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What somebody gives or adds: an amount (minor units) or a rate, below zero a discount.

    `line` names the kind and the text of the line it is on; None: the whole paper.
    """

    why: str
    cents: int | None = None
    percent: Decimal | None = None
    line: tuple[str, str] | None = None

    def __post_init__(self) -> None:
        if isinstance(self.percent, float):
            raise TypeError("a rate is never a float")
        if not self.why.strip():
            raise Problem("Say why; a discount or surcharge prints with its reason.", field="why")
        if (self.cents is None) == (self.percent is None):
            raise Problem("Write an amount or a percentage, one of the two.", field="amount")
        if not (self.cents or self.percent):
            raise Problem("A discount or surcharge of nothing needs no line.", field="amount")
        if self.percent is not None and abs(self.percent) > 100:
            raise Problem(
                "A discount or surcharge lies within 100 percent; {percent} does not.",
                percent=self.percent,
                field="amount",
            )

    def on(self, base: int) -> int:
        """What it comes to on an amount, rounded half up once; never more off than there is."""
        rate = self.percent if self.percent is not None else Decimal(0)
        cents = self.cents if self.cents is not None else round_half_up(base * rate / 100)
        if base + cents < 0:
            raise Problem(
                "The discount “{why}” is more than there is to take it off.", why=self.why, field="amount"
            )
        return cents


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjustment:
    """A discount or surcharge on a whole paper, of one tax. `deducts`: a bill taken off here."""

    why: str
    amount_cents: int
    tax: Tax
    percent: Decimal | None = None
    deducts: int | None = None

    def as_amount(self) -> Amount:
        return Amount(self.amount_cents, self.tax)


def bases_of(amounts: Iterable[Amount]) -> dict[Tax, int]:
    """What each tax is on, before tax."""
    bases: dict[Tax, int] = {}
    for amount in amounts:
        bases[amount.tax] = bases.get(amount.tax, 0) + amount.net
    return bases


def on_paper(change: Change, bases: Mapping[Tax, int]) -> list[Adjustment]:
    """A change on a whole paper, one adjustment for each tax it falls on; together exactly the change."""
    taxes = [tax for tax in sorted(bases) if bases[tax] > 0]
    if not taxes:
        raise Problem("There is nothing “{why}” could be on.", why=change.why, field="amount")
    change.on(sum(bases[tax] for tax in taxes))
    if change.percent is not None:
        parts = [change.on(bases[tax]) for tax in taxes]
    else:
        parts = share(change.cents or 0, [bases[tax] for tax in taxes])
    return [
        Adjustment(why=change.why.strip(), amount_cents=part, tax=tax, percent=change.percent)
        for tax, part in zip(taxes, parts, strict=True)
        if part
    ]
