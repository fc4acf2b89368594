"""`shopdesk gas`: the gas bench from the command line. `proof_app` stands here for the one import."""

from typing import Annotated

import typer

from shopdesk.commands.answers import AsJson, OneSentence, answer, either, needed, turned
from shopdesk.commands.convert import convert
from shopdesk.commands.gas_choice import choice_facts, choice_sentences
from shopdesk.commands.gas_feed import (
    DiameterIn,
    DiameterMm,
    DrillSize,
    FeedOptions,
    GasName,
    Gravity,
    HeatingValue,
    HeatingValueMj,
    InputBtuh,
    InputKw,
    Number,
    fed,
    feed_facts,
    feed_of,
    feed_sentence,
    hole_in,
    shipped_drills,
    shipped_gases,
)
from shopdesk.commands.proof import proof_app
from shopdesk.domain.gas.conversion import elevation_note
from shopdesk.domain.gas.gases import find_gas
from shopdesk.domain.gas.meter import clock, percent_of_plate
from shopdesk.domain.gas.orifice import (
    Feed,
    choose_for_flow,
    choose_for_input,
    flow_cfh,
    heat_btuh,
    rated_cfh,
)
from shopdesk.domain.gas.supply import RATED, under_load
from shopdesk.domain.gas.wobbe import wobbe_btuft3
from shopdesk.domain.measured import Sentence, figure, figure_as, sentence
from shopdesk.domain.problem import Problem
from shopdesk.domain.quantity import Quantity
from shopdesk.domain.units import (
    btuft3_to_mjm3,
    btuh_to_kw,
    ft3_to_m3,
    in_to_mm,
    inwc_to_mbar,
    kw_to_btuh,
    m3_to_ft3,
    mbar_to_inwc,
    mjm3_to_btuft3,
)

__all__ = ["gas_app", "proof_app"]

gas_app = typer.Typer(
    cls=OneSentence,
    name="gas",
    help="The gas bench: orifices, conversion, the meter.",
    rich_markup_mode=None,
)
gas_app.command("convert")(convert)


@gas_app.command("flow")
@fed
def flow(
    drill: DrillSize = None,
    diameter_in: DiameterIn = None,
    diameter_mm: DiameterMm = None,
    *,
    fed_by: FeedOptions,
    as_json: AsJson = False,
) -> None:
    """Gas and heat through a spud."""
    drills = shipped_drills()
    diameter = needed(hole_in(drill, diameter_in, diameter_mm, drills), "--drill or --diameter-in")
    feed, named, says = feed_of(fed_by)
    cfh = flow_cfh(diameter, feed)
    heat = heat_btuh(cfh, feed)
    exact = next((d.size for d in drills if abs(d.diameter_in - diameter) < 0.00005), None)
    facts = {
        "flow_cfh": cfh,
        "flow_m3h": ft3_to_m3(cfh),
        "input_btuh": heat,
        "input_kw": turned(heat, btuh_to_kw),
        "rated_btuh": heat_btuh(rated_cfh(diameter, feed), feed),
        "drill": exact,
        "diameter_in": diameter,
        "diameter_mm": in_to_mm(diameter),
        **feed_facts(feed, named),
    }
    lines = [_passes(exact, diameter, cfh, heat), feed_sentence(feed, named), *says]
    answer(facts, lines, "bench", as_json=as_json)


def _passes(size: str | None, diameter: float, cfh: float, heat: Number) -> Sentence:
    shown = {
        "inches": figure_as(diameter, ".4f", Quantity.HOLE),
        "cfh": figure(cfh, 3, Quantity.FLOW),
        "size": size,
        "heat": figure_as(heat or 0, ",.0f", Quantity.HEAT),
    }
    if size and heat is not None:
        return sentence("Drill {size} ({inches} in) passes {cfh} ft³/h, {heat} Btu/h.", **shown)
    if size:
        return sentence("Drill {size} ({inches} in) passes {cfh} ft³/h.", **shown)
    if heat is not None:
        return sentence("A hole of {inches} in passes {cfh} ft³/h, {heat} Btu/h.", **shown)
    return sentence("A hole of {inches} in passes {cfh} ft³/h.", **shown)


