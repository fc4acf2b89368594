"""`shopdesk proof`: what readings amount to, from the command line."""

from typing import Annotated

import typer

from shopdesk.commands.answers import AsJson, OneSentence, answer, either, limits, needed, turned
from shopdesk.commands.gas_feed import ElevationFt, ElevationM, Number
from shopdesk.commands.thermostat import thermostat
from shopdesk.domain.combustion import Sample, judge_co
from shopdesk.domain.gas.dial import judge_dial
from shopdesk.domain.problem import Problem
from shopdesk.domain.tightness import (
    LEAST_MINUTES,
    MINUTES,
    READABLE,
    SMALLEST_LEAK,
    THERMOMETER_F,
    Decay,
    judge_decay,
)
from shopdesk.domain.units import (
    c_difference_to_f,
    c_to_f,
    ft3_to_m3,
    inwc_to_mbar,
    m3_to_ft3,
    m_to_ft,
    mbar_to_inwc,
)

proof_app = typer.Typer(
    cls=OneSentence,
    name="proof",
    help="What readings amount to: meets, does not meet, cannot tell.",
    rich_markup_mode=None,
)
proof_app.command("thermostat")(thermostat)


@proof_app.command("tightness")
def tightness(
    start_inwc: Annotated[Number, typer.Option(help="Gauge at the start, in w.c.")] = None,
    start_mbar: Annotated[Number, typer.Option(help="Gauge at the start, mbar.")] = None,
    end_inwc: Annotated[Number, typer.Option(help="Gauge at the end, in w.c.")] = None,
    end_mbar: Annotated[Number, typer.Option(help="Gauge at the end, mbar.")] = None,
    start_f: Annotated[Number, typer.Option(help="Temperature at the start, °F.")] = None,
    start_c: Annotated[Number, typer.Option(help="Temperature at the start, °C.")] = None,
    end_f: Annotated[Number, typer.Option(help="Temperature at the end, °F.")] = None,
    end_c: Annotated[Number, typer.Option(help="Temperature at the end, °C.")] = None,
    minutes: Annotated[Number, typer.Option(help="Length of the test, minutes.")] = None,
    resolution_inwc: Annotated[Number, typer.Option(help="Division of the manometer, in w.c.")] = None,
    resolution_mbar: Annotated[Number, typer.Option(help="Division of the manometer, mbar.")] = None,
    thermometer_f: Annotated[Number, typer.Option(help="Division of the thermometer, °F.")] = None,
    thermometer_c: Annotated[Number, typer.Option(help="Division of the thermometer, °C.")] = None,
    volume_cuft: Annotated[Number, typer.Option(help="Volume under test, ft³.")] = None,
    volume_m3: Annotated[Number, typer.Option(help="Volume under test, m³.")] = None,
    smallest_leak_cfh: Annotated[Number, typer.Option(help="Leak that has to show, ft³/h.")] = None,
    smallest_leak_m3h: Annotated[Number, typer.Option(help="Leak that has to show, m³/h.")] = None,
    elevation_ft: ElevationFt = None,
    elevation_m: ElevationM = None,
    dial_cuft: Annotated[Number, typer.Option(help="Instead: test dial of the meter, ft³ a turn.")] = None,
    dial_m3: Annotated[Number, typer.Option(help="Instead: test dial of the meter, m³ a turn.")] = None,
    moved_cuft: Annotated[Number, typer.Option(help="What the dial moved, ft³.")] = None,
    moved_m3: Annotated[Number, typer.Option(help="What the dial moved, m³.")] = None,
    as_json: AsJson = False,
) -> None:
    """Tightness by pressure decay with both temperatures, or by the meter's dial."""
    length = needed(minutes, "--minutes")
    dial = either(dial_cuft, dial_m3, m3_to_ft3, "--dial-cuft and --dial-m3")
    if dial is not None:
        moved = either(moved_cuft, moved_m3, m3_to_ft3, "--moved-cuft and --moved-m3")
        _by_dial(dial, length, needed(moved, "--moved-cuft"), as_json)
        return
    start = either(start_inwc, start_mbar, mbar_to_inwc, "--start-inwc and --start-mbar")
    end = either(end_inwc, end_mbar, mbar_to_inwc, "--end-inwc and --end-mbar")
    leak = either(
        smallest_leak_cfh, smallest_leak_m3h, m3_to_ft3, "--smallest-leak-cfh and --smallest-leak-m3h"
    )
    step = either(thermometer_f, thermometer_c, c_difference_to_f, "--thermometer-f and --thermometer-c")
    test = Decay(
        start_inwc=needed(start, "--start-inwc"),
        end_inwc=needed(end, "--end-inwc"),
        minutes=length,
        start_f=either(start_f, start_c, c_to_f, "--start-f and --start-c"),
        end_f=either(end_f, end_c, c_to_f, "--end-f and --end-c"),
        resolution_inwc=either(
            resolution_inwc, resolution_mbar, mbar_to_inwc, "--resolution-inwc and --resolution-mbar"
        ),
        thermometer_f=THERMOMETER_F if step is None else step,
        volume_cuft=either(volume_cuft, volume_m3, m3_to_ft3, "--volume-cuft and --volume-m3"),
        elevation_ft=either(elevation_ft, elevation_m, m_to_ft, "--elevation-ft and --elevation-m") or 0.0,
        smallest_leak_cfh=SMALLEST_LEAK.figure if leak is None else leak,
    )
    _by_decay(test, as_json)


