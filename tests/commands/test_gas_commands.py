import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import typer
from typer.testing import CliRunner

from shopdesk.commands.gas import gas_app, proof_app

app = typer.Typer(rich_markup_mode=None)
app.add_typer(gas_app)
app.add_typer(proof_app)


def asked(*words: str) -> dict[str, Any]:
    """The JSON answer of a command; every answer carries its caution and whom to defer to."""
    done = CliRunner().invoke(app, [*words, "--json"], catch_exceptions=False)
    assert done.exit_code == 0, done.stderr
    answer = json.loads(done.stdout)
    assert answer["caution"]
    assert answer["defer_to"]
    return answer


def refused(*words: str) -> str:
    """The one sentence a command refuses with; nothing goes to stdout."""
    done = CliRunner().invoke(app, list(words), catch_exceptions=False)
    assert done.exit_code == 2
    assert done.stdout == ""
    assert "\n" not in done.stderr.strip()
    assert done.stderr.strip().endswith((".", ")", "number"))
    return done.stderr


def test_flow_through_a_drill_in_us_units_and_in_si() -> None:
    # Block E: Fuel Gas Systems, Appendix 2: #80 at 3.5 in w.c., gravity 0.60: 0.516 ft³/h.
    us = asked(
        "gas", "flow", "--drill", "80", "--pressure-inwc", "3.5", "--gravity", "0.60", "--coefficient", "0.9"
    )
    assert us["flow_cfh"] == pytest.approx(0.516, abs=0.0005)
    assert us["input_btuh"] == pytest.approx(516, abs=0.5)
    si = asked("gas", "flow", "--diameter-mm", "0.3429", "--pressure-mbar", "8.71811185", "--gravity", "0.60")
    assert si["flow_cfh"] == pytest.approx(us["flow_cfh"])
    assert si["drill"] == "80"
    assert si["flow_m3h"] == pytest.approx(us["flow_m3h"])


def test_another_gravity_without_its_heat_gives_a_flow_and_no_input() -> None:
    # Block E, Appendix 2: #62, propane of gravity 1.50 at 11 in w.c.: 4.584 ft³/h.
    answer = asked("gas", "flow", "--diameter-in", "0.038", "--pressure-inwc", "11", "--gravity", "1.50")
    assert answer["flow_cfh"] == pytest.approx(4.584, abs=0.0005)
    assert answer["input_btuh"] is None
    assert any("--heating-value" in str(line) for line in answer["remarks"])


def test_the_drill_for_an_input_with_its_neighbours() -> None:
    # NFPA 54 Annex E, read in a reprint: 14 000 Btu/h at 900 Btu/ft³ takes a #49 at 3.5 in w.c.
    words = ("gas", "drill", "--pressure-inwc", "3.5", "--gravity", "0.60", "--heating-value", "900")
    answer = asked(*words, "--input-btuh", "14000")
    assert answer["drill"] == "49"
    assert answer["diameter_in"] == 0.073
    assert answer["wanted_cfh"] == pytest.approx(15.56, abs=0.005)
    assert answer["smaller"]["drill"] == "50"
    assert answer["larger"]["drill"] == "48"
    assert asked(*words, "--input-kw", "4.103")["drill"] == "49"


@pytest.mark.parametrize(("feet", "size"), [("1000", "46"), ("2000", "47"), ("5000", "48"), ("9000", "50")])
def test_a_sea_level_drill_becomes_the_published_one_at_an_elevation(feet: str, size: str) -> None:
    # NFPA 54 / ANSI Z223.1, Annex E, Table E.1.1(d), read in a reprint: #46.
    assert asked("gas", "drill", "--drill", "46", "--elevation-ft", feet)["drill"] == size
    metres = str(float(feet) * 0.3048)
    assert asked("gas", "drill", "--drill", "46", "--elevation-m", metres)["drill"] == size


def test_an_input_at_an_elevation_takes_the_same_drill_as_its_sea_level_size() -> None:
    words = ("--pressure-inwc", "3.5", "--gravity", "0.60", "--heating-value", "1000")
    rated = asked("gas", "flow", "--drill", "48", *words)["input_btuh"]
    answer = asked("gas", "drill", "--input-btuh", str(rated), "--elevation-ft", "5000", *words)
    assert answer["drill"] == "50"
    assert answer["wanted_btuh"] == pytest.approx(0.8 * rated)


