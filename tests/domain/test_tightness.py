from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from shopdesk.domain.gas.dial import judge_dial
from shopdesk.domain.measured import Result
from shopdesk.domain.problem import Problem
from shopdesk.domain.tightness import Decay, corrected_end, decay_to_cfh, judge_decay

TEST = Decay(
    start_inwc=11, end_inwc=11, minutes=10, start_f=70, end_f=70, resolution_inwc=0.1, volume_cuft=0.2
)


def said(test: Decay) -> str:
    return " ".join(map(str, judge_decay(test).says))


def test_the_published_temperature_correction_comes_out() -> None:
    # UFGS 15195N: PF + 14.7 = (P1 + 14.7)(T2 + 460)/(T1 + 460); 3.0 psig from 70 to 60 °F, computed.
    assert corrected_end(3.0, 70, 60, 14.7) == pytest.approx(2.66604, abs=5e-6)


def test_one_degree_moves_a_sealed_manometer_by_about_four_fifths_of_an_inch() -> None:
    assert corrected_end(11, 70, 71, 406.782) - 11 == pytest.approx(0.79, abs=0.005)


def test_decay_becomes_a_rate_by_the_ideal_gas() -> None:
    # V (dp / 406.782)(60 / min)(520 / (T + 460)): an atmosphere lost from 1 ft³ in an hour is 1 ft³/h.
    assert decay_to_cfh(1, 406.782, 60, 60) == pytest.approx(1, rel=2e-6)
    assert decay_to_cfh(0.5, 1, 10, 70) == pytest.approx(0.5 / 406.782 * 6 * 520 / 530, rel=2e-6)


def test_no_fall_in_ten_minutes_meets_and_says_what_would_have_shown() -> None:
    judged = judge_decay(TEST)
    assert judged.result is Result.MEETS
    assert judged.corrected_drop_inwc == pytest.approx(0)
    assert judged.leak_cfh == 0
    assert judged.visible_leak_cfh is not None
    assert 0 < judged.visible_leak_cfh < 0.007
    assert "would have shown" in said(TEST)


def test_a_fall_that_is_only_the_temperature_is_said_to_be_so() -> None:
    cooled = replace(TEST, end_inwc=10.2, end_f=69)
    judged = judge_decay(cooled)
    assert judged.corrected_drop_inwc == pytest.approx(0.0118, abs=0.0005)
    assert judged.result is Result.MEETS
    assert "within temperature and resolution" in said(cooled)


def test_a_leak_hidden_by_warming_is_found() -> None:
    warmed = replace(TEST, end_inwc=11, end_f=72)
    judged = judge_decay(warmed)
    assert judged.result is Result.DOES_NOT_MEET
    assert judged.corrected_drop_inwc == pytest.approx(1.576, abs=0.005)
    assert judged.leak_cfh is not None
    assert judged.leak_cfh > 0
    assert "no leak is small" in said(warmed)


@pytest.mark.parametrize(
    ("end", "result"),
    [
        (10.9, Result.CANNOT_TELL),
        (10.7, Result.CANNOT_TELL),
        (10.5, Result.DOES_NOT_MEET),
        (5.0, Result.DOES_NOT_MEET),
        (11.5, Result.CANNOT_TELL),
    ],
)
def test_a_fall_is_judged_by_what_the_instruments_can_tell_apart(end: float, result: Result) -> None:
    assert judge_decay(replace(TEST, end_inwc=end)).result is result


def test_without_both_temperatures_nothing_can_be_told() -> None:
    for missing in (replace(TEST, start_f=None), replace(TEST, end_f=None, end_inwc=5)):
        judged = judge_decay(missing)
        assert judged.result is Result.CANNOT_TELL
        assert judged.corrected_drop_inwc is None
        assert "Both temperatures are needed" in said(missing)


def test_without_the_resolution_nothing_can_be_told_but_the_drop_is_given() -> None:
    judged = judge_decay(replace(TEST, resolution_inwc=None, end_inwc=10))
    assert judged.result is Result.CANNOT_TELL
    assert judged.corrected_drop_inwc == pytest.approx(1)
    assert judged.leak_cfh == pytest.approx(decay_to_cfh(0.2, 1, 10, 70))


def test_a_test_too_short_cannot_tell_and_says_how_long_it_takes() -> None:
    for short in (
        replace(TEST, minutes=1),
        replace(TEST, volume_cuft=5.0),
        replace(TEST, volume_cuft=None, minutes=5),
    ):
        judged = judge_decay(short)
        assert judged.result is Result.CANNOT_TELL
        assert judged.minutes_needed is not None
        assert "too short" in said(short)
        assert judge_decay(replace(short, minutes=judged.minutes_needed)).result is Result.MEETS


def test_a_coarse_manometer_thermometer_or_low_pressure_cannot_tell() -> None:
    assert "readable to 0.1" in said(replace(TEST, resolution_inwc=0.5))
    assert "thermometer" in said(replace(TEST, thermometer_f=1, volume_cuft=None))
    assert "too little to test at" in said(replace(TEST, start_inwc=2, end_inwc=2))
    for poor in (
        replace(TEST, resolution_inwc=0.5),
        replace(TEST, thermometer_f=1, volume_cuft=None),
        replace(TEST, start_inwc=2, end_inwc=2),
    ):
        assert judge_decay(poor).result is Result.CANNOT_TELL


