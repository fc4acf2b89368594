"""`shopdesk proof thermostat`: a cycling oven from readings or from a logger's file."""

import re
from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from shopdesk.commands.answers import AsJson, answer, either, limits, needed, turned
from shopdesk.commands.gas_feed import ElevationFt, ElevationM, Number
from shopdesk.domain.measured import Sentence
from shopdesk.domain.problem import Problem
from shopdesk.domain.proof_forms.oven import fit_in_words
from shopdesk.domain.thermostat import (
    ACCEPTED,
    CYCLES,
    SWING,
    Cycle,
    DialFit,
    SetPoint,
    ThermostatAnswer,
    check_set_point,
    fit_dial,
    judge_thermostat,
    thermometer_error_f,
    turn_screw,
)
from shopdesk.domain.units import (
    c_difference_to_f,
    c_to_f,
    f_difference_to_c,
    f_to_c,
    m_to_ft,
)
from shopdesk.services import loggers


def thermostat(
    set_f: Annotated[Number, typer.Option(help="Dial setting, °F.")] = None,
    set_c: Annotated[Number, typer.Option(help="Dial setting, °C.")] = None,
    on_off: Annotated[
        list[str] | None, typer.Option("--on-off", "--on-off-f", help="ON,OFF in °F, once for every cycle.")
    ] = None,
    on_off_c: Annotated[
        list[str] | None, typer.Option("--on-off-c", help="ON,OFF in °C, once for every cycle.")
    ] = None,
    log: Annotated[Path | None, typer.Option("--log", help="The logger's csv file, instead.")] = None,
    point_f: Annotated[
        list[str] | None, typer.Option("--point-f", help="SET,MEAN of another dial setting, °F.")
    ] = None,
    point_c: Annotated[
        list[str] | None, typer.Option("--point-c", help="SET,MEAN of another dial setting, °C.")
    ] = None,
    resolution_f: Annotated[Number, typer.Option(help="Division of the thermometer, °F.")] = None,
    resolution_c: Annotated[Number, typer.Option(help="Division of the thermometer, °C.")] = None,
    boiling_f: Annotated[Number, typer.Option(help="What it reads in boiling water, °F.")] = None,
    boiling_c: Annotated[Number, typer.Option(help="What it reads in boiling water, °C.")] = None,
    elevation_ft: ElevationFt = None,
    elevation_m: ElevationM = None,
    per_turn_f: Annotated[Number, typer.Option(help="What a turn of the screw does, °F.")] = None,
    per_turn_c: Annotated[Number, typer.Option(help="What a turn of the screw does, °C.")] = None,
    as_json: AsJson = False,
) -> None:
    """Oven thermostat: mean of on and off points, deviation, and what to turn."""
    setting = check_set_point(needed(either(set_f, set_c, c_to_f, "--set-f and --set-c"), "--set-f"))
    cycles = [Cycle(on, off) for on, off in _pairs(on_off or [], "--on-off")]
    cycles += [Cycle(c_to_f(on), c_to_f(off)) for on, off in _pairs(on_off_c or [], "--on-off-c")]
    says: list[Sentence] = []
    if log is not None:
        logged = loggers.read_logger_file(log, setting)
        cycles += [Cycle(on, off) for on, off in logged.cycles]
        says += logged.says
    boiling = either(boiling_f, boiling_c, c_to_f, "--boiling-f and --boiling-c")
    feet = either(elevation_ft, elevation_m, m_to_ft, "--elevation-ft and --elevation-m") or 0.0
    error = 0.0 if boiling is None else thermometer_error_f(boiling, feet)
    step = either(resolution_f, resolution_c, c_difference_to_f, "--resolution-f and --resolution-c")
    judged = judge_thermostat(setting, cycles, error_f=error, resolution_f=step or 0.0)
    per_turn = either(per_turn_f, per_turn_c, c_difference_to_f, "--per-turn-f and --per-turn-c")
    turns, advice = turn_screw(judged.deviation_f, per_turn, judged.doubt_f)
    says = [*judged.says, *says, advice]
    points = [SetPoint(a, b) for a, b in _pairs(point_f or [], "--point-f")]
    points += [SetPoint(c_to_f(a), c_to_f(b)) for a, b in _pairs(point_c or [], "--point-c")]
    fit = fit_dial([SetPoint(setting, judged.mean_f), *points]) if points else None
    if fit:
        says.append(fit_in_words(fit))
    facts = _thermostat_facts(judged, len(cycles), error) | {"turns": turns, "fit": _fit_facts(fit)}
    answer(facts, says, "thermostat", as_json=as_json, result=judged.result)


def _pairs(texts: Sequence[str], option: str) -> list[tuple[float, float]]:
    pairs = []
    for text in texts:
        parts = [part.strip() for part in re.split(r"[,;/]", text)]
        try:
            first, second = (float(part) for part in parts)
        except ValueError:
            raise Problem(
                "{option} takes two numbers with a comma between, not “{typed}”.",
                field=option,
                option=option,
                typed=text,
            ) from None
        pairs.append((first, second))
    return pairs


def _thermostat_facts(judged: ThermostatAnswer, cycles: int, error_f: float) -> dict[str, object]:
    return {
        "mean_f": judged.mean_f,
        "mean_c": f_to_c(judged.mean_f),
        "deviation_f": judged.deviation_f,
        "deviation_c": f_difference_to_c(judged.deviation_f),
        "swing_f": judged.swing_f,
        "swing_c": f_difference_to_c(judged.swing_f),
        "doubt_f": judged.doubt_f,
        "doubt_c": turned(judged.doubt_f, f_difference_to_c),
        "cycles": cycles,
        "thermometer_error_f": error_f,
        "limits": limits((ACCEPTED, CYCLES, SWING)),
    }


def _fit_facts(fit: DialFit | None) -> dict[str, object] | None:
    if fit is None:
        return None
    return {
        "middle_f": fit.middle_f,
        "offset_f": fit.offset_f,
        "offset_doubt_f": fit.offset_doubt_f,
        "gain": fit.gain,
        "gain_doubt": fit.gain_doubt,
    }
