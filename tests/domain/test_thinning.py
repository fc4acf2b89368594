"""Copies thin out as they grow old, and the newest and the future are never touched."""

import datetime as dt

from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.thinning import LEAST, superfluous

NOW = dt.datetime(2026, 9, 15, 18, 0, tzinfo=dt.UTC)


def back(**ago: float) -> dt.datetime:
    return NOW - dt.timedelta(**ago)


def test_an_hourly_copied_year_keeps_what_a_shop_would_look_for() -> None:
    taken = [back(hours=h) for h in range(365 * 24)]
    kept = sorted(set(taken) - superfluous(taken, NOW), reverse=True)
    ages = [(NOW - at).days for at in kept]
    assert sum(age < 2 for age in ages) == 48
    assert 27 <= sum(2 <= age < 30 for age in ages) <= 30
    assert 20 <= sum(30 <= age < 180 for age in ages) <= 24
    assert 5 <= sum(age >= 180 for age in ages) <= 8


def test_of_a_day_that_is_over_the_newest_copy_stays() -> None:
    newer = [back(hours=n) for n in range(LEAST)]
    morning, evening = back(days=5, hours=9), back(days=5, hours=2)
    assert superfluous([*newer, morning, evening], NOW) == {morning}


@given(st.lists(st.integers(-400, 10_000), max_size=80), st.integers(0, 5000))
def test_thinning_twice_thins_no_further_and_the_newest_always_stay(hours: list[int], later: int) -> None:
    taken = {back(hours=h) for h in hours}
    kept = taken - superfluous(taken, NOW)
    assert superfluous(kept, NOW) == frozenset()
    assert set(sorted(taken, reverse=True)[:LEAST]) <= kept
    assert {at for at in taken if at > NOW} <= kept
    then = NOW + dt.timedelta(hours=later)
    assert kept - superfluous(kept, then) <= kept
