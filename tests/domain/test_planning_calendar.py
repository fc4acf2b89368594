"""Working half-hours and back: opening hours, closed days, leave, waits."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.planning.calendar import Hours, OpeningHours, Week, slots_for
from shopdesk.domain.problem import Problem

FULL: Hours = ((8 * 60, 12 * 60), (13 * 60, 17 * 60))
WEEK: Week = (FULL, FULL, FULL, FULL, ((8 * 60, 12 * 60),), (), ())
MONDAY = date(2024, 3, 4)


def test_a_week_of_four_days_and_a_morning_counts_seventy_two_half_hours() -> None:
    hours = OpeningHours(MONDAY, WEEK)
    assert hours.slot_at(MONDAY, 8 * 60) == 0
    assert hours.slot_at(MONDAY, 13 * 60) == 8
    assert hours.slot_at(MONDAY + timedelta(days=7)) == 4 * 16 + 8
    assert hours.begins(8) == (MONDAY, 13 * 60)
    assert hours.begins(4 * 16 + 8) == (MONDAY + timedelta(days=7), 8 * 60)


def test_work_due_on_a_day_may_last_until_the_shop_closes() -> None:
    hours = OpeningHours(MONDAY, WEEK)
    assert hours.due_slot(MONDAY) == 16
    assert hours.done_on(16) == MONDAY
    assert hours.done_on(17) == MONDAY + timedelta(days=1)
    assert hours.due_slot(MONDAY + timedelta(days=5)) == hours.due_slot(MONDAY + timedelta(days=4))


def test_a_time_within_a_half_hour_counts_from_the_next_one() -> None:
    hours = OpeningHours(MONDAY, WEEK)
    assert [hours.slot_at(MONDAY, minute) for minute in (479, 480, 481, 510, 511)] == [0, 0, 1, 1, 2]


def test_a_closed_day_has_no_half_hours_and_a_wait_over_it_is_shorter() -> None:
    tuesday = MONDAY + timedelta(days=1)
    assert OpeningHours(MONDAY, WEEK).waiting(7) == 72
    closed = OpeningHours(MONDAY, WEEK, closed={tuesday})
    assert closed.slot_at(tuesday) == closed.slot_at(tuesday + timedelta(days=1)) == 16
    assert closed.waiting(7) == 72 - 16


def test_a_person_is_off_outside_their_week_and_on_leave() -> None:
    hours = OpeningHours(MONDAY, WEEK, days=7)
    mornings: Week = (((8 * 60, 12 * 60),),) * 4 + ((), (), ())
    assert hours.off(mornings)[:2] == ((8, 16), (24, 32))
    assert hours.off(None, leave=[(MONDAY, MONDAY + timedelta(days=1))]) == ((0, 32),)
    assert hours.off(None, extra={MONDAY: ((8 * 60, 9 * 60),)}) == ((2, 16),)


@given(slot=st.integers(0, 2000), closed=st.sets(st.integers(0, 300), max_size=20))
def test_every_half_hour_leads_to_a_time_and_back(slot: int, closed: set[int]) -> None:
    hours = OpeningHours(MONDAY, WEEK, closed={MONDAY + timedelta(days=n) for n in closed})
    day, minute = hours.begins(slot)
    assert hours.slot_at(day, minute) == slot
    assert (day - MONDAY).days not in closed


def test_minutes_fill_whole_half_hours_and_at_least_one() -> None:
    assert [slots_for(minutes) for minutes in (0, 1, 30, 31, 90)] == [1, 1, 1, 2, 3]


def test_hours_that_make_no_sense_are_refused_with_a_sentence() -> None:
    with pytest.raises(Problem, match="half-hours"):
        OpeningHours(MONDAY, (((485, 720),), (), (), (), (), (), ()))
    with pytest.raises(Problem, match="no opening hours"):
        OpeningHours(MONDAY, ((), (), (), (), (), (), ()))
    with pytest.raises(Problem, match="does not reach"):
        OpeningHours(MONDAY, WEEK, days=10).slot_at(date(2030, 1, 1))