def _by_decay(test: Decay, as_json: bool) -> None:
    judged = judge_decay(test)
    facts = {
        "corrected_drop_inwc": judged.corrected_drop_inwc,
        "corrected_drop_mbar": turned(judged.corrected_drop_inwc, inwc_to_mbar),
        "expected_end_inwc": judged.expected_end_inwc,
        "expected_end_mbar": turned(judged.expected_end_inwc, inwc_to_mbar),
        "unseen_inwc": judged.unseen_inwc,
        "unseen_mbar": turned(judged.unseen_inwc, inwc_to_mbar),
        "leak_cfh": judged.leak_cfh,
        "leak_m3h": turned(judged.leak_cfh, ft3_to_m3),
        "visible_leak_cfh": judged.visible_leak_cfh,
        "visible_leak_m3h": turned(judged.visible_leak_cfh, ft3_to_m3),
        "minutes": test.minutes,
        "minutes_needed": judged.minutes_needed,
        "limits": limits((READABLE, MINUTES, LEAST_MINUTES, SMALLEST_LEAK)),
    }
    answer(facts, judged.says, "tightness", as_json=as_json, result=judged.result)


def _by_dial(dial_cuft: float, minutes: float, moved_cuft: float, as_json: bool) -> None:
    judged = judge_dial(dial_cuft, minutes, moved_cuft)
    facts = {
        "rate_cfh": judged.rate_cfh,
        "rate_m3h": ft3_to_m3(judged.rate_cfh),
        "leak_cfh": judged.rate_cfh,
        "leak_m3h": ft3_to_m3(judged.rate_cfh),
        "visible_leak_cfh": judged.visible_leak_cfh,
        "minutes": minutes,
    }
    answer(facts, judged.says, "tightness", as_json=as_json, result=judged.result)


@proof_app.command("co")
def carbon_monoxide(
    co_ppm: Annotated[Number, typer.Option(help="Carbon monoxide, ppm.")] = None,
    oxygen_pct: Annotated[Number, typer.Option(help="Oxygen in the same sample, %.")] = None,
    air_free: Annotated[
        bool, typer.Option("--air-free/--as-measured", help="The scale of --co-ppm.")
    ] = False,
    room_ppm: Annotated[Number, typer.Option(help="Carbon monoxide in the room, ppm.")] = None,
    resolution_ppm: Annotated[float, typer.Option(help="Steps the analyser shows, ppm.")] = 1.0,
    resolution_pct: Annotated[float, typer.Option(help="Steps the analyser shows, % oxygen.")] = 0.1,
    as_json: AsJson = False,
) -> None:
    """Carbon monoxide with its scale, against the ceiling and the lower levels."""
    if co_ppm is None and room_ppm is None:
        raise Problem("Give --co-ppm, or --room-ppm for the room alone.", field="co_ppm")
    sample = Sample(
        co_ppm=co_ppm,
        scale="air-free" if air_free else "as measured",
        oxygen_pct=oxygen_pct,
        room_ppm=room_ppm,
        resolution_ppm=resolution_ppm,
        resolution_pct=resolution_pct,
    )
    judged = judge_co(sample)
    facts = {
        "co_ppm": sample.co_ppm,
        "scale": sample.scale,
        "oxygen_pct": sample.oxygen_pct,
        "co_air_free_ppm": judged.air_free_ppm,
        "doubt_ppm": judged.doubt_ppm,
        "room_ppm": sample.room_ppm,
        "limits": limits(judged.limits),
    }
    answer(facts, judged.says, "co", as_json=as_json, result=judged.result)
