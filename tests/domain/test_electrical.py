import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.electrical import cord_ohm, judge_earth, judge_insulation, judge_polarity
from shopdesk.domain.measured import Result
from shopdesk.domain.problem import Problem


# Insulation and earth: portable-appliance test practice, read in source.
@pytest.mark.parametrize(
    ("megohm", "heating", "result"),
    [
        (1.0, False, Result.MEETS),
        (200.0, False, Result.MEETS),
        (0.995, False, Result.CANNOT_TELL),
        (0.5, False, Result.DOES_NOT_MEET),
        (0.5, True, Result.MEETS),
        (0.2, True, Result.DOES_NOT_MEET),
    ],
)
def test_insulation_is_held_against_its_limit(megohm: float, heating: bool, result: Result) -> None:
    assert judge_insulation(megohm, class_1_heating=heating).result is result


def test_insulation_at_too_low_a_voltage_can_only_fail() -> None:
    assert judge_insulation(50, volts=250).result is Result.CANNOT_TELL
    assert judge_insulation(0.1, volts=250).result is Result.DOES_NOT_MEET


@pytest.mark.parametrize(
    ("ohm", "result"),
    [(0.15, Result.MEETS), (0.205, Result.CANNOT_TELL), (0.5, Result.DOES_NOT_MEET)],
)
def test_the_earth_bond_allows_for_the_cord(ohm: float, result: Result) -> None:
    assert judge_earth(ohm, 0.1).result is result


def test_an_earth_without_the_cords_resistance_cannot_be_told() -> None:
    assert judge_earth(0.05, None).result is Result.CANNOT_TELL


def test_a_cord_has_the_resistance_of_its_copper() -> None:
    # Solid copper at 20 °C: 18 AWG 6.385, 16 AWG 4.016, 14 AWG 2.525 ohm per 1000 ft (from memory).
    for gauge, ohms in ((18, 6.385), (16, 4.016), (14, 2.525)):
        assert cord_ohm(gauge, 6) == pytest.approx(ohms * 6 / 1000, rel=0.005)


def test_polarity_names_what_is_on_the_wrong_conductor() -> None:
    right = {"shell_on_neutral": True, "switch_in_line": True, "wide_blade_neutral": True}
    assert judge_polarity(**right).result is Result.MEETS
    assert judge_polarity(**right | {"switch_in_line": None}).result is Result.CANNOT_TELL
    wrong = judge_polarity(**right | {"shell_on_neutral": False, "switch_in_line": None})
    assert wrong.result is Result.DOES_NOT_MEET
    assert "screw shell is live" in str(wrong.says[0])


@pytest.mark.parametrize("megohm", [-1.0, float("nan")])
def test_a_resistance_that_cannot_be_gets_a_sentence(megohm: float) -> None:
    with pytest.raises(Problem, match="An insulation of"):
        judge_insulation(megohm)
    with pytest.raises(Problem, match="An earth of"):
        judge_earth(-0.1, 0.1)


@given(st.floats(0, 3), st.floats(-0.999, 0.999), st.floats(0, 0.1))
def test_noise_never_makes_a_failing_wire_meet(reading: float, noise: float, step: float) -> None:
    noisy = max(0.0, reading + noise * step)
    if judge_insulation(reading, resolution_megohm=step).result is Result.DOES_NOT_MEET:
        assert judge_insulation(noisy, resolution_megohm=step).result is not Result.MEETS
    if judge_earth(reading, 0.1, resolution_ohm=step).result is Result.DOES_NOT_MEET:
        assert judge_earth(noisy, 0.1, resolution_ohm=step).result is not Result.MEETS