def test_a_range_is_converted_burner_by_burner_with_everything_else_that_changes() -> None:
    burners = ("--burner", "front left=46", "--burner", "front right=46", "--burner", "oven=40")
    answer = asked("gas", "convert", "--from", "natural", "--to", "propane", *burners)
    assert [b["burner"] for b in answer["burners"]] == ["front left", "front right", "oven"]
    assert [(s["drill"], s["count"]) for s in answer["spuds"]] == [("55", 2), ("53", 1)]
    for also in ("regulator", "pilots", "bypass", "safety_shutoff", "label"):
        assert answer[also]
    assert "sink" in str(answer["caution"])
    assert "fitter decides" in str(answer["defer_to"])


def test_one_burner_answers_at_the_top_and_there_and_back_returns_the_hole() -> None:
    there = asked("gas", "convert", "--from", "natural", "--to", "butane", "--drill", "40")
    exact = str(there["exact_diameter_in"])
    back = asked("gas", "convert", "--from", "butane", "--to", "natural", "--diameter-in", exact)
    assert back["exact_diameter_in"] == pytest.approx(0.098)
    assert back["drill"] == "40"
    by_input = asked("gas", "convert", "--to", "butane", "--input-btuh", str(there["rated_btuh"]))
    assert by_input["drill"] == there["drill"]


def test_town_gas_spuds_lit_on_natural_gas_are_warned_of_in_figures() -> None:
    answer = asked("gas", "convert", "--from", "town", "--to", "natural", "--drill", "30")
    assert answer["unchanged_ratio"] > 1.5
    assert f"{answer['unchanged_btuh']:,.0f} Btu/h" in str(answer["warning"])


def test_the_meter_is_clocked() -> None:
    # A published rate table: 1/2-ft dial in 22 s, 81.82 ft³/h.
    answer = asked("gas", "clock", "--seconds", "22", "--dial-cuft", "0.5", "--input-btuh", "80000")
    assert answer["rate_cfh"] == pytest.approx(81.82, abs=0.005)
    assert answer["off_plate_pct"] == pytest.approx(2.27, abs=0.01)


def test_wobbe_index_and_supply() -> None:
    # ISO 6976: W = Hs / sqrt(d).
    wobbe = asked("gas", "wobbe", "--heating-value", "1000", "--gravity", "0.60")
    assert wobbe["wobbe_btuft3"] == pytest.approx(1290.99, abs=0.005)
    words = ("gas", "supply", "--no-flow-inwc", "7", "--full-flow-inwc", "5.8")
    assert asked(*words)["result"] == "cannot_tell"
    assert asked(*words, "--minimum-inwc", "5")["result"] == "meets"


TEST = ("proof", "tightness", "--start-inwc", "11", "--minutes", "10", "--resolution-inwc", "0.1")


def test_tightness_by_decay() -> None:
    both = ("--start-f", "70", "--end-f", "69", "--volume-cuft", "0.2")
    tight = asked(*TEST, "--end-inwc", "10.2", *both)
    assert tight["result"] == "meets"
    assert tight["corrected_drop_inwc"] == pytest.approx(0.012, abs=0.001)
    leaking = asked(*TEST, "--end-inwc", "9", *both)
    assert leaking["result"] == "does_not_meet"
    assert leaking["leak_cfh"] == pytest.approx(0.2 * 1.212 / 406.782 * 6 * 520 / 529, rel=0.001)
    assert asked(*TEST, "--end-inwc", "11")["result"] == "cannot_tell"


def test_tightness_in_si_and_by_dial() -> None:
    si = asked(
        *(
            "proof",
            "tightness",
            "--start-mbar",
            "27.4",
            "--end-mbar",
            "27.4",
            "--start-c",
            "20",
            "--end-c",
            "21",
        ),
        *("--minutes", "10", "--resolution-mbar", "0.1", "--volume-m3", "0.005"),
    )
    assert si["result"] == "does_not_meet"
    assert si["corrected_drop_mbar"] == pytest.approx((1013.25 + 27.4) / 293.15, rel=0.005)
    dial = ("proof", "tightness", "--dial-cuft", "0.5", "--minutes", "5")
    assert asked(*dial, "--moved-cuft", "0")["result"] == "meets"
    assert asked(*dial, "--moved-cuft", "0.1")["leak_cfh"] == pytest.approx(1.2)


