"""A whole range from one gas to another, burner by burner, each keeping its input.

Heat through a spud goes with area x coefficient x Wobbe index x sqrt(pressure), so the hole
follows from the ratio of the two. Also says what a burner does that is lit on a gas it was
not drilled for. Whether a range may be converted is the licensed fitter's decision.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from shopdesk.domain.gas import elevation
from shopdesk.domain.gas.drills import Drills
from shopdesk.domain.gas.orifice import (
    Choice,
    Feed,
    check_input,
    choose_for_flow,
    diameter_for_in,
    flow_cfh,
    heat_btuh,
    rated_cfh,
)
from shopdesk.domain.measured import Sentence, figure, figure_as, sentence
from shopdesk.domain.problem import Problem
from shopdesk.domain.quantity import Quantity

Work = Literal["keep", "drill", "buy"]
TOLERATED = 0.10  # common practice, no source: 10 % off the input is no longer a matter of the air shutter


@dataclass(frozen=True, slots=True)
class Spud:
    """A burner's present spud; its size is that for the present gas and its elevation."""

    burner: str
    diameter_in: float


@dataclass(frozen=True, slots=True)
class Change:
    """One burner's conversion.

    `rated_btuh`: the input kept, rated at sea level; `wanted_btuh`: the same after the code's
    cut. `unchanged_btuh`: what the old spud would take on the new gas. `work`: keep the spud,
    drill it out, or buy one (a hole is not closed).
    """

    spud: Spud
    rated_btuh: float
    wanted_btuh: float
    choice: Choice
    work: Work
    unchanged_btuh: float

    @property
    def unchanged_ratio(self) -> float:
        """What the old spud would take on the new gas, over what it should."""
        return self.unchanged_btuh / self.wanted_btuh


def rated_input_btuh(diameter_in: float, feed: Feed) -> float:
    """What a spud is rated for at sea level; the heating value is needed."""
    heat = heat_btuh(rated_cfh(diameter_in, feed), feed)
    if heat is None:
        raise Problem("The heating value of both gases is needed to convert.", field="heating_value")
    return heat


def exact_diameter_in(diameter_in: float, present: Feed, coming: Feed) -> float:
    """The hole before rounding that keeps the input; there and back returns the same."""
    return diameter_for_in(_coming_cfh(rated_input_btuh(diameter_in, present), coming), coming)


def _coming_cfh(rated_btuh: float, coming: Feed) -> float:
    if coming.heating_value_btuft3 is None:
        raise Problem("The heating value of both gases is needed to convert.", field="heating_value")
    return rated_btuh / coming.heating_value_btuft3


def convert(spuds: Sequence[Spud], present: Feed, coming: Feed, drills: Drills) -> tuple[Change, ...]:
    """Every burner's new spud. `present` is where the old sizes belong, `coming` where it will stand."""
    if not spuds:
        raise Problem("There is no burner to convert. Give its drill, its diameter or its input.")
    return tuple(_change(spud, present, coming, drills) for spud in spuds)


def _change(spud: Spud, present: Feed, coming: Feed, drills: Drills) -> Change:
    rated = check_input(rated_input_btuh(spud.diameter_in, present))
    choice = choose_for_flow(_coming_cfh(rated, coming), coming, drills)
    return Change(
        spud=spud,
        rated_btuh=rated,
        wanted_btuh=rated * elevation.permitted_share(coming.elevation_ft),
        choice=choice,
        work=_work(spud.diameter_in, choice.chosen.drill.diameter_in),
        unchanged_btuh=heat_btuh(flow_cfh(spud.diameter_in, coming), coming) or 0.0,
    )


def _work(old_in: float, new_in: float) -> Work:
    if abs(new_in - old_in) < 0.00005:
        return "keep"
    return "drill" if new_in > old_in else "buy"


def warning(change: Change, lit_on: str) -> Sentence | None:
    """The warning, in figures, for the old spud lit on the new gas; None within 10 %."""
    ratio = change.unchanged_ratio
    facts = {
        "burner": change.spud.burner,
        "gas": lit_on,
        "got": figure_as(change.unchanged_btuh, ",.0f", Quantity.HEAT),
        "should": figure_as(change.wanted_btuh, ",.0f", Quantity.HEAT),
        "times": figure(ratio),
    }
    if ratio > 1 + TOLERATED:
        return sentence(
            "{burner}: left as it is and lit on {gas} it would take {got} Btu/h instead of {should}: "
            "{times} times as much. It would over-fire, soot and make carbon monoxide. Do not light it.",
            **facts,
        )
    if ratio < 1 - TOLERATED:
        return sentence(
            "{burner}: left as it is and lit on {gas} it would take {got} Btu/h instead of {should}: "
            "{times} times as much. It would starve, lift or go out. Do not light it.",
            **facts,
        )
    return None


def total_input_btuh(changes: Sequence[Change]) -> float:
    """All burners together, rated at sea level: what the supply must carry."""
    return sum(change.rated_btuh for change in changes)


def elevation_note(feed: Feed) -> Sentence | None:
    """What the code takes off at the kitchen's elevation; None where it takes nothing."""
    if not elevation.applies(feed.elevation_ft):
        return None
    return sentence(
        "At {feet} ft the code leaves {share} % of the rated input; the thinner gas is reckoned with.",
        feet=figure_as(feed.elevation_ft, ",.0f", Quantity.ELEVATION),
        share=figure(100 * elevation.permitted_share(feed.elevation_ft), 1),
    )
