from dataclasses import replace

import pytest
from gas_tables import DRILLS, GASES, NATURAL, PROPANE, inches
from hypothesis import given
from hypothesis import strategies as st

from shopdesk import paths
from shopdesk.domain.gas import elevation
from shopdesk.domain.gas.cautions import read_also_changes, read_gas_cautions
from shopdesk.domain.gas.conversion import (
    Spud,
    convert,
    elevation_note,
    exact_diameter_in,
    total_input_btuh,
    warning,
)
from shopdesk.domain.gas.drills import Drill
from shopdesk.domain.gas.orifice import Feed, flow_cfh
from shopdesk.domain.problem import Problem

feeds = st.builds(
    Feed,
    gravity=st.floats(0.4, 2.1),
    pressure_inwc=st.floats(2, 14),
    heating_value_btuft3=st.floats(400, 3300),
    coefficient=st.floats(0.7, 0.95),
    elevation_ft=st.floats(0, 10_000),
)


@given(st.floats(0.02, 0.2), feeds, feeds)
def test_there_and_back_returns_the_hole_before_rounding(hole: float, one: Feed, other: Feed) -> None:
    there = exact_diameter_in(hole, one, other)
    assert exact_diameter_in(there, other, one) == pytest.approx(hole, rel=1e-9)


@given(st.sampled_from([d for d in DRILLS if 0.03 < d.diameter_in < 0.12]), st.floats(0, 9000))
def test_after_rounding_it_is_the_drill_nearest_in_input(drill: Drill, feet: float) -> None:
    there = replace(PROPANE, elevation_ft=feet)
    (change,) = convert([Spud("front", drill.diameter_in)], NATURAL, there, DRILLS)
    should = change.rated_btuh * elevation.permitted_share(feet)
    misses = [abs(flow_cfh(d.diameter_in, there) * 2516 - should) for d in DRILLS]
    got = change.choice.chosen.input_btuh
    assert got is not None
    assert abs(got - should) == pytest.approx(min(misses), abs=1e-6)


def test_natural_gas_to_propane_keeps_the_input_with_a_smaller_spud() -> None:
    spuds = [Spud("front left", inches("46")), Spud("oven", inches("40"))]
    changes = convert(spuds, NATURAL, PROPANE, DRILLS)
    assert [c.work for c in changes] == ["buy", "buy"]
    for change in changes:
        assert change.choice.chosen.input_btuh == pytest.approx(change.rated_btuh, rel=0.1)
    assert total_input_btuh(changes) == pytest.approx(sum(c.rated_btuh for c in changes))
    back = convert([Spud("oven", changes[1].choice.exact_diameter_in)], PROPANE, NATURAL, DRILLS)
    assert back[0].choice.chosen.drill.size == "40"
    assert back[0].work == "drill"


def test_the_same_gas_keeps_its_spud_and_warns_of_nothing() -> None:
    (change,) = convert([Spud("oven", inches("40"))], NATURAL, NATURAL, DRILLS)
    assert change.work == "keep"
    assert warning(change, "natural gas") is None


def test_a_burner_drilled_for_town_gas_is_warned_of_in_figures_on_natural_gas() -> None:
    town = Feed(gravity=0.60, pressure_inwc=3.5, heating_value_btuft3=530)
    (change,) = convert([Spud("oven", inches("30"))], town, NATURAL, DRILLS)
    assert change.unchanged_ratio == pytest.approx(1000 / 530)
    said = str(warning(change, "natural gas"))
    assert f"{change.unchanged_btuh:,.0f} Btu/h instead of {change.rated_btuh:,.0f}" in said
    assert "1.89 times as much" in said
    assert "carbon monoxide" in said


def test_a_burner_that_would_starve_is_warned_of_too() -> None:
    (change,) = convert([Spud("oven", inches("55"))], PROPANE, NATURAL, DRILLS)
    assert "starve" in str(warning(change, "natural gas"))


def test_the_elevation_is_said_only_where_the_code_takes_something() -> None:
    assert elevation_note(NATURAL) is None
    note = elevation_note(replace(NATURAL, elevation_ft=5000))
    assert note is not None
    assert "leaves 80 %" in str(note)


def test_converting_needs_burners_and_heating_values() -> None:
    with pytest.raises(Problem, match="no burner to convert"):
        convert([], NATURAL, PROPANE, DRILLS)
    unknown = replace(NATURAL, heating_value_btuft3=None)
    for one, other in ((unknown, NATURAL), (NATURAL, unknown)):
        with pytest.raises(Problem, match="heating value of both gases"):
            convert([Spud("oven", 0.08)], one, other, DRILLS)


def test_every_gas_has_a_list_of_what_else_changes_and_the_caution_says_lp_sinks() -> None:
    also = read_also_changes(paths.resource("gas", "conversion.toml"))
    assert {gas.family for gas in GASES.values()} == set(also)
    caution = read_gas_cautions(paths.resource("gas", "cautions.toml"))["convert"]
    assert "sink" in caution.text
    assert "code may forbid" in caution.text
    assert "licensed gas fitter decides" in caution.defer_to