@gas_app.command("drill")
@fed
def drill_for(
    input_btuh: InputBtuh = None,
    input_kw: InputKw = None,
    drill: DrillSize = None,
    diameter_in: DiameterIn = None,
    diameter_mm: DiameterMm = None,
    *,
    fed_by: FeedOptions,
    as_json: AsJson = False,
) -> None:
    """The drill for a rated input, or the drill that stands for a sea-level one at an elevation."""
    drills = shipped_drills()
    feed, named, says = feed_of(fed_by)
    wanted = either(input_btuh, input_kw, kw_to_btuh, "--input-btuh and --input-kw")
    sea_level = hole_in(drill, diameter_in, diameter_mm, drills)
    if wanted is not None and sea_level is not None:
        raise Problem("Give an input or a sea-level drill, not both.", field="input_btuh")
    if sea_level is not None:
        choice = choose_for_flow(flow_cfh(sea_level, _at_sea_level(feed)), feed, drills)
    else:
        choice = choose_for_input(needed(wanted, "--input-btuh or --drill"), feed, drills)
    note = elevation_note(feed)
    lines = [*choice_sentences(choice), feed_sentence(feed, named), *says, *([note] if note else [])]
    answer(choice_facts(choice, feed) | feed_facts(feed, named), lines, "bench", as_json=as_json)


def _at_sea_level(feed: Feed) -> Feed:
    return Feed(
        gravity=feed.gravity,
        pressure_inwc=feed.pressure_inwc,
        heating_value_btuft3=feed.heating_value_btuft3,
        coefficient=feed.coefficient,
    )


@gas_app.command("clock")
def clock_meter(
    seconds: Annotated[Number, typer.Option("--seconds", help="Time of the turns, s.")] = None,
    dial_cuft: Annotated[Number, typer.Option("--dial-cuft", help="Test dial, ft³ a turn.")] = None,
    dial_m3: Annotated[Number, typer.Option("--dial-m3", help="Test dial, m³ a turn.")] = None,
    turns: Annotated[int, typer.Option("--turns", help="Turns that were timed.")] = 1,
    gas: GasName = "natural",
    heating_value: HeatingValue = None,
    heating_value_mjm3: HeatingValueMj = None,
    input_btuh: Annotated[Number, typer.Option("--input-btuh", help="Input on the plate, Btu/h.")] = None,
    input_kw: Annotated[Number, typer.Option("--input-kw", help="Input on the plate, kW.")] = None,
    as_json: AsJson = False,
) -> None:
    """Rate and input from the meter's test dial, everything else shut off."""
    dial = needed(either(dial_cuft, dial_m3, m3_to_ft3, "--dial-cuft and --dial-m3"), "--dial-cuft")
    clocked = clock(dial, needed(seconds, "--seconds"), turns)
    named = find_gas(shipped_gases(), gas)
    given = either(
        heating_value, heating_value_mjm3, mjm3_to_btuft3, "--heating-value and --heating-value-mjm3"
    )
    heat_value = named.heating_value_btuft3 if given is None else given
    heat = clocked.input_btuh(heat_value)
    plate = either(input_btuh, input_kw, kw_to_btuh, "--input-btuh and --input-kw")
    off = None if plate is None else percent_of_plate(heat, plate)
    facts = {
        "rate_cfh": clocked.rate_cfh,
        "rate_m3h": ft3_to_m3(clocked.rate_cfh),
        "doubt_cfh": clocked.doubt_cfh,
        "input_btuh": heat,
        "input_kw": btuh_to_kw(heat),
        "plate_btuh": plate,
        "off_plate_pct": off,
        "heating_value_btuft3": heat_value,
        "gas": named.code,
    }
    text = "{rate} ft³/h (half a second is worth {doubt}), {heat} Btu/h at {value} Btu/ft³."
    lines = [
        sentence(
            text,
            rate=figure(clocked.rate_cfh, 2, Quantity.FLOW),
            doubt=figure(clocked.doubt_cfh, 2, Quantity.FLOW),
            heat=figure_as(heat, ",.0f", Quantity.HEAT),
            value=figure(heat_value, 2, Quantity.HEATING_VALUE),
        )
    ]
    if off is not None:
        lines.append(sentence("That is {off} % off the plate.", off=f"{off:+.1f}"))
    answer(facts, lines, "clock", as_json=as_json)


