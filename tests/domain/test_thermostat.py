import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.measured import Result
from shopdesk.domain.oven_log import MOST_ROWS, cycles_in, read_log
from shopdesk.domain.problem import Problem
from shopdesk.domain.thermostat import (
    Cycle,
    SetPoint,
    degrees_per_turn,
    fit_dial,
    judge_thermostat,
    thermometer_error_f,
    turn_screw,
)

WORKED = [Cycle(338, 392), Cycle(336, 390), Cycle(334, 388)]


def test_the_worked_example_is_13_over_and_within() -> None:
    judged = judge_thermostat(350, WORKED)
    assert judged.mean_f == pytest.approx(363.0)
    assert judged.deviation_f == pytest.approx(13.0)
    assert judged.swing_f == pytest.approx(54)
    assert judged.result is Result.MEETS
    # Means 365, 363, 361: t(95 %, 2) 4.303 x 2 / sqrt(3).
    assert judged.doubt_f == pytest.approx(4.303 * 2 / math.sqrt(3), rel=1e-3)


def test_fewer_than_three_cycles_cannot_tell() -> None:
    judged = judge_thermostat(350, WORKED[:2])
    assert judged.result is Result.CANNOT_TELL
    assert judged.mean_f == pytest.approx(364)
    with pytest.raises(Problem, match="No cycle was recorded"):
        judge_thermostat(350, [])


@pytest.mark.parametrize(
    ("set_f", "result"),
    [
        (363.0, Result.MEETS),
        (338.0, Result.MEETS),
        (337.0, Result.DOES_NOT_MEET),
        (400.0, Result.DOES_NOT_MEET),
    ],
)
def test_25_degrees_either_way_is_accepted(set_f: float, result: Result) -> None:
    assert judge_thermostat(set_f, WORKED).result is result


def test_a_thermometer_that_reads_too_much_is_allowed_for() -> None:
    assert judge_thermostat(350, WORKED, error_f=3).deviation_f == pytest.approx(10)
    # Boiling water at 4000 ft: 204.65 °F (saturation at the standard atmosphere, CoolProp).
    assert thermometer_error_f(207.65, 4000) == pytest.approx(3, abs=0.15)
    with pytest.raises(Problem, match="Boiling water does not read"):
        thermometer_error_f(80)


@pytest.mark.parametrize("set_f", [-40.0, 0.0, 5000.0, float("nan")])
def test_a_dial_no_oven_has_gets_a_sentence(set_f: float) -> None:
    with pytest.raises(Problem, match="An oven is not set to"):
        judge_thermostat(set_f, WORKED)


def test_an_oven_at_minus_40_and_swapped_points_get_a_sentence() -> None:
    with pytest.raises(Problem, match="An oven at -40 °F does not cycle"):
        Cycle(-40, 350)
    with pytest.raises(Problem, match="wrong way round"):
        Cycle(392, 338)


@given(st.floats(250, 450), st.lists(st.floats(-0.999, 0.999), min_size=6, max_size=6), st.floats(0, 5))
def test_noise_never_makes_a_failing_oven_meet(middle: float, noise: list[float], step: float) -> None:
    cycles = [Cycle(middle - 20, middle + 20)] * 3
    if judge_thermostat(350, cycles, resolution_f=step).result is not Result.DOES_NOT_MEET:
        return
    noisy = [Cycle(c.on_f + noise[i] * step, c.off_f + noise[i + 3] * step) for i, c in enumerate(cycles)]
    assert judge_thermostat(350, noisy, resolution_f=step).result is not Result.MEETS


# ---- over the dial -------------------------------------------------------------------------


def test_offset_and_gain_with_their_doubts_agree_with_a_statistics_library() -> None:
    stats = pytest.importorskip("scipy.stats", reason="scipy is a test-time library")
    points = [SetPoint(300, 312), SetPoint(350, 366), SetPoint(400, 417), SetPoint(450, 475)]
    fit = fit_dial(points)
    theirs = stats.linregress([p.set_f - 375 for p in points], [p.mean_f for p in points])
    wide = stats.t.ppf(0.975, 2)
    assert fit.middle_f == 375
    assert fit.gain == pytest.approx(theirs.slope)
    assert fit.offset_f == pytest.approx(theirs.intercept - 375)
    assert fit.gain_doubt == pytest.approx(wide * theirs.stderr, rel=1e-3)
    assert fit.offset_doubt_f == pytest.approx(wide * theirs.intercept_stderr, rel=1e-3)


def test_a_stretched_dial_is_known_from_a_shifted_one() -> None:
    shifted = fit_dial([SetPoint(s, s + 12 + d) for s, d in ((300, 0.5), (350, -1), (400, 0.5))])
    assert not shifted.gain_off
    assert shifted.offset_f == pytest.approx(12)
    assert fit_dial([SetPoint(s, 350 + 1.2 * (s - 350)) for s in (300, 350, 400)]).gain_off
    assert fit_dial([SetPoint(300, 310), SetPoint(400, 420)]).gain_doubt is None


def test_one_setting_makes_no_line() -> None:
    for points in ([], [SetPoint(350, 360)], [SetPoint(350, 360), SetPoint(350, 362)]):
        with pytest.raises(Problem, match="two different dial settings"):
            fit_dial(points)


# ---- what to turn --------------------------------------------------------------------------


