import math

import pytest
from gas_tables import DRILLS, NATURAL, inches, published
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.gas import elevation
from shopdesk.domain.gas.drills import nearest_area
from shopdesk.domain.gas.orifice import Feed, choose_for_flow, flow_cfh
from shopdesk.domain.problem import Problem


def test_at_least_29_of_the_30_published_equivalent_sizes_come_out() -> None:
    right = 0
    rows = published("orifice_altitude.csv")
    for row in rows:
        feet = float(row["elevation_ft_from"])
        hole = elevation.equivalent_diameter_in(inches(row["sea_level_size"]), feet)
        right += nearest_area(DRILLS, hole).size == row["equivalent_size_published"]
    assert len(rows) == 30
    assert right >= 29


def test_choosing_a_drill_at_an_elevation_goes_the_same_way() -> None:
    for row in published("orifice_altitude.csv"):
        feet = float(row["elevation_ft_from"])
        there = Feed(gravity=0.60, pressure_inwc=3.5, heating_value_btuft3=1000, elevation_ft=feet)
        choice = choose_for_flow(flow_cfh(inches(row["sea_level_size"]), NATURAL), there, DRILLS)
        hole = elevation.equivalent_diameter_in(inches(row["sea_level_size"]), feet)
        assert choice.exact_diameter_in == pytest.approx(hole)


def test_the_cut_counts_from_sea_level_once_over_2000_ft() -> None:
    # NFPA 54 / ANSI Z223.1, Annex E: 4 % for each 1000 ft above sea level; 3000 ft is 12 %.
    assert elevation.permitted_share(1999) == 1
    assert elevation.permitted_share(2000) == pytest.approx(0.92)
    assert elevation.permitted_share(3000) == pytest.approx(0.88)


def test_the_pressure_ratio_is_that_of_the_standard_atmosphere() -> None:
    # ISO 2533: 1000 m 898.746 hPa, 2000 m 794.952 hPa, 3000 m 701.085 hPa (from memory).
    for metres, hectopascal in ((1000, 898.746), (2000, 794.952), (3000, 701.085)):
        assert elevation.pressure_ratio(metres / 0.3048) * 1013.25 == pytest.approx(hectopascal, rel=5e-4)


def test_water_boils_lower_at_an_elevation() -> None:
    # Saturation temperature at the standard atmosphere's pressure, computed with CoolProp.
    for feet, boils in ((0, 211.95), (4000, 204.65), (8000, 197.33)):
        assert elevation.boiling_water_f(feet) == pytest.approx(boils, abs=0.15)


def test_water_boils_where_a_property_library_says() -> None:
    coolprop = pytest.importorskip("CoolProp.CoolProp", reason="CoolProp is a test-time library")
    for feet in range(0, 9000, 1000):
        pascal = 101325 * elevation.pressure_ratio(feet)
        kelvin = coolprop.PropsSI("T", "P", pascal, "Q", 0, "Water")
        assert elevation.boiling_water_f(feet) == pytest.approx(kelvin * 1.8 - 459.67, abs=0.15)


@given(st.floats(2000, 15_000), st.floats(2000, 15_000))
def test_a_higher_kitchen_never_gets_a_larger_hole(one: float, other: float) -> None:
    low, high = sorted((one, other))
    hole = elevation.equivalent_diameter_in(0.08, high)
    assert hole <= elevation.equivalent_diameter_in(0.08, low) + 1e-12
    assert hole < 0.08


@pytest.mark.parametrize("feet", [-5000.0, 40_000.0, math.nan])
def test_an_elevation_no_kitchen_has_gets_a_sentence(feet: float) -> None:
    with pytest.raises(Problem, match="An elevation of"):
        elevation.permitted_share(feet)
