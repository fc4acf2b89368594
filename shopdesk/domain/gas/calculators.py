"""The gas bench's calculators: what each asks for, and its answer in sentences.

The same fields as a proof's, so that one form serves both. Values are in US units.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from shopdesk.domain.gas.conversion import elevation_note
from shopdesk.domain.gas.drills import Drills, find
from shopdesk.domain.gas.gases import Gas, Gases, find_gas
from shopdesk.domain.gas.meter import clock, percent_of_plate
from shopdesk.domain.gas.orifice import (
    COEFFICIENT,
    Choice,
    Feed,
    Sized,
    check_diameter,
    choose_for_input,
    flow_cfh,
    heat_btuh,
)
from shopdesk.domain.gas.supply import under_load
from shopdesk.domain.gas.wobbe import wobbe_btuft3
from shopdesk.domain.measured import Result, Sentence, figure, figure_as, sentence
from shopdesk.domain.problem import Problem
from shopdesk.domain.proof_forms.asked import Asked, check_fields
from shopdesk.domain.quantity import Quantity

Values = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Reckoned:
    """An answer: sentences, the first the shortest; `result` where it is held against a limit."""

    says: tuple[Sentence, ...]
    result: Result | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Calculator:
    """`subject` is the caution that goes with it."""

    kind: str
    title: str
    asks: str
    subject: str
    fields: tuple[Asked, ...]
    reckon_values: Callable[[Values], Reckoned]

    def reckon(self, values: Values) -> Reckoned:
        """The answer; a Problem names the field that is missing or wrong."""
        check_fields(self.fields, values)
        return self.reckon_values(values)


def calculators(gases: Gases, drills: Drills) -> tuple[Calculator, ...]:
    """Flow, drill, clock, Wobbe, supply; conversion is a list of its own."""
    return (
        Calculator(
            kind="flow", title="Flow", asks="What a spud passes", subject="bench",
            fields=(*hole_fields(), *feed_fields(gases)),
            reckon_values=lambda values: _flow(values, gases, drills),
        ),
        Calculator(
            kind="drill", title="Drill", asks="The drill for a wanted input", subject="bench",
            fields=(
                Asked(name="input_btuh", label="Input on the plate", quantity=Quantity.HEAT,
                      required="Write the input that is wanted."),
                *feed_fields(gases),
            ),
            reckon_values=lambda values: _drill(values, gases, drills),
        ),
        Calculator(
            kind="clock", title="Clock", asks="Input by the meter’s test dial", subject="clock",
            fields=_clock_fields(gases), reckon_values=lambda values: _clock(values, gases),
        ),
        Calculator(
            kind="wobbe", title="Wobbe", asks="What a spud makes of a gas", subject="bench",
            fields=(gas_field(gases), *_own_gas()), reckon_values=lambda values: _wobbe(values, gases),
        ),
        Calculator(
            kind="supply", title="Supply", asks="Supply pressure under load", subject="supply",
            fields=_supply_fields(), reckon_values=_supply,
        ),
    )  # fmt: skip


# ---- fields --------------------------------------------------------------------------------


def gas_field(gases: Gases, name: str = "gas", label: str = "Gas", group: str = "") -> Asked:
    return Asked(
        name=name, label=label, kind="choice", choices=tuple((g.code, g.name) for g in gases.values()),
        required="Choose the gas.", group=group,
    )  # fmt: skip


def _own_gas(prefix: str = "") -> tuple[Asked, ...]:
    return (
        Asked(name=f"{prefix}heating_value", label="Heating value, gross", quantity=Quantity.HEATING_VALUE,
              note="Empty takes the table's."),
        Asked(name=f"{prefix}gravity", label="Gravity, air is 1"),
    )  # fmt: skip


def feed_fields(gases: Gases) -> tuple[Asked, ...]:
    return (
        gas_field(gases, group="What feeds it"),
        Asked(name="pressure_inwc", label="Pressure at the manifold", quantity=Quantity.PRESSURE,
              note="Empty takes the customary one."),
        *_own_gas(),
        Asked(name="elevation_ft", label="Elevation of the kitchen", quantity=Quantity.ELEVATION),
        Asked(name="coefficient", label="Discharge coefficient", note="Empty is the code's, 0.9."),
    )  # fmt: skip


def hole_fields() -> tuple[Asked, ...]:
    return (
        Asked(name="drill", label="Drill", kind="text", note="80 to 1, or A to Z."),
        Asked(name="diameter_in", label="or diameter of the hole", quantity=Quantity.HOLE),
    )


def _clock_fields(gases: Gases) -> tuple[Asked, ...]:
    return (
        Asked(name="dial_cuft", label="Test dial, a turn", quantity=Quantity.VOLUME,
              required="Write what a turn of the test dial is."),
        Asked(name="seconds", label="Time", quantity=Quantity.SECONDS, required="Time the turns in seconds."),
        Asked(name="turns", label="Turns timed", note="Empty is one."),
        gas_field(gases),
        Asked(name="heating_value", label="Heating value, gross", quantity=Quantity.HEATING_VALUE,
              note="Empty takes the table's."),
        Asked(name="plate_btuh", label="Input on the plate", quantity=Quantity.HEAT),
    )  # fmt: skip


def _supply_fields() -> tuple[Asked, ...]:
    pressure = Quantity.PRESSURE
    return (
        Asked(name="no_flow_inwc", label="Inlet, nothing lit", quantity=pressure,
              required="Read the inlet with nothing lit."),
        Asked(name="full_flow_inwc", label="Inlet, everything lit", quantity=pressure,
              required="Read the inlet with everything lit."),
        Asked(name="minimum_inwc", label="Least inlet the plate or maker states", quantity=pressure),
        Asked(name="resolution_inwc", label="Division of the manometer", quantity=pressure),
    )  # fmt: skip


# ---- answers -------------------------------------------------------------------------------


def feed_of(values: Values, gases: Gases, prefix: str = "", gas_name: str = "gas") -> tuple[Gas, Feed]:
    """The feed that was typed; what is empty is the gas's own, which goes together."""
    gas = find_gas(gases, values[gas_name], field=gas_name)
    heating, gravity = values.get(f"{prefix}heating_value"), values.get(f"{prefix}gravity")
    if gravity is not None and heating is None and abs(gravity / gas.gravity - 1) > 0.1:
        raise Problem(
            "A gravity of {gravity} is not that of {gas}. Give its heating value as well.",
            field=f"{prefix}heating_value", gravity=figure(gravity), gas=gas.name,
        )  # fmt: skip
    if heating is not None and gravity is None and abs(heating / gas.heating_value_btuft3 - 1) > 0.25:
        raise Problem(
            "That heating value is not {gas}'s. Give its gravity as well, or choose another gas.",
            field=f"{prefix}gravity", gas=gas.name,
        )  # fmt: skip
    pressure, coefficient = values.get(f"{prefix}pressure_inwc"), values.get("coefficient")
    feed = Feed(
        gravity=gas.gravity if gravity is None else gravity,
        pressure_inwc=gas.pressure_inwc if pressure is None else pressure,
        heating_value_btuft3=gas.heating_value_btuft3 if heating is None else heating,
        coefficient=COEFFICIENT if coefficient is None else coefficient,
        elevation_ft=values.get(f"{prefix}elevation_ft") or 0.0,
    )
    return gas, feed


