"""Times of day and stretches of hours, typed and written."""

import pytest

from shopdesk.domain.problem import Problem
from shopdesk.wording.day_hours import parse_stretches, parse_time_of_day, stretches, time_of_day


@pytest.mark.parametrize(
    ("typed", "minute"),
    [("9", 540), ("9:30", 570), ("14.15", 855), ("2 pm", 840), ("12:30 PM", 750), ("12am", 0), ("0:05", 5)],
)
def test_people_type_a_time_in_many_ways(typed: str, minute: int) -> None:
    assert parse_time_of_day(typed) == minute


@pytest.mark.parametrize("typed", ["", "25", "9:75", "noon", "9:3", "-1"])
def test_what_is_no_time_is_said(typed: str) -> None:
    with pytest.raises(Problem, match="no time of day"):
        parse_time_of_day(typed, field="minute")


def test_hours_of_a_day_go_to_text_and_back() -> None:
    day = ((480, 720), (750, 990))
    assert stretches(day) == "8:00-12:00, 12:30-16:30"
    assert parse_stretches(stretches(day)) == day
    assert parse_stretches(" 8 – 12 ; 13-17 ") == ((480, 720), (780, 1020))
    assert parse_stretches("") == ()
    assert parse_stretches("22-24:00".replace("24:00", "0:00")) == ((1320, 1440),)


@pytest.mark.parametrize("typed", ["8", "8-9-10", "12-8", "8:10-9", "8-12, 11-13"])
def test_hours_that_cannot_be_are_refused(typed: str) -> None:
    with pytest.raises(Problem):
        parse_stretches(typed, field="monday")


def test_a_time_is_written_as_the_locale_does() -> None:
    assert time_of_day(13 * 60 + 30, "en_US").replace("\u202f", " ") == "1:30 PM"
    assert time_of_day(13 * 60 + 30, "de_DE") == "13:30"
