"""The options that say what feeds a spud, and the feed made of them."""

import functools
import inspect
from collections.abc import Callable
from dataclasses import dataclass, fields
from typing import Annotated, Any

import typer

from shopdesk import paths
from shopdesk.commands.answers import either
from shopdesk.domain.gas import elevation
from shopdesk.domain.gas.drills import Drills, find, read_drills
from shopdesk.domain.gas.gases import Gas, Gases, find_gas, read_gases
from shopdesk.domain.gas.orifice import COEFFICIENT, Feed, check_diameter
from shopdesk.domain.measured import Sentence, figure, figure_as, sentence
from shopdesk.domain.problem import Problem
from shopdesk.domain.quantity import Quantity
from shopdesk.domain.units import (
    btuft3_to_mjm3,
    inwc_to_mbar,
    m_to_ft,
    mbar_to_inwc,
    mjm3_to_btuft3,
    mm_to_in,
)

Number = float | None
GasName = Annotated[str, typer.Option("--gas", help="natural, propane, butane or town.")]
DrillSize = Annotated[str | None, typer.Option("--drill", help="Drill size, 80 to 1 or A to Z.")]
DiameterIn = Annotated[Number, typer.Option("--diameter-in", help="Diameter of the hole, in.")]
DiameterMm = Annotated[Number, typer.Option("--diameter-mm", help="Diameter of the hole, mm.")]
PressureInwc = Annotated[Number, typer.Option("--pressure-inwc", help="Manifold pressure, in w.c.")]
PressureMbar = Annotated[Number, typer.Option("--pressure-mbar", help="Manifold pressure, mbar.")]
Gravity = Annotated[Number, typer.Option("--gravity", help="Specific gravity, air = 1.")]
HeatingValue = Annotated[Number, typer.Option("--heating-value", help="Gross heating value, Btu/ft³.")]
HeatingValueMj = Annotated[Number, typer.Option("--heating-value-mjm3", help="Gross heating value, MJ/m³.")]
Coefficient = Annotated[float, typer.Option("--coefficient", help="Discharge coefficient of the spud.")]
ElevationFt = Annotated[Number, typer.Option("--elevation-ft", help="Elevation above sea level, ft.")]
ElevationM = Annotated[Number, typer.Option("--elevation-m", help="Elevation above sea level, m.")]
InputBtuh = Annotated[Number, typer.Option("--input-btuh", help="Input, Btu/h.")]
InputKw = Annotated[Number, typer.Option("--input-kw", help="Input, kW.")]


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedOptions:
    """As given on the command line; what is missing is taken from the gas."""

    gas: GasName = "natural"
    pressure_inwc: PressureInwc = None
    pressure_mbar: PressureMbar = None
    gravity: Gravity = None
    heating_value: HeatingValue = None
    heating_value_mjm3: HeatingValueMj = None
    coefficient: Coefficient = COEFFICIENT
    elevation_ft: ElevationFt = None
    elevation_m: ElevationM = None


def fed(command: Callable[..., None]) -> Callable[..., None]:
    """Gives a command the options of a feed; it is called with `fed_by`, a FeedOptions made of them."""
    own = [p for p in inspect.signature(command).parameters.values() if p.name != "fed_by"]
    ours = {each.name: each for each in fields(FeedOptions)}
    taken = [
        inspect.Parameter(name, inspect.Parameter.KEYWORD_ONLY, default=each.default, annotation=each.type)
        for name, each in ours.items()
    ]

    @functools.wraps(command)
    def run(**given: Any) -> None:
        options = FeedOptions(**{name: given.pop(name) for name in ours})
        command(**given, fed_by=options)

    asked = [*(p.replace(kind=inspect.Parameter.KEYWORD_ONLY) for p in own), *taken]
    run.__signature__ = inspect.Signature(asked)  # type: ignore[attr-defined]
    run.__annotations__ = {p.name: p.annotation for p in asked}
    return run


def shipped_drills() -> Drills:
    return read_drills(paths.resource("gas", "drills.csv"))


def shipped_gases() -> Gases:
    return read_gases(paths.resource("gas", "gases.toml"))