def reckoned_for(gas: Gas, feed: Feed) -> Sentence:
    """What stands with every figure: a flow or an input means nothing without it."""
    return sentence(
        "Reckoned for {gas} at {heat} Btu/ft³, gravity {gravity}, {pressure} in w.c., coefficient "
        "{coefficient}, {feet} ft.",
        gas=gas.name,
        heat=figure(feed.heating_value_btuft3 or 0, 2, Quantity.HEATING_VALUE),
        gravity=figure(feed.gravity),
        pressure=figure(feed.pressure_inwc, 2, Quantity.PRESSURE),
        coefficient=figure(feed.coefficient),
        feet=figure(feed.elevation_ft, 0, Quantity.ELEVATION),
    )


def hole_of(drill: str, diameter_in: float | None, drills: Drills, field: str = "drill") -> float:
    """The hole that was given as a drill or as a diameter; a Problem names what does not exist."""
    if drill.strip() and diameter_in is not None:
        raise Problem("Give a drill or a diameter, not both.", field=field)
    if drill.strip():
        try:
            return find(drills, drill).diameter_in
        except Problem as problem:
            problem.field = field
            raise
    if diameter_in is None:
        raise Problem("Give the drill, or the diameter of the hole.", field=field)
    return check_diameter(diameter_in)


