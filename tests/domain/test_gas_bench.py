import math
from itertools import pairwise
from pathlib import Path

import pytest
from gas_tables import DRILLS, GASES, inches, published
from hypothesis import given
from hypothesis import strategies as st

from shopdesk import paths
from shopdesk.domain import units
from shopdesk.domain.gas.cautions import read_gas_cautions
from shopdesk.domain.gas.drills import find, read_drills
from shopdesk.domain.gas.gases import find_gas, read_gases
from shopdesk.domain.gas.meter import clock, percent_of_plate
from shopdesk.domain.gas.supply import under_load
from shopdesk.domain.gas.wobbe import wobbe_btuft3
from shopdesk.domain.measured import Result
from shopdesk.domain.problem import Problem


def test_the_drill_table_has_every_size_in_rising_diameter() -> None:
    # Number sizes 80 to 1 and letters A to Z; five independent public lists agree.
    assert [d.size for d in DRILLS] == [str(n) for n in range(80, 0, -1)] + list("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    assert all(a.diameter_in < b.diameter_in for a, b in pairwise(DRILLS))
    known = {
        "80": 0.0135,
        "60": 0.04,
        "54": 0.055,
        "30": 0.1285,
        "1": 0.228,
        "A": 0.234,
        "E": 0.25,
        "Z": 0.413,
    }
    assert {size: inches(size) for size in known} == known


@pytest.mark.parametrize("written", ["50", "#50", "No. 50", " 50 "])
def test_a_drill_is_found_however_it_is_written(written: str) -> None:
    assert find(DRILLS, written).diameter_in == 0.07


@pytest.mark.parametrize(
    ("written", "near"), [("81", "80"), ("0", "1"), ("1/16", "52"), (".07", "50"), ("AB", "A"), ("", "Z")]
)
def test_a_drill_that_does_not_exist_suggests_the_nearest(written: str, near: str) -> None:
    with pytest.raises(Problem, match=rf"There is no drill .* The nearest is {near} \("):
        find(DRILLS, written)


def test_a_broken_drill_table_is_named_with_its_row(tmp_path: Path) -> None:
    table = tmp_path / "drills.csv"
    table.write_text("size,diameter_in\n80,0.0135\n79,wide\n", encoding="utf-8")
    with pytest.raises(Problem, match=r"drills\.csv, row 2"):
        read_drills(table)
    table.write_text("size,diameter_in\n", encoding="utf-8")
    with pytest.raises(Problem, match="has no rows"):
        read_drills(table)


def test_a_broken_gas_table_is_named_with_its_gas_and_entry(tmp_path: Path) -> None:
    table = tmp_path / "gases.toml"
    whole = paths.resource("gas", "gases.toml").read_text(encoding="utf-8")
    table.write_text(whole.replace("gravity = 1.52", 'gravity = "heavy"'), encoding="utf-8")
    with pytest.raises(Problem, match=r"gases\.toml, the gas propane needs gravity"):
        read_gases(table)
    table.write_text("[natural", encoding="utf-8")
    with pytest.raises(Problem, match="cannot be read"):
        read_gases(table)
    with pytest.raises(Problem, match="natural, propane, butane, town"):
        find_gas(GASES, "acetylene")


def test_a_caution_without_its_text_is_named(tmp_path: Path) -> None:
    table = tmp_path / "cautions.toml"
    table.write_text('[co]\nname = "Carbon monoxide"\ntext = "Open a window."\n', encoding="utf-8")
    with pytest.raises(Problem, match="co needs defer_to"):
        read_gas_cautions(table)


def test_no_caution_calls_anything_safe() -> None:
    for name in ("cautions.toml", "conversion.toml"):
        text = paths.resource("gas", name).read_text(encoding="utf-8").lower()
        assert " safe " not in text
        assert " safe." not in text


@pytest.mark.parametrize(("code", "name"), [("propane", "propane"), ("butane", "butane")])
def test_heating_value_and_gravity_agree_with_a_property_library(code: str, name: str) -> None:
    chemicals = pytest.importorskip("chemicals", reason="chemicals is a test-time library")
    from chemicals.combustion import combustion_data

    cas = chemicals.CAS_from_any(name)
    formula = {"propane": "C3H8", "butane": "C4H10"}[name]
    burnt = combustion_data(formula=formula, MW=chemicals.MW(cas), Hf=chemicals.Hfg(cas))
    cubic_feet = 8.314462618 * 288.7056 / 101325 / units.M3_PER_FT3  # ideal gas, 60 °F, 14.696 psia
    assert GASES[code].heating_value_btuft3 == pytest.approx(
        -burnt.HHV / units.J_PER_BTU / cubic_feet, rel=0.002
    )
    assert GASES[code].gravity == pytest.approx(chemicals.MW(cas) / 28.9647, rel=0.002)


def test_gravities_agree_with_the_densities_of_a_second_library() -> None:
    coolprop = pytest.importorskip("CoolProp.CoolProp", reason="CoolProp is a test-time library")
    # At a hundredth of an atmosphere the gases are ideal, as the table's figures are.
    air = coolprop.PropsSI("D", "T", 288.7056, "P", 1013.25, "Air")
    for code, name in (("propane", "Propane"), ("butane", "n-Butane")):
        gas = coolprop.PropsSI("D", "T", 288.7056, "P", 1013.25, name)
        assert GASES[code].gravity == pytest.approx(gas / air, rel=0.002)


def test_gases_heavier_than_air_are_known_to_sink() -> None:
    assert {code for code, gas in GASES.items() if gas.sinks} == {"propane", "butane"}


@pytest.mark.parametrize(("heat", "gravity", "index"), [(1000, 0.60, 1290.99), (2516, 1.52, 2040.75)])
def test_wobbe_index_by_its_definition(heat: float, gravity: float, index: float) -> None:
    # ISO 6976: W = Hs / sqrt(d).
    assert wobbe_btuft3(heat, gravity) == pytest.approx(index, abs=0.005)


@pytest.mark.parametrize("row", published("meter_clock.csv"), ids=lambda r: "-".join(r.values()))
def test_the_published_meter_table_comes_out(row: dict[str, str]) -> None:
    clocked = clock(float(row["dial_cuft"]), float(row["seconds_per_rev"]))
    assert math.floor(clocked.rate_cfh + 0.5) == int(row["cfh_published"])


def test_a_half_foot_dial_in_22_seconds() -> None:
    clocked = clock(0.5, 22)
    assert clocked.rate_cfh == pytest.approx(81.82, abs=0.005)
    assert clocked.doubt_cfh == pytest.approx(81.82 / 44, abs=0.005)
    assert clock(0.5, 44, turns=2).rate_cfh == pytest.approx(clocked.rate_cfh)
    assert percent_of_plate(clocked.input_btuh(1000), 81_818.18) == pytest.approx(0, abs=0.001)


@pytest.mark.parametrize("seconds", [0.0, -5.0, math.nan, math.inf])
def test_no_time_cannot_be_clocked(seconds: float) -> None:
    with pytest.raises(Problem, match="cannot be clocked"):
        clock(0.5, seconds)


# ---- supply under load ---------------------------------------------------------------------


def test_supply_pressure_is_judged_by_the_stated_minimum_alone() -> None:
    assert under_load(7, 5.8, 5).result is Result.MEETS
    assert under_load(7, 4.5, 5).result is Result.DOES_NOT_MEET
    assert under_load(7, 5.8, None).result is Result.CANNOT_TELL
    assert under_load(7, 5.05, 5).result is Result.CANNOT_TELL
    assert under_load(7, 5.8, 5).drop_inwc == pytest.approx(1.2)


def test_more_than_half_a_psi_does_not_meet_whatever_the_minimum() -> None:
    judged = under_load(20, 18, 5)
    assert judged.result is Result.DOES_NOT_MEET
    assert "1/2 psi" in " ".join(map(str, judged.says))


def test_a_pressure_that_rises_under_load_is_asked_about() -> None:
    with pytest.raises(Problem, match="swapped"):
        under_load(5, 7, 4)


@given(st.floats(1, 14), st.floats(0, 1), st.floats(1, 10), st.floats(-0.99, 0.99), st.floats(-0.99, 0.99))
def test_noise_never_makes_a_failing_supply_meet(
    rest: float, share: float, least: float, one: float, other: float
) -> None:
    step = 0.1
    full = rest * share
    if under_load(rest, full, least, step).result is not Result.DOES_NOT_MEET:
        return
    noisy_rest, noisy_full = rest + one * step, max(0.0, full + other * step)
    if noisy_full <= noisy_rest + step:
        assert under_load(noisy_rest, noisy_full, least, step).result is not Result.MEETS


# ---- units ---------------------------------------------------------------------------------

PAIRS = [
    (units.inwc_to_pa, units.pa_to_inwc, "inH2O", "Pa"),
    (units.inwc_to_mbar, units.mbar_to_inwc, "inH2O", "mbar"),
    (units.psi_to_inwc, units.inwc_to_psi, "psi", "inH2O"),
    (units.ft3_to_m3, units.m3_to_ft3, "ft^3/hour", "m^3/hour"),
    (units.btuh_to_kw, units.kw_to_btuh, "Btu/hour", "kW"),
    (units.btuft3_to_mjm3, units.mjm3_to_btuft3, "Btu/ft^3", "MJ/m^3"),
    (units.f_to_c, units.c_to_f, "degF", "degC"),
    (units.f_difference_to_c, units.c_difference_to_f, "delta_degF", "delta_degC"),
    (units.in_to_mm, units.mm_to_in, "inch", "mm"),
    (units.ft_to_m, units.m_to_ft, "foot", "m"),
]


@pytest.mark.parametrize(("there", "back", "one", "other"), PAIRS, ids=[f"{p[2]}-{p[3]}" for p in PAIRS])
def test_units_agree_with_a_library_of_units(there, back, one, other) -> None:
    pint = pytest.importorskip("pint", reason="pint is a test-time library")
    registry = pint.UnitRegistry()
    for value in (0.5, 7.0, 350.0):
        theirs = registry.Quantity(value, one).to(other).magnitude
        assert there(value) == pytest.approx(theirs, rel=1e-6)
        assert back(there(value)) == pytest.approx(value, rel=1e-12)


def test_the_atmosphere_is_406_782_inches_of_water() -> None:
    assert pytest.approx(406.782, abs=0.0005) == units.ATMOSPHERE_INWC
    # A trade figure: 1 psi = 27.684 in w.c., which is within 0.02 % of the conventional inch of water.
    assert units.psi_to_inwc(1) == pytest.approx(27.684, rel=2e-4)
