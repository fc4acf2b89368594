"""Money as integer minor units (cents) of one currency; rounding half up in one function.

Floats are refused everywhere: a float that stands for money is a bug.
"""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from shopdesk.domain.problem import Problem

_DECIMALS = {
    "USD": 2,
    "CAD": 2,
    "EUR": 2,
    "GBP": 2,
    "AUD": 2,
    "NZD": 2,
    "CHF": 2,
    "SEK": 2,
    "NOK": 2,
    "DKK": 2,
    "PLN": 2,
    "CZK": 2,
    "HUF": 2,
    "MXN": 2,
    "JPY": 0,
}  # ISO 4217


def decimals(currency: str) -> int:
    """Digits after the point of an ISO 4217 currency; a Problem names an unknown one."""
    try:
        return _DECIMALS[currency]
    except KeyError:
        raise Problem("The currency {currency} is not known here.", currency=currency) from None


def round_half_up(value: Decimal | Fraction | int) -> int:
    """To a whole number, halves away from zero (2.5 -> 3, -2.5 -> -3).

    This is the only rounding of money in the program (EN 16931 rounds each amount to two
    decimals; on minor units that is a whole number).
    """
    if isinstance(value, float):
        raise TypeError("money is never a float")
    if isinstance(value, Fraction):
        twice = abs(value) * 2
        whole = (twice.numerator // twice.denominator + 1) // 2
        return whole if value >= 0 else -whole
    return int(Decimal(value).quantize(Decimal(1), rounding=ROUND_HALF_UP))


def share(total: int, weights: list[int]) -> list[int]:
    """`total` minor units split in proportion to `weights`; the parts always sum to `total`.

    Largest remainder method; with all weights zero the parts are as even as can be.
    """
    if not weights:
        raise ValueError("nothing to share over")
    if any(w < 0 for w in weights):
        raise ValueError("a weight is negative")
    if not any(weights):
        weights = [1] * len(weights)
    sign = -1 if total < 0 else 1
    whole = sum(weights)
    parts = [abs(total) * w // whole for w in weights]
    order = sorted(range(len(weights)), key=lambda i: (-(abs(total) * weights[i] % whole), i))
    for i in order[: abs(total) - sum(parts)]:
        parts[i] += 1
    return [sign * p for p in parts]


def for_minutes(minutes: int, cents_per_hour: int) -> int:
    """What `minutes` of labour cost at an hourly rate, rounded half up once."""
    return round_half_up(Fraction(minutes * cents_per_hour, 60))


def marked_up(cents: int, percent: int) -> int:
    """A cost with a whole percentage on top, rounded half up once."""
    return round_half_up(Fraction(cents * (100 + percent), 100))


def part_of(cents: int, percent: int) -> int:
    """A whole percentage of an amount, rounded half up once."""
    return round_half_up(Fraction(cents * percent, 100))


@dataclass(frozen=True, slots=True, order=True)
class Spread:
    """A low, likely and high figure that belong together (cents or minutes)."""

    low: int
    likely: int
    high: int

    def __post_init__(self) -> None:
        if not self.low <= self.likely <= self.high:
            raise ValueError(f"not in order: {self.low}, {self.likely}, {self.high}")

    def times(self, count: int) -> "Spread":
        return Spread(self.low * count, self.likely * count, self.high * count)

    def plus(self, other: "Spread") -> "Spread":
        return Spread(self.low + other.low, self.likely + other.likely, self.high + other.high)


NOTHING = Spread(0, 0, 0)
