"""Gas through a drilled spud, and the drill that gives a wanted input.

`Q = 1658.5 K A sqrt(h / sg)`: Q ft³/h, A in², h in w.c., sg relative to air, K the discharge
coefficient; heat is Q times the gross heating value. Published with these constants in an
open gas-trade textbook (Block E: Fuel Gas Systems, Appendix 2, BCcampus Open Publishing).
A figure means nothing without its K, heating value, gravity and pressure, so they travel
together as a `Feed`.
"""

import math
from dataclasses import dataclass

from shopdesk.domain.gas import elevation
from shopdesk.domain.gas.drills import Drill, Drills, nearest_area, neighbours
from shopdesk.domain.gas.wobbe import check_gravity, check_heating_value
from shopdesk.domain.measured import figure_as, within
from shopdesk.domain.problem import Problem
from shopdesk.domain.quantity import Quantity

CONSTANT = 1658.5
COEFFICIENT = 0.90  # the coefficient of the code's tables, Annex E


@dataclass(frozen=True, slots=True, kw_only=True)
class Feed:
    """What feeds a spud. `heating_value_btuft3` gross, None where it is not known."""

    gravity: float
    pressure_inwc: float
    heating_value_btuft3: float | None = None
    coefficient: float = COEFFICIENT
    elevation_ft: float = 0.0

    def __post_init__(self) -> None:
        check_gravity(self.gravity)
        within(
            self.pressure_inwc,
            0.01,
            60,
            "A range burner is not fed at {value} in w.c.; pressures lie from {low} to {high} in w.c.",
            field="pressure_inwc",
            of=Quantity.PRESSURE,
        )
        if self.heating_value_btuft3 is not None:
            check_heating_value(self.heating_value_btuft3)
        within(
            self.coefficient,
            0.3,
            1,
            "A discharge coefficient of {value} is no spud's; drilled spuds lie from 0.6 to 0.95.",
            field="coefficient",
        )
        elevation.check_elevation(self.elevation_ft)


@dataclass(frozen=True, slots=True)
class Sized:
    """A drill with what it passes; `input_btuh` None where the heating value is not known."""

    drill: Drill
    flow_cfh: float
    input_btuh: float | None


@dataclass(frozen=True, slots=True)
class Choice:
    """The drill nearest in input, the sizes either side, and what was asked for.

    `wanted_cfh` is the flow aimed at, after the code's cut for elevation.
    """

    chosen: Sized
    smaller: Sized | None
    larger: Sized | None
    exact_diameter_in: float
    wanted_cfh: float


def check_diameter(diameter_in: float) -> float:
    return within(
        diameter_in,
        0.003,
        1,
        "A hole of {value} in is not a spud's; they lie from {low} to {high} in.",
        field="diameter_in",
        of=Quantity.HOLE,
    )


def _speed(feed: Feed) -> float:
    """ft³/h per in² of hole, counted at sea-level conditions."""
    thinning = elevation.flow_share(feed.elevation_ft)
    return CONSTANT * feed.coefficient * math.sqrt(feed.pressure_inwc / feed.gravity) * thinning


def flow_cfh(diameter_in: float, feed: Feed) -> float:
    """Gas through a hole, ft³/h (at sea-level conditions, whatever the elevation)."""
    return _speed(feed) * math.pi / 4 * check_diameter(diameter_in) ** 2


def heat_btuh(cfh: float, feed: Feed) -> float | None:
    return None if feed.heating_value_btuft3 is None else cfh * feed.heating_value_btuft3


def rated_cfh(diameter_in: float, feed: Feed) -> float:
    """The flow a spud stands for at sea level, its elevation's cut undone."""
    return flow_cfh(diameter_in, feed) / elevation.permitted_share(feed.elevation_ft)


def sized(drill: Drill, feed: Feed) -> Sized:
    flow = flow_cfh(drill.diameter_in, feed)
    return Sized(drill, flow, heat_btuh(flow, feed))


def diameter_for_in(rated_flow_cfh: float, feed: Feed) -> float:
    """Hole before rounding to a drill for a flow rated at sea level; the code's cut is made here."""
    wanted = rated_flow_cfh * elevation.permitted_share(feed.elevation_ft)
    return math.sqrt(wanted / _speed(feed) * 4 / math.pi)


def choose_for_flow(rated_flow_cfh: float, feed: Feed, drills: Drills) -> Choice:
    """The drill nearest in input to a flow rated at sea level, after the cut for elevation."""
    exact = diameter_for_in(rated_flow_cfh, feed)
    if not 0.97 * drills[0].diameter_in <= exact <= 1.03 * drills[-1].diameter_in:
        raise Problem(
            "No drill gives that input: the hole would be {inches} in, and sizes run from {small} in "
            "to {large} in. Look at the input, the pressure and the gas again.",
            field="input_btuh",
            inches=figure_as(exact, ".4f", Quantity.HOLE),
            small=figure_as(drills[0].diameter_in, ".4f", Quantity.HOLE),
            large=figure_as(drills[-1].diameter_in, ".4f", Quantity.HOLE),
        )
    drill = nearest_area(drills, exact)
    below, above = neighbours(drills, drill)
    return Choice(
        chosen=sized(drill, feed),
        smaller=sized(below, feed) if below else None,
        larger=sized(above, feed) if above else None,
        exact_diameter_in=exact,
        wanted_cfh=rated_flow_cfh * elevation.permitted_share(feed.elevation_ft),
    )


def check_input(btuh: float) -> float:
    return within(
        btuh,
        20,
        200_000,
        "An input of {value} Btu/h is not one burner's; they lie from {low} Btu/h (a pilot) to {high} Btu/h.",
        field="input_btuh",
        of=Quantity.HEAT,
    )


def choose_for_input(rated_btuh: float, feed: Feed, drills: Drills) -> Choice:
    """The drill nearest to the input on the plate (rated at sea level)."""
    if feed.heating_value_btuft3 is None:
        raise Problem(
            "The heating value of the gas is needed to find a drill for an input.", field="heating_value"
        )
    return choose_for_flow(check_input(rated_btuh) / feed.heating_value_btuft3, feed, drills)