def feed_of(options: FeedOptions, *, field: str = "gas") -> tuple[Feed, Gas, tuple[Sentence, ...]]:
    """The feed, its gas, and what has to be said about figures that were not given."""
    gas = find_gas(shipped_gases(), options.gas, field=field)
    pressure = either(
        options.pressure_inwc, options.pressure_mbar, mbar_to_inwc, "--pressure-inwc and --pressure-mbar"
    )
    heating = either(
        options.heating_value,
        options.heating_value_mjm3,
        mjm3_to_btuft3,
        "--heating-value and --heating-value-mjm3",
    )
    feet = either(options.elevation_ft, options.elevation_m, m_to_ft, "--elevation-ft and --elevation-m")
    heating, gravity, says = _kept_together(heating, options.gravity, gas)
    feed = Feed(
        gravity=gravity,
        pressure_inwc=gas.pressure_inwc if pressure is None else pressure,
        heating_value_btuft3=heating,
        coefficient=options.coefficient,
        elevation_ft=feet or 0.0,
    )
    return feed, gas, says


def _kept_together(heating: Number, gravity: Number, gas: Gas) -> tuple[Number, float, tuple[Sentence, ...]]:
    """Heating value and gravity belong to one gas; another gas's gravity leaves the heat unknown."""
    if heating is None and gravity is not None and abs(gravity / gas.gravity - 1) > 0.1:
        text = "A gravity of {gravity} is not that of {gas}, so no input is worked out. Give --heating-value."
        return None, gravity, (sentence(text, gravity=figure(gravity), gas=gas.name),)
    if heating is not None and gravity is None and abs(heating / gas.heating_value_btuft3 - 1) > 0.25:
        raise Problem(
            "A heating value of {heating} Btu/ft³ is not that of {gas}; give --gravity as well, or --gas.",
            field="gravity",
            heating=figure(heating, 2, Quantity.HEATING_VALUE),
            gas=gas.name,
        )
    return (
        gas.heating_value_btuft3 if heating is None else heating,
        gas.gravity if gravity is None else gravity,
        (),
    )


def hole_in(drill: str | None, diameter_in: Number, diameter_mm: Number, drills: Drills) -> Number:
    """The diameter that was given as a drill, in inches or in millimetres; None if none was."""
    diameter = either(diameter_in, diameter_mm, mm_to_in, "--diameter-in and --diameter-mm")
    if drill is None:
        return None if diameter is None else check_diameter(diameter)
    found = find(drills, drill)
    if diameter is not None and abs(diameter - found.diameter_in) > 0.0005:
        raise Problem(
            "Drill {size} is {inches} in, not {given} in. Give one of the two.",
            field="drill",
            size=found.size,
            inches=figure_as(found.diameter_in, ".4f", Quantity.HOLE),
            given=figure_as(diameter, ".4f", Quantity.HOLE),
        )
    return found.diameter_in if diameter is None else check_diameter(diameter)


def feed_facts(feed: Feed, gas: Gas) -> dict[str, object]:
    """What stands with every figure: a flow or an input means nothing without it."""
    heat = feed.heating_value_btuft3
    return {
        "gas": gas.code,
        "gravity": feed.gravity,
        "heating_value_btuft3": heat,
        "heating_value_mjm3": None if heat is None else btuft3_to_mjm3(heat),
        "pressure_inwc": feed.pressure_inwc,
        "pressure_mbar": inwc_to_mbar(feed.pressure_inwc),
        "coefficient": feed.coefficient,
        "elevation_ft": feed.elevation_ft,
        "permitted_share": elevation.permitted_share(feed.elevation_ft),
    }


def feed_sentence(feed: Feed, gas: Gas) -> Sentence:
    if feed.heating_value_btuft3 is None:
        text = "Reckoned at gravity {gravity}, {pressure} in w.c., coefficient {coefficient}, {feet} ft."
    else:
        text = (
            "Reckoned for {gas} at {heat} Btu/ft³, gravity {gravity}, {pressure} in w.c., coefficient "
            "{coefficient}, {feet} ft."
        )
    return sentence(
        text,
        gas=gas.name,
        heat=figure(feed.heating_value_btuft3 or 0, 2, Quantity.HEATING_VALUE),
        gravity=figure(feed.gravity),
        pressure=figure(feed.pressure_inwc, 2, Quantity.PRESSURE),
        coefficient=figure(feed.coefficient),
        feet=figure(feed.elevation_ft, 0, Quantity.ELEVATION),
    )
