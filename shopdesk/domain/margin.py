"""What a range of the shop's own brought: its price less all that went into it; tax on the margin.

Under a margin scheme for second-hand goods the tax lies within the margin, price less purchase, and
is not shown apart on the invoice (Directive 2006/112/EC, articles 312 to 315 and 325). Which scheme
holds, and whether any does, is for the shop and the law of its place.
"""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from shopdesk.domain.money import round_half_up


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """What went into a range, minor units, before tax."""

    purchase: int = 0
    hours: int = 0
    parts: int = 0
    outwork: int = 0
    other: int = 0

    @property
    def whole(self) -> int:
        return self.purchase + self.hours + self.parts + self.outwork + self.other


def tax_within(price: int, purchase: int, percent: Decimal) -> int:
    """The tax that lies within the margin; nothing when there is no margin.

    >>> tax_within(220000, 100000, Decimal(20))  # 1200.00 of margin, 1000.00 and 200.00 of tax
    20000
    """
    margin = price - purchase
    if margin <= 0 or percent <= 0:
        return 0
    rate = Fraction(percent)
    return round_half_up(margin * rate / (100 + rate))
