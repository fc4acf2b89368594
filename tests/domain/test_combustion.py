from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shopdesk.domain.combustion import ACTION, CEILING, Sample, air_free_ppm, judge_co
from shopdesk.domain.measured import Result
from shopdesk.domain.problem import Problem

OVEN = Sample(co_ppm=87, oxygen_pct=5)


def said(sample: Sample) -> str:
    return " ".join(map(str, judge_co(sample).says))


def test_the_worked_air_free_figures_come_out() -> None:
    # CO x 20.9 / (20.9 - O2): 87 ppm at 5 % is 114, read in source; 100 ppm at 15 % computed.
    assert air_free_ppm(87, 5) == pytest.approx(114.358, abs=0.0005)
    assert air_free_ppm(100, 15) == pytest.approx(354.237, abs=0.0005)
    assert air_free_ppm(40, 0) == 40


@pytest.mark.parametrize("oxygen", [20.5, 20.8, 20.9, 21.0])
def test_a_sample_that_is_room_air_is_refused(oxygen: float) -> None:
    with pytest.raises(Problem, match="the sample is room air") as refused:
        replace(OVEN, oxygen_pct=oxygen)
    assert refused.value.field == "oxygen_pct"
    with pytest.raises(Problem, match="the sample is room air"):
        air_free_ppm(10, oxygen)


@pytest.mark.parametrize(
    "bad", [{"co_ppm": -1.0}, {"co_ppm": 1e9}, {"oxygen_pct": -2.0}, {"oxygen_pct": 80.0}]
)
def test_readings_that_cannot_be_get_a_sentence(bad: dict[str, float]) -> None:
    with pytest.raises(Problem):
        replace(OVEN, **bad)


def test_a_reading_is_always_said_with_its_scale() -> None:
    assert "as measured at 5 % oxygen: 114.4 ppm air-free" in said(OVEN)
    assert "60 ppm carbon monoxide air-free" in said(Sample(co_ppm=60, scale="air-free"))


def test_under_the_action_level_meets_and_shows_both_levels() -> None:
    judged = judge_co(OVEN)
    assert judged.result is Result.MEETS
    assert judged.air_free_ppm == pytest.approx(114.358, abs=0.0005)
    assert "225 ppm" in said(OVEN)
    assert "800 ppm" in said(OVEN)
    assert {CEILING, ACTION} <= set(judged.limits)


@pytest.mark.parametrize("co", [230.0, 500.0, 790.0])
def test_meeting_only_the_ceiling_is_not_meeting(co: float) -> None:
    sample = Sample(co_ppm=co, scale="air-free")
    assert judge_co(sample).result is Result.CANNOT_TELL
    assert "clean, tune, measure again" in said(sample)


def test_above_the_ceiling_does_not_meet() -> None:
    assert judge_co(Sample(co_ppm=850, scale="air-free")).result is Result.DOES_NOT_MEET
    assert judge_co(Sample(co_ppm=300, oxygen_pct=15)).result is Result.DOES_NOT_MEET


def test_as_measured_without_oxygen_can_only_fail() -> None:
    assert judge_co(Sample(co_ppm=10)).result is Result.CANNOT_TELL
    assert "Measure both" in said(Sample(co_ppm=10))
    assert judge_co(Sample(co_ppm=900)).result is Result.DOES_NOT_MEET


def test_35_ppm_in_the_room_stops_everything() -> None:
    judged = judge_co(replace(OVEN, room_ppm=35))
    assert judged.result is Result.DOES_NOT_MEET
    text = said(replace(OVEN, room_ppm=35))
    for word in ("stop", "leave", "ventilate", "call"):
        assert word in text


def test_between_9_and_35_ppm_in_the_room_the_cause_is_looked_for() -> None:
    assert judge_co(replace(OVEN, room_ppm=12)).result is Result.CANNOT_TELL
    assert "look for the cause" in said(replace(OVEN, room_ppm=12))
    assert judge_co(replace(OVEN, room_ppm=9)).result is Result.MEETS
    assert judge_co(Sample(co_ppm=900, room_ppm=12)).result is Result.DOES_NOT_MEET


@given(
    st.floats(0, 5000),
    st.floats(0.5, 20.39),
    st.floats(0, 10),
    st.floats(-0.999, 0.999),
    st.floats(-0.999, 0.999),
)
def test_noise_never_makes_a_failing_burner_meet(
    co: float, oxygen: float, step: float, one: float, other: float
) -> None:
    sample = Sample(co_ppm=co, oxygen_pct=oxygen, resolution_ppm=step, resolution_pct=0.1)
    assume(judge_co(sample).result is Result.DOES_NOT_MEET)
    noisy = replace(sample, co_ppm=max(0.0, co + one * step), oxygen_pct=oxygen + other * 0.1)
    assert judge_co(noisy).result is not Result.MEETS


@given(st.floats(0, 5000), st.floats(0, 20.4))
def test_the_air_free_figure_is_never_below_the_measured(co: float, oxygen: float) -> None:
    assert air_free_ppm(co, oxygen) >= co * (1 - 1e-12)