def test_carbon_monoxide_with_its_scale() -> None:
    # 87 ppm at 5 % oxygen is 114 air-free: worked example, read in source.
    answer = asked("proof", "co", "--co-ppm", "87", "--oxygen-pct", "5")
    assert answer["co_air_free_ppm"] == pytest.approx(114.358, abs=0.0005)
    assert answer["result"] == "meets"
    assert [limit["figure"] for limit in answer["limits"]] == [800, 225, 100, 9, 35]
    assert asked("proof", "co", "--co-ppm", "500", "--air-free")["result"] == "cannot_tell"
    assert (
        asked("proof", "co", "--co-ppm", "5", "--oxygen-pct", "5", "--room-ppm", "40")["result"]
        == "does_not_meet"
    )


def test_the_room_alone_is_held_against_its_own_level() -> None:
    # 9, 10 to 34 and 35 ppm in the room: read in secondary sources.
    told = {ppm: asked("proof", "co", "--room-ppm", ppm) for ppm in ("4", "9", "20", "36")}
    results = [told[ppm]["result"] for ppm in ("4", "9", "20", "36")]
    assert results == ["meets", "meets", "does_not_meet", "does_not_meet"]
    assert told["4"]["co_air_free_ppm"] is None
    assert "nothing of any burner" in told["4"]["remarks"][-1]
    assert "stop, shut off the gas, leave, ventilate" in told["36"]["remarks"][0]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("gas drill --input-kw 3 --pressure-mbar 10 --elevation-m 1500", "At 1,500 m the code leaves 80.3 %"),
        ("gas flow --diameter-mm 1.78 --pressure-mbar 10", "A hole of 1.78 mm passes"),
        ("gas clock --dial-m3 0.01 --seconds 40 --input-kw 10", "m³/h"),
        ("gas wobbe --heating-value-mjm3 38", "Wobbe index 49.06 MJ/m³"),
        ("gas convert --diameter-mm 2 --to-heating-value-mjm3 93.7", "mm), "),
        ("gas supply --no-flow-mbar 20 --full-flow-mbar 18 --minimum-mbar 12", "from 20 with nothing lit"),
        ("proof tightness --start-mbar 30 --end-mbar 30 --minutes 10", "0.56 °C moves a sealed manometer"),
        ("proof thermostat --set-c 180 --on-off-c 170,200", "Set to 180 °C the oven comes to 185 °C"),
    ],
)
def test_what_is_asked_in_si_is_answered_in_si(words: str, says: str) -> None:
    done = CliRunner().invoke(app, words.split(), catch_exceptions=False)
    assert done.exit_code == 0, done.stderr
    answer, _, _ = done.stdout.partition("Caution:")
    assert says in answer
    for unit in ("in w.c.", "°F", " ft", "Btu", " in)"):
        assert unit not in answer


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("gas flow --diameter-mm 178", "A hole of 178 mm is not a spud's; they lie from 0.0762 to 25.4 mm."),
        ("gas flow --drill 50 --pressure-mbar 9999", "pressures lie from 0.02491 to 149.5 mbar."),
        ("proof thermostat --set-c 400 --on-off-c 170,200", "not set to 400 °C"),
        ("proof tightness --start-mbar 30 --end-mbar 99999 --minutes 10", "-996.4 to 4235 mbar."),
        ("gas drill --input-kw 900", "An input of 900 kW"),
        ("gas flow --drill 50 --pressure-mbar 9999 --elevation-ft 100", "0.01 to 60 in w.c."),
    ],
)
def test_what_is_asked_in_si_is_refused_in_si(words: str, says: str) -> None:
    assert says in refused(*words.split())


CYCLES = ("--on-off", "338,392", "--on-off", "336,390", "--on-off", "334,388")


def test_the_oven_thermostat() -> None:
    answer = asked("proof", "thermostat", "--set-f", "350", *CYCLES, "--per-turn-f", "-80")
    assert answer["mean_f"] == pytest.approx(363.0)
    assert answer["deviation_f"] == pytest.approx(13.0)
    assert answer["result"] == "meets"
    assert answer["turns"] == pytest.approx(13 / 80)
    si = asked("proof", "thermostat", "--set-c", "180", *(("--on-off-c", "175,205") * 3))
    assert si["deviation_c"] == pytest.approx(10)
    points = ("--point-f", "300,312", "--point-f", "400,415")
    assert asked("proof", "thermostat", "--set-f", "350", *CYCLES, *points)["fit"]["gain"] == pytest.approx(
        1.03
    )


