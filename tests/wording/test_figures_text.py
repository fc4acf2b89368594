"""Hours, days, rates and measures as text and back."""

from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from babel.dates import format_date
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem
from shopdesk.wording import Region, measures

US = Region()
GERMAN = Region("de_DE", "EUR", "metric", "a4", "Europe/Berlin")
BRITISH = Region("en_GB", "GBP", "metric", "a4", "Europe/London")


@pytest.mark.parametrize(
    ("minutes", "text"), [(0, "0 min"), (45, "45 min"), (60, "1 h"), (90, "1 h 30 min"), (-90, "−1 h 30 min")]
)
def test_minutes_are_written_in_hours(minutes: int, text: str) -> None:
    assert US.hours(minutes) == text


@given(st.integers(min_value=0, max_value=10_000 * 60))
def test_hours_written_are_read_back(minutes: int) -> None:
    assert US.parse_minutes(US.hours(minutes)) == minutes


@pytest.mark.parametrize(
    ("typed", "minutes"),
    [("1:30", 90), ("1.5h", 90), ("90m", 90), ("1,5", 90), ("2", 120), ("1h30", 90), ("1 h 30 min", 90),
     ("0:05", 5), (".25", 15), ("90 minutes", 90), ("1.33", 80), ("2 Hours", 120)],
)  # fmt: skip
def test_times_as_people_type_them(typed: str, minutes: int) -> None:
    assert US.parse_minutes(typed) == minutes


@pytest.mark.parametrize("typed", ["", "x", "1:75", "-1", "1:3", "1h90", "1.2.3", "99999", "h", "1e3"])
def test_what_is_no_time_is_refused(typed: str) -> None:
    with pytest.raises(Problem):
        US.parse_minutes(typed, field="hours")


def test_a_range_of_hours_stays_a_range() -> None:
    assert US.hours_range(Spread(900, 1680, 2700)) == "28 h (15–45)"
    assert US.hours_range(Spread(60, 150, 240)) == "2.5 h (1–4)"
    assert GERMAN.hours_range(Spread(60, 150, 240)) == "2,5 h (1–4)"
    assert US.hours_range(Spread(20, 40, 90)) == "40 min (20–90)"
    assert US.hours_range(Spread(60, 60, 60)) == "1 h"


@pytest.mark.parametrize(
    ("region", "typed"),
    [(US, "11/25/2026"), (US, "11/25/26"), (US, "Nov 25, 2026"), (US, "25 november 2026"), (US, "2026-11-25"),
     (GERMAN, "25.11.2026"), (GERMAN, "25. Nov 26"), (BRITISH, "25/11/2026"), (BRITISH, "2026-11-25")],
)  # fmt: skip
def test_days_as_people_type_them(region: Region, typed: str) -> None:
    assert region.parse_day(typed) == date(2026, 11, 25)


@given(st.dates(date(1970, 1, 1), date(2199, 12, 31)), st.sampled_from([US, GERMAN, BRITISH]))
def test_days_written_are_read_back_and_agree_with_babel(value: date, region: Region) -> None:
    assert region.parse_day(region.day(value)) == value
    assert region.parse_day(region.day_long(value)) == value
    assert region.day_long(value) == format_date(value, "long", locale=region.locale)


@pytest.mark.parametrize(
    ("typed", "why"),
    [("1899-05-01", "1899"), ("12/31/1969", "1969"), ("2026-02-30", "no such day"), ("soon", "not a date"),
     ("", "not a date"), ("25/11/2026", "no such day"), ("Ja 5 2026", "not a date"), ("9999-01-01", "9999")],
)  # fmt: skip
def test_what_is_no_day_is_refused(typed: str, why: str) -> None:
    with pytest.raises(Problem, match=why):
        US.parse_day(typed, field="promised")


def test_instants_show_on_the_clock_of_the_shop() -> None:
    late = datetime(2026, 11, 26, 1, 30, tzinfo=UTC)
    assert US.local_day(late) == date(2026, 11, 25)
    assert US.instant(late) == "Nov 25, 2026, 5:30\u202fPM"
    assert GERMAN.instant(late) == "26.11.2026, 02:30"
    with pytest.raises(TypeError):
        US.instant(datetime(2026, 11, 26))  # noqa: DTZ001 - a naive one is the point


def test_rates_are_decimals() -> None:
    assert US.percent(Decimal("8.25")) == "8.25%"
    assert GERMAN.percent(Decimal(7)) == "7\u00a0%"
    assert US.parse_percent("8.25 %") == Decimal("8.25")
    assert GERMAN.parse_percent("8,25") == Decimal("8.25")
    for typed in ("700", "-1", "lots", "NaN"):
        with pytest.raises(Problem):
            US.parse_percent(typed)
    with pytest.raises(TypeError):
        US.percent(8.25)  # type: ignore[arg-type]


def test_measures_are_shown_in_the_units_of_the_shop() -> None:
    assert [US.length(36.5), US.length(0.125), US.length(0), US.length(40)] == [
        "36 1/2\u00a0in", "1/8\u00a0in", "0\u00a0in", "40\u00a0in"]  # fmt: skip
    assert GERMAN.length(40) == "1.016\u00a0mm"
    assert (US.weight(450), GERMAN.weight(450)) == ("450\u00a0lb", "204\u00a0kg")
    assert (US.temperature(350), GERMAN.temperature(350)) == ("350\u00a0°F", "177\u00a0°C")
    # 1 in w.c. is 249.089 Pa (NIST SP 811, conventional water at 4 °C: 249.1).
    assert (US.pressure(4), GERMAN.pressure(4)) == ("4.0\u00a0in w.c.", "9,96\u00a0mbar")
    assert (US.heat(9000), GERMAN.heat(9000)) == ("9,000\u00a0Btu/h", "2,64\u00a0kW")


@given(st.floats(min_value=0, max_value=900))
def test_metric_readings_are_kept_in_us_units(value: float) -> None:
    for kind in (measures.TEMPERATURE, measures.PRESSURE, measures.WEIGHT, measures.LENGTH, measures.HEAT):
        assert kind.to_us(kind.to_metric(value)) == pytest.approx(value, abs=1e-9)


def test_typed_readings() -> None:
    assert US.parse_measured("3.5 in w.c.", measures.PRESSURE) == 3.5
    assert GERMAN.parse_measured("177 °C", measures.TEMPERATURE) == pytest.approx(350.6)
    for typed in ("inf", "", "3..5", "NaN"):
        with pytest.raises(Problem):
            US.parse_number(typed, field="reading")


@pytest.mark.parametrize(
    "wrong",
    [{"language": "qq_ZZ"}, {"currency": "XXQ"}, {"timezone": "Mars/Base"}, {"timezone": "../etc"},
     {"units": "furlongs"}, {"paper": "a5"}],
)  # fmt: skip
def test_a_region_that_cannot_be_is_refused(wrong: dict[str, str]) -> None:
    with pytest.raises(Problem):
        Region(**wrong)  # type: ignore[arg-type]