@gas_app.command("wobbe")
def wobbe(
    gas: GasName = "natural",
    heating_value: HeatingValue = None,
    heating_value_mjm3: HeatingValueMj = None,
    gravity: Gravity = None,
    as_json: AsJson = False,
) -> None:
    """Wobbe index of a gas: what a spud makes of it."""
    feed, named, _ = feed_of(
        FeedOptions(
            gas=gas, heating_value=heating_value, heating_value_mjm3=heating_value_mjm3, gravity=gravity
        )
    )
    heat = needed(feed.heating_value_btuft3, "--heating-value")
    index = wobbe_btuft3(heat, feed.gravity)
    facts = {
        "wobbe_btuft3": index,
        "wobbe_mjm3": btuft3_to_mjm3(index),
        "heating_value_btuft3": heat,
        "heating_value_mjm3": btuft3_to_mjm3(heat),
        "gravity": feed.gravity,
        "gas": named.code,
    }
    text = "Wobbe index {index} Btu/ft³ ({heat} Btu/ft³, gravity {gravity})."
    lines = [
        sentence(
            text,
            index=figure(index, 2, Quantity.HEATING_VALUE),
            heat=figure(heat, 2, Quantity.HEATING_VALUE),
            gravity=figure(feed.gravity),
        )
    ]
    answer(facts, lines, "bench", as_json=as_json)


@gas_app.command("supply")
def supply(
    no_flow_inwc: Annotated[Number, typer.Option(help="Inlet with nothing lit, in w.c.")] = None,
    no_flow_mbar: Annotated[Number, typer.Option(help="Inlet with nothing lit, mbar.")] = None,
    full_flow_inwc: Annotated[Number, typer.Option(help="Inlet with everything lit, in w.c.")] = None,
    full_flow_mbar: Annotated[Number, typer.Option(help="Inlet with everything lit, mbar.")] = None,
    minimum_inwc: Annotated[Number, typer.Option(help="Stated minimum inlet, in w.c.")] = None,
    minimum_mbar: Annotated[Number, typer.Option(help="Stated minimum inlet, mbar.")] = None,
    resolution_inwc: Annotated[Number, typer.Option(help="Division of the manometer, in w.c.")] = None,
    resolution_mbar: Annotated[Number, typer.Option(help="Division of the manometer, mbar.")] = None,
    as_json: AsJson = False,
) -> None:
    """Supply pressure under load, against the appliance's stated minimum inlet."""
    rest = either(no_flow_inwc, no_flow_mbar, mbar_to_inwc, "--no-flow-inwc and --no-flow-mbar")
    full = either(full_flow_inwc, full_flow_mbar, mbar_to_inwc, "--full-flow-inwc and --full-flow-mbar")
    least = either(minimum_inwc, minimum_mbar, mbar_to_inwc, "--minimum-inwc and --minimum-mbar")
    step = either(resolution_inwc, resolution_mbar, mbar_to_inwc, "--resolution-inwc and --resolution-mbar")
    judged = under_load(
        needed(rest, "--no-flow-inwc"),
        needed(full, "--full-flow-inwc"),
        least,
        0.1 if step is None else step,
    )
    facts = {
        "drop_inwc": judged.drop_inwc,
        "drop_mbar": inwc_to_mbar(judged.drop_inwc),
        "minimum_inwc": least,
        "rated_inwc": RATED.figure,
    }
    answer(facts, judged.says, "supply", as_json=as_json, result=judged.result)