def test_above_half_a_psi_the_controls_are_remembered() -> None:
    assert "1/2 psi" in said(replace(TEST, start_inwc=83, end_inwc=83))
    assert "1/2 psi" not in said(TEST)


def test_thinner_air_counts_for_less() -> None:
    high = judge_decay(replace(TEST, end_f=69, elevation_ft=8000)).expected_end_inwc
    low = judge_decay(replace(TEST, end_f=69)).expected_end_inwc
    assert high is not None
    assert low is not None
    assert high > low


@pytest.mark.parametrize(
    "bad",
    [
        {"minutes": 0.0},
        {"start_inwc": 0.0},
        {"start_inwc": 1e6},
        {"end_inwc": float("nan")},
        {"start_f": -40.0},
        {"end_f": 900.0},
        {"resolution_inwc": 0.0},
        {"volume_cuft": -1.0},
        {"thermometer_f": -1.0},
        {"smallest_leak_cfh": 0.0},
    ],
)
def test_readings_that_cannot_be_get_a_sentence(bad: dict[str, float]) -> None:
    with pytest.raises(Problem) as refused:
        replace(TEST, **bad)
    assert refused.value.field == next(iter(bad))
    assert str(refused.value).endswith(".")


steps = st.floats(-0.999, 0.999)


@settings(max_examples=400)
@given(
    start=st.floats(4, 90),
    fall=st.floats(2.5, 5),
    start_f=st.floats(20, 110),
    warming=st.floats(-15, 15),
    minutes=st.floats(3, 60),
    resolution=st.floats(0.005, 0.6),
    thermometer=st.floats(0.02, 1),
    volume=st.one_of(st.none(), st.floats(0.01, 3)),
    noise=st.tuples(steps, steps, steps, steps),
)
def test_noise_below_the_resolution_never_turns_a_failed_test_into_one_that_meets(
    start: float,
    fall: float,
    start_f: float,
    warming: float,
    minutes: float,
    resolution: float,
    thermometer: float,
    volume: float | None,
    noise: tuple[float, float, float, float],
) -> None:
    end_f = start_f + warming
    unseen = resolution + thermometer * (start + 406.782) / (start_f + 460)
    end = corrected_end(start, start_f, end_f, 406.782) - fall * unseen
    test = Decay(
        start_inwc=start,
        end_inwc=end,
        minutes=minutes,
        start_f=start_f,
        end_f=end_f,
        resolution_inwc=resolution,
        thermometer_f=thermometer,
        volume_cuft=volume,
    )
    assume(judge_decay(test).result is Result.DOES_NOT_MEET)
    noisy = replace(
        test,
        start_inwc=start + noise[0] * resolution,
        end_inwc=end + noise[1] * resolution,
        start_f=start_f + noise[2] * thermometer,
        end_f=end_f + noise[3] * thermometer,
    )
    assert judge_decay(noisy).result is not Result.MEETS


@given(st.floats(0.2, 2), st.floats(0.2, 2))
def test_a_larger_fall_never_judges_better(one: float, other: float) -> None:
    order = [Result.MEETS, Result.CANNOT_TELL, Result.DOES_NOT_MEET]
    less, more = sorted((one, other))
    ranks = [order.index(judge_decay(replace(TEST, end_inwc=11 - fall)).result) for fall in (less, more)]
    assert ranks[0] <= ranks[1]


# ---- by meter dial -------------------------------------------------------------------------


def test_a_dial_that_stands_still_long_enough_meets_and_says_what_it_cannot_see() -> None:
    judged = judge_dial(0.5, 5, 0)
    assert judged.result is Result.MEETS
    assert judged.visible_leak_cfh == pytest.approx(1.5 * 0.01 * 12)
    assert "does not show" in str(judged.says[-1])


def test_a_dial_that_moves_does_not_meet_and_gives_its_rate() -> None:
    judged = judge_dial(0.5, 5, 0.05)
    assert judged.result is Result.DOES_NOT_MEET
    assert judged.rate_cfh == pytest.approx(0.6)


# Minutes by dial: from memory.
@pytest.mark.parametrize(("dial", "minutes"), [(0.25, 5), (0.5, 5), (1, 7), (2, 10)])
def test_a_dial_is_watched_for_its_minutes(dial: float, minutes: float) -> None:
    assert judge_dial(dial, minutes, 0).result is Result.MEETS
    assert judge_dial(dial, minutes - 1, 0).result is Result.CANNOT_TELL


def test_a_dial_too_large_or_hardly_moved_cannot_tell() -> None:
    assert judge_dial(5, 60, 0).result is Result.CANNOT_TELL
    assert judge_dial(0.5, 5, 0.01).result is Result.CANNOT_TELL


@given(st.floats(0, 1), steps, st.floats(0.001, 0.25))
def test_noise_never_makes_a_moving_dial_stand_still(moved: float, noise: float, readable: float) -> None:
    if judge_dial(0.5, 30, moved, readable).result is Result.DOES_NOT_MEET:
        noisy = max(0.0, moved + noise * readable)
        assert judge_dial(0.5, 30, noisy, readable).result is not Result.MEETS