def test_a_loggers_file_is_read(tmp_path: Path) -> None:
    log = tmp_path / "oven.csv"
    rows = [f"{minute},{350 + 25 * (-1) ** (minute // 5)}" for minute in range(60)]
    log.write_bytes(("minutes;temp °F\n" + "\n".join(rows).replace(",", ";")).encode("cp1252"))
    answer = asked("proof", "thermostat", "--set-f", "350", "--log", str(log))
    assert answer["mean_f"] == pytest.approx(350)
    assert answer["cycles"] == 5
    log.write_bytes("minutes,temp_f\n".encode("utf-16"))
    assert "no readings" in refused("proof", "thermostat", "--set-f", "350", "--log", str(log))
    assert "cannot be read" in refused(
        "proof", "thermostat", "--set-f", "350", "--log", str(tmp_path / "none")
    )


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("proof co --co-ppm 87 --oxygen-pct 20.9", "the sample is room air"),
        ("proof co", "Give --co-ppm, or --room-ppm"),
        ("gas clock --seconds 0 --dial-cuft 0.5", "cannot be clocked"),
        ("gas clock --seconds 10", "Give --dial-cuft."),
        ("gas flow --drill 81", "The nearest is 80"),
        ("gas flow --drill 50 --diameter-in 0.08", "Give one of the two"),
        ("gas flow", "Give --drill or --diameter-in."),
        ("gas flow --drill 50 --pressure-inwc 99999", "is not fed at"),
        ("gas flow --drill 50 --pressure-inwc 4 --pressure-mbar 10", "not both"),
        ("gas flow --drill 50 --pressure-inwc nan", "is not fed at nan"),
        ("gas flow --drill 50 --pressure-inwc four", "--pressure-inwc"),
        ("gas flow --drill 50 --gas petrol", "It has natural, propane, butane, town"),
        ("gas drill", "Give --input-btuh or --drill."),
        ("gas drill --input-btuh 9000 --drill 50", "not both"),
        ("gas drill --input-btuh 9000 --heating-value 2516", "--gravity"),
        ("gas convert --from natural --to town", "no burner to convert"),
        ("gas convert --burner 46", "NAME=DRILL"),
        ("gas flow --bogus 1", "No such option"),
        ("gas weld", "No such command"),
        ("proof thermostat --set-f -40 --on-off 338,392", "An oven is not set to -40"),
        ("proof thermostat --set-f 350 --on-off -40,392", "An oven at -40"),
        ("proof thermostat --set-f 350 --on-off 338", "two numbers"),
        ("proof thermostat --set-f 350", "No cycle was recorded"),
        ("proof tightness --start-inwc 11 --end-inwc 11 --minutes 0", "A test of 0 minutes"),
        ("proof tightness --start-inwc 11 --end-inwc 11", "Give --minutes."),
    ],
)
def test_bad_input_ends_in_one_sentence_and_exit_2(words: str, says: str) -> None:
    assert says in refused(*words.split())


@pytest.mark.parametrize(
    "words",
    [
        "gas flow --drill 50",
        "gas drill --input-btuh 9000 --elevation-ft 5000",
        "gas convert --burner oven=40",
        "gas clock --seconds 22 --dial-cuft 0.5 --input-btuh 80000",
        "gas wobbe",
        "gas supply --no-flow-inwc 7 --full-flow-inwc 6",
        "proof tightness --start-inwc 11 --end-inwc 10 --minutes 9 --start-f 70 --end-f 70",
        "proof co --co-ppm 87 --oxygen-pct 5",
        "proof thermostat --set-f 350 --on-off 338,392",
    ],
)
def test_without_json_the_answer_is_calm_sentences(words: str) -> None:
    done = CliRunner().invoke(app, words.split(), catch_exceptions=False)
    assert done.exit_code == 0
    assert "Caution: " in done.stdout
    assert "Defer to: " in done.stdout
    assert "!" not in done.stdout
    assert "{" not in done.stdout
    assert " safe" not in done.stdout.replace("safety", "").lower()
    if words.startswith("proof"):
        assert done.stdout.startswith("Result: ")


def test_a_refusal_from_a_real_process_shows_no_traceback() -> None:
    code = "from shopdesk.commands.gas import gas_app; gas_app()"
    words = ["clock", "--seconds", "0", "--dial-cuft", "1"]
    done = subprocess.run([sys.executable, "-c", code, *words], capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1
    assert "cannot be clocked" in done.stderr
