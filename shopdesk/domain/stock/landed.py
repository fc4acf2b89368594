"""What a delivery cost once it lies here: the supplier's prices in our money, the freight shared over it."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from shopdesk.domain.money import decimals, round_half_up, share
from shopdesk.domain.problem import Problem


@dataclass(frozen=True, slots=True)
class Landed:
    """One kind of goods of a delivery, minor units of the shop's currency for all of it."""

    goods_cents: int
    freight_cents: int

    @property
    def total_cents(self) -> int:
        return self.goods_cents + self.freight_cents


def exchanged(cents: int, currency: str, ours: str, rate: Decimal | None) -> int:
    """An amount of `currency` in our money; `rate` is what one unit of it is in units of ours."""
    if currency == ours:
        return cents
    if rate is None or rate <= 0:
        raise Problem(
            "The prices are in {currency}. Write what 1 {currency} is in {ours}.",
            field="rate", currency=currency, ours=ours,
        )  # fmt: skip
    scale = Fraction(10) ** (decimals(ours) - decimals(currency))
    return round_half_up(cents * Fraction(rate) * scale)


def landed(
    goods: Sequence[tuple[int, int]], freight_cents: int, currency: str, ours: str, rate: Decimal | None
) -> list[Landed]:
    """Goods as (pieces, price each in `currency`), freight in our money, shared by value to the cent.

    The sum is exchanged once and shared, so that the parts always sum to it; goods without a
    price share by their pieces.
    """
    if freight_cents < 0:
        raise Problem("Freight is zero or more.", field="freight")
    if not goods:
        return []
    values = [pieces * each for pieces, each in goods]
    ours_all = exchanged(sum(values), currency, ours, rate)
    in_ours = share(ours_all, values)
    weights = values if any(values) else [pieces for pieces, _ in goods]
    return [Landed(g, f) for g, f in zip(in_ours, share(freight_cents, weights), strict=True)]