def test_the_screw_is_turned_by_what_the_shop_recorded() -> None:
    per_turn = degrees_per_turn(363, 343, 0.25)
    assert per_turn == pytest.approx(-80)
    turns, advice = turn_screw(30, per_turn)
    assert turns == pytest.approx(0.375)
    assert "0.375 of a turn the way that was recorded" in str(advice)
    back, advice = turn_screw(-20, per_turn)
    assert back == pytest.approx(-0.25)
    assert "against the way" in str(advice)


def test_the_screw_is_left_alone_within_the_doubt_or_without_a_record() -> None:
    assert turn_screw(4, -80, 5)[0] is None
    turns, advice = turn_screw(30, None)
    assert turns is None
    assert "not recorded" in str(advice)
    assert turn_screw(300, 50)[0] is None
    with pytest.raises(Problem, match="not a calibration screw's"):
        turn_screw(30, 0)
    with pytest.raises(Problem, match="teaches nothing"):
        degrees_per_turn(350, 350.2, 0.5)


# ---- a logger's file -----------------------------------------------------------------------


def oven(seconds: float) -> float:
    """An invented oven: heats up from 70 °F for 15 minutes, then swings 334 to 386 every 10 minutes."""
    if seconds < 900:
        return 70 + 290 * seconds / 900
    return 360 + 26 * math.sin((seconds - 900) * 2 * math.pi / 600)


def written(heading: str, row: str, *, step: int = 10, length: int = 5400) -> str:
    lines = [heading]
    for second in range(0, length, step):
        value = oven(second)
        clock = f"{(23 + second // 3600) % 24:02d}:{second // 60 % 60:02d}:{second % 60:02d}"
        facts = {"s": second, "m": second / 60, "f": value, "c": (value - 32) / 1.8, "clock": clock}
        lines.append(row.format(**facts))
    return "\n".join(lines)


@pytest.mark.parametrize(
    ("heading", "row"),
    [
        ("minutes,temperature_f", "{m:.4f},{f:.2f}"),
        ("Time (s),Temp (°C)", "{s},{c:.3f}"),
        ("elapsed_sec;Oven °F;note", "{s};{f:.2f};x"),
        ('"Clock time","Probe deg F"', '"{clock}","{f:.2f}"'),
        ("Date/Time\tTemperature_C", "11/25/2026 {clock}\t{c:.3f}"),
        ("\ufeffLogger 7\nserial 12\nminutes;temp_c", "{m:.4f};{c:.3f}"),
    ],
)
def test_a_loggers_file_gives_its_cycles_however_it_is_written(heading: str, row: str) -> None:
    log = read_log(written(heading, row))
    cycles = cycles_in(log)
    assert log.gaps == ()
    assert log.says == ()
    assert len(cycles) == 7
    assert judge_thermostat(350, cycles).mean_f == pytest.approx(360, abs=0.1)
    assert judge_thermostat(350, cycles).swing_f == pytest.approx(52, abs=0.3)


def test_decimal_commas_and_iso_times_are_read() -> None:
    text = written("time;temp_c", "2026-11-25T{clock};{c:.3f}", length=3590).replace(".", ",")
    assert len(cycles_in(read_log(text))) == 4


def test_the_heating_up_is_not_a_cycle() -> None:
    assert cycles_in(read_log(written("seconds,temp_f", "{s},{f:.2f}", length=900))) == ()


def test_a_gap_is_said_and_the_cycle_across_it_is_not_counted() -> None:
    lines = written("seconds,temp_f", "{s},{f:.2f}").splitlines()
    whole = len(cycles_in(read_log("\n".join(lines))))
    log = read_log("\n".join(lines[:190] + lines[225:]))
    assert len(log.gaps) == 1
    assert "Readings are missing from minute 31.3 to minute 37.3" in str(log.says[0])
    assert len(cycles_in(log)) < whole
    assert all(abs(c.mean_f - 360) < 1 for c in cycles_in(log))


def test_a_few_bad_rows_are_counted_and_left_out() -> None:
    lines = written("seconds,temp_f", "{s},{f:.2f}").splitlines()
    lines[50], lines[60], lines[70] = "500,open", "", "690,-3276"
    log = read_log("\n".join(lines))
    assert "2 rows could not be read" in str(log.says[0])
    assert len(cycles_in(log)) == 7


def test_a_file_of_two_million_rows_is_read_thinly_and_says_so() -> None:
    rows = "\n".join(f"{i * 0.0027:.4f},{oven(i * 0.0027):.2f}" for i in range(2_000_000))
    log = read_log("seconds,temp_f\n" + rows)
    assert len(log.minutes) <= MOST_ROWS
    assert "2,000,000 rows; every 20th was read" in str(log.says[0])
    assert len(cycles_in(log)) == 7


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "no readings"),
        ("seconds,temp_f", "no readings"),
        ("a,b\n1,2\n3,4", "no column of times"),
        ("seconds,temperature\n0,70\n10,71", "does not say whether"),
        ("time,temp_f\n0,70\n10,71", "without a unit"),
        ("seconds,temp_f\n" + "\n".join("10,350" for _ in range(30)), "cannot be used"),
        ("seconds,temp_f\n" + "\n".join(f"{s},-40" for s in range(30)), "cannot be used"),
    ],
)
def test_a_file_that_is_none_gets_a_sentence(text: str, sentence: str) -> None:
    with pytest.raises(Problem, match=sentence):
        read_log(text)
