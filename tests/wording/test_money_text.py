"""Amounts as text and back, against Babel and Python's decimal."""

import contextlib
from decimal import ROUND_HALF_UP, Decimal

import pytest
from babel.numbers import format_currency, format_decimal
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.money import Spread, decimals
from shopdesk.domain.problem import Problem
from shopdesk.wording import Region

US = Region()
GERMAN = Region("de_DE", "EUR", "metric", "a4", "Europe/Berlin")
FRENCH = Region("fr-FR", "EUR", "metric", "a4", "Europe/Paris")
SWISS = Region("de_CH", "CHF", "metric", "a4", "Europe/Zurich")
YEN = Region(currency="JPY")
REGIONS = st.sampled_from([US, GERMAN, FRENCH, SWISS, YEN])
CENTS = st.integers(min_value=-(10**11) + 1, max_value=10**11 - 1)


@given(REGIONS, CENTS)
def test_what_is_written_agrees_with_babel(region: Region, cents: int) -> None:
    units = Decimal(cents) / 10 ** decimals(region.currency)
    assert region.money(cents) == format_currency(units, region.currency, locale=region.locale)


@given(REGIONS, CENTS)
def test_what_is_written_is_read_back(region: Region, cents: int) -> None:
    assert region.parse_money(region.money(cents), negative=True) == cents
    assert region.parse_money(region.amount(cents), negative=True) == cents


@given(CENTS)
def test_whole_amounts_round_half_up_as_decimal_does(cents: int) -> None:
    units = (Decimal(cents) / 100).quantize(Decimal(1), ROUND_HALF_UP)
    expected = format_decimal(abs(units), format="#,##0", locale="en_US")
    assert US.money_whole(cents).replace("-", "") == f"${expected}"


@pytest.mark.parametrize(
    ("typed", "cents"),
    [("1,234.50", 123450), ("1234.5", 123450), ("$12", 1200), ("12 USD", 1200), ("usd 12", 1200),
     (".5", 50), ("12.", 1200), ("0", 0), ("1.500", 150), (" 1 234.50 ", 123450), ("$ 1,000,000", 100000000),
     ("-0", 0)],
)  # fmt: skip
def test_amounts_as_people_type_them(typed: str, cents: int) -> None:
    assert US.parse_money(typed) == cents


@pytest.mark.parametrize(
    "typed",
    ["", " ", "$", ".", "1.2.3", "-0.01", "($5)", "1,23", "1,5", "12,34.5", "1.234,50", "1e5", "0x10", "nan",
     "1.005", "9" * 12, "twelve", "12 EUR", "--5", "٣", "5-", "1_000"],
)  # fmt: skip
def test_what_is_no_amount_is_refused_with_a_sentence(typed: str) -> None:
    with pytest.raises(Problem) as refused:
        US.parse_money(typed, field="price")
    assert refused.value.field == "price"
    assert str(refused.value).endswith(".")


@given(st.text(max_size=12))
def test_any_text_is_an_amount_or_a_problem(typed: str) -> None:
    with contextlib.suppress(Problem):
        assert isinstance(GERMAN.parse_money(typed, negative=True), int)


def test_a_negative_is_read_only_where_allowed() -> None:
    assert US.parse_money("-0.01", negative=True) == -1
    assert US.parse_money("(12.50)", negative=True) == -1250
    assert US.parse_money("−$3", negative=True) == -300


def test_each_locale_reads_its_own_marks() -> None:
    assert GERMAN.parse_money("1.234,50 €") == 123450
    assert FRENCH.parse_money("1 234,5") == 123450
    assert SWISS.parse_money("1'234.50") == 123450
    assert YEN.parse_money("1,234") == 1234
    with pytest.raises(Problem, match="more decimals"):
        YEN.parse_money("1.5")


def test_a_spread_shows_its_ends_and_a_certain_figure_stands_alone() -> None:
    assert US.money_range(Spread(90000, 120000, 180049)) == "$1,200 ($900–$1,800)"
    assert US.money_range(Spread(5000, 5000, 5000)) == "$50"


def test_floats_are_refused() -> None:
    with pytest.raises(TypeError):
        US.money(12.5)  # type: ignore[arg-type]
