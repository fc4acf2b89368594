"""Totals against the standard's own examples; rounding and sharing out against independent arithmetic."""

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.money import (
    NOTHING,
    Spread,
    decimals,
    for_minutes,
    marked_up,
    part_of,
    round_half_up,
    share,
)
from shopdesk.domain.problem import Problem
from shopdesk.domain.totals import NO_TAX, Amount, Tax, total

# EN 16931: totals of the committee's example invoices 1, 3 and 8 (minor units, by category bases).
_SIX, _TEN = Tax("S", Decimal(6)), Tax("S", Decimal(10))
_TWENTY_ONE, _TWENTY_FIVE = Tax("S", Decimal(21)), Tax("S", Decimal(25))
EXAMPLES = {
    "1": ([Amount(18323, _SIX), Amount(4637, _TWENTY_ONE)], [], 22960, [1099, 974], 25033),
    "3": ([Amount(80000, _TWENTY_FIVE), Amount(80000, _TEN)], [Amount(10000, _TWENTY_FIVE)],
          170000, [8000, 22500], 200500),
    "8": ([Amount(90891, _TWENTY_ONE)], [], 90891, [19087], 109978),
}  # fmt: skip


@pytest.mark.parametrize("example", EXAMPLES)
def test_totals_are_those_of_the_standard_s_examples(example):
    lines, adjustments, without_tax, taxes, with_tax = EXAMPLES[example]
    totals = total(lines, adjustments)
    assert totals.lines == sum(line.net for line in lines)
    assert totals.adjustments == sum(charge.net for charge in adjustments)
    assert totals.without_tax == without_tax
    assert [group.tax for group in totals.groups] == taxes
    assert (totals.tax, totals.with_tax, totals.due) == (sum(taxes), with_tax, with_tax)


_TAXES = st.sampled_from([NO_TAX, _SIX, _TEN, _TWENTY_ONE, Tax("S", Decimal("8.875")), Tax("Z", Decimal(0))])
_AMOUNTS = st.lists(st.builds(Amount, st.integers(-10_000_000, 10_000_000), _TAXES), max_size=12)


@given(_AMOUNTS, _AMOUNTS, st.integers(0, 10_000_000), st.integers(-4, 4))
def test_the_rules_of_the_standard_hold_for_any_lines(lines, adjustments, paid, rounding):
    """EN 16931 BR-CO-10, -13, -14, -15, -16 and -17."""
    totals = total(lines, adjustments, paid=paid, rounding=rounding)
    assert totals.lines == sum(a.net for a in lines)
    assert totals.without_tax == totals.lines + totals.adjustments
    assert totals.tax == sum(g.tax for g in totals.groups)
    assert totals.with_tax == totals.without_tax + totals.tax
    assert totals.due == totals.with_tax - paid + rounding
    assert sum(g.base for g in totals.groups) == totals.without_tax
    for group in totals.groups:
        exact = Decimal(group.base) * group.tax_kind.percent / 100
        assert group.tax == int(exact.quantize(Decimal(1), ROUND_HALF_UP))


@given(
    st.permutations([Amount(n * 37 + 1, t) for n, t in enumerate([_SIX, _TEN, _SIX, _TWENTY_ONE, NO_TAX])])
)
def test_the_order_of_the_lines_does_not_matter(lines):
    assert total(lines) == total(sorted(lines, key=lambda a: a.net))


def test_a_bill_and_its_mirror_come_to_nothing():
    lines = [Amount(12345, _SIX), Amount(999, _TWENTY_ONE)]
    mirrored = [Amount(-a.net, a.tax) for a in lines]
    assert total(lines).with_tax + total(mirrored).with_tax == 0


@pytest.mark.parametrize("percent", [Decimal(-1), Decimal("100.01")])
def test_a_tax_rate_lies_between_nothing_and_everything(percent):
    with pytest.raises(Problem, match="between 0 and 100") as told:
        Tax("S", percent)
    assert told.value.field == "percent"


def test_floats_are_refused_for_money_and_rates():
    with pytest.raises(TypeError, match="never a float"):
        Tax("S", 8.875)
    with pytest.raises(TypeError, match="never a float"):
        round_half_up(1.5)


@given(st.decimals(-(10**9), 10**9, places=4))
def test_half_is_rounded_away_from_zero_like_decimal_does(value):
    expected = int(value.quantize(Decimal(1), rounding=ROUND_HALF_UP))
    assert round_half_up(value) == expected
    assert round_half_up(Fraction(value)) == expected
    assert round_half_up(-value) == -expected


@pytest.mark.parametrize(
    ("value", "rounded"), [("2.5", 3), ("-2.5", -3), ("0.49999", 0), ("0.5", 1), ("-0.5", -1)]
)
def test_halves_go_up(value, rounded):
    assert round_half_up(Decimal(value)) == round_half_up(Fraction(value)) == rounded


@given(st.integers(-(10**9), 10**9), st.lists(st.integers(0, 1000), min_size=1, max_size=12))
def test_what_is_shared_out_adds_up_and_each_share_is_within_a_cent(whole, weights):
    parts = share(whole, weights)
    assert sum(parts) == whole
    even = weights if any(weights) else [1] * len(weights)
    for part, weight in zip(parts, even, strict=True):
        assert abs(part - Fraction(whole * weight, sum(even))) < 1


def test_sharing_over_nothing_or_by_less_than_nothing_is_a_bug():
    for weights in ([], [1, -1]):
        with pytest.raises(ValueError, match=r"nothing to share|negative"):
            share(100, weights)


@given(st.integers(0, 100_000), st.integers(0, 100_000))
def test_minutes_at_an_hourly_rate_are_rounded_once(minutes, rate):
    exact = Decimal(minutes) * rate / 60
    assert abs(for_minutes(minutes, rate) - exact) <= Decimal("0.5")
    assert for_minutes(60, rate) == rate


def test_percentages_of_an_amount_are_rounded_once():
    assert (marked_up(333, 15), part_of(333, 15), part_of(10, 25), marked_up(100, 0)) == (383, 50, 3, 100)


def test_an_unknown_currency_is_a_sentence():
    assert (decimals("USD"), decimals("JPY")) == (2, 0)
    with pytest.raises(Problem, match="XYZ is not known"):
        decimals("XYZ")


def test_a_spread_is_in_order_and_adds_up():
    assert Spread(1, 2, 4).times(3).plus(NOTHING) == Spread(3, 6, 12)
    with pytest.raises(ValueError, match="not in order"):
        Spread(2, 1, 3)