def _flow(values: Values, gases: Gases, drills: Drills) -> Reckoned:
    hole = hole_of(str(values.get("drill") or ""), values.get("diameter_in"), drills)
    gas, feed = feed_of(values, gases)
    passed = flow_cfh(hole, feed)
    told = sentence(
        "A hole of {hole} in passes {flow} ft³/h, {heat} Btu/h.",
        hole=figure_as(hole, ".4f", Quantity.HOLE),
        flow=figure(passed, 3, Quantity.FLOW),
        heat=figure_as(heat_btuh(passed, feed) or 0, ",.0f", Quantity.HEAT),
    )
    return Reckoned((told, reckoned_for(gas, feed), *_elevation(feed)))


def _drill(values: Values, gases: Gases, drills: Drills) -> Reckoned:
    gas, feed = feed_of(values, gases)
    choice = choose_for_input(values["input_btuh"], feed, drills)
    return Reckoned((*choice_in_words(choice), reckoned_for(gas, feed), *_elevation(feed)))


def choice_in_words(choice: Choice) -> tuple[Sentence, ...]:
    """The drill, and the next sizes either side with their inputs."""
    nearest = sentence(
        "Drill {size} ({inches} in) is nearest in input; the hole would be {exact} in.",
        size=choice.chosen.drill.size,
        inches=figure_as(choice.chosen.drill.diameter_in, ".4f", Quantity.HOLE),
        exact=figure_as(choice.exact_diameter_in, ".4f", Quantity.HOLE),
    )
    around = [sized for sized in (choice.smaller, choice.chosen, choice.larger) if sized]
    return (nearest, *(_sized(sized) for sized in around))


def _sized(sized: Sized) -> Sentence:
    return sentence(
        "Drill {size} passes {flow} ft³/h, {heat} Btu/h.",
        size=sized.drill.size,
        flow=figure(sized.flow_cfh, 3, Quantity.FLOW),
        heat=figure_as(sized.input_btuh or 0, ",.0f", Quantity.HEAT),
    )


def _elevation(feed: Feed) -> tuple[Sentence, ...]:
    note = elevation_note(feed)
    return (note,) if note else ()


def _clock(values: Values, gases: Gases) -> Reckoned:
    turns = values.get("turns")
    clocked = clock(values["dial_cuft"], values["seconds"], 1 if turns is None else turns)
    given = values.get("heating_value")
    heating = find_gas(gases, values["gas"]).heating_value_btuft3 if given is None else given
    heat = clocked.input_btuh(heating)
    told = sentence(
        "{rate} ft³/h (half a second is worth {doubt}), {heat} Btu/h.",
        rate=figure(clocked.rate_cfh, 2, Quantity.FLOW),
        doubt=figure(clocked.doubt_cfh, 2, Quantity.FLOW),
        heat=figure_as(heat, ",.0f", Quantity.HEAT),
    )
    plate = values.get("plate_btuh")
    if plate is None:
        return Reckoned((told,))
    off = percent_of_plate(heat, plate)
    return Reckoned((told, sentence("That is {off} % off the plate.", off=f"{off:+.1f}")))


def _wobbe(values: Values, gases: Gases) -> Reckoned:
    gas, feed = feed_of(values, gases)
    heating = feed.heating_value_btuft3 or 0
    return Reckoned((
        sentence(
            "Wobbe index {index} Btu/ft³ for {gas} ({heat} Btu/ft³, gravity {gravity}).",
            index=figure(wobbe_btuft3(heating, feed.gravity), 0, Quantity.HEATING_VALUE),
            gas=gas.name,
            heat=figure(heating, 1, Quantity.HEATING_VALUE),
            gravity=figure(feed.gravity),
        ),
    ))  # fmt: skip


def _supply(values: Values) -> Reckoned:
    step = values.get("resolution_inwc")
    answer = under_load(
        values["no_flow_inwc"],
        values["full_flow_inwc"],
        values.get("minimum_inwc"),
        0.1 if step is None else step,
    )
    return Reckoned(answer.says, answer.result)
