"""A whole range for another gas: what is asked of each burner, and the plan that comes of it.

Whether a range may be converted is the licensed fitter's decision; this works out what it would take.
"""

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from shopdesk.domain.gas.calculators import feed_of, gas_field, hole_of
from shopdesk.domain.gas.conversion import (
    TOLERATED,
    Change,
    Spud,
    convert,
    elevation_note,
    total_input_btuh,
    warning,
)
from shopdesk.domain.gas.drills import Drills
from shopdesk.domain.gas.gases import Gas, Gases
from shopdesk.domain.gas.orifice import Feed
from shopdesk.domain.gas.wobbe import wobbe_btuft3
from shopdesk.domain.measured import Sentence, figure, figure_as, sentence
from shopdesk.domain.problem import Problem
from shopdesk.domain.proof_forms.asked import Asked, check_fields
from shopdesk.domain.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Plan:
    """`spuds`: what to drill or buy, by drill and kind of work, with how many."""

    present: Gas
    coming: Gas
    coming_feed: Feed
    changes: tuple[Change, ...]
    spuds: tuple[tuple[str, str, int], ...]  # work, drill, count
    warnings: tuple[Sentence, ...]
    says: tuple[Sentence, ...]


def spud_field(place: int) -> str:
    return f"spud_{place}"


def conversion_fields(gases: Gases, burners: Sequence[str]) -> tuple[Asked, ...]:
    """Gases and pressures, then the spud found at each burner as a drill or a decimal diameter."""
    pressure, heat = Quantity.PRESSURE, Quantity.HEATING_VALUE
    fields = [
        gas_field(gases, "from_gas", "Spuds are drilled for", "From"),
        Asked(name="from_pressure_inwc", label="at a manifold of", quantity=pressure,
              note="Empty takes the customary one."),
        Asked(name="from_heating_value", label="Heating value, gross", quantity=heat),
        gas_field(gases, "to_gas", "To burn", "To"),
        Asked(name="pressure_inwc", label="at a manifold of", quantity=pressure),
        Asked(name="heating_value", label="Heating value, gross", quantity=heat),
        Asked(name="elevation_ft", label="Elevation of the kitchen", quantity=Quantity.ELEVATION),
    ]  # fmt: skip
    fields += [
        Asked(name=spud_field(place), label=name, kind="text", group="Spuds found" if place == 1 else "",
              note="Drill, or diameter such as 0.0700." if place == 1 else "")
        for place, name in enumerate(burners, start=1)
    ]  # fmt: skip
    return tuple(fields)


def plan_conversion(values: Mapping[str, Any], burners: Sequence[str], gases: Gases, drills: Drills) -> Plan:
    """Every burner with a spud, each keeping its input."""
    check_fields(conversion_fields(gases, burners), values)
    if values["from_gas"] == values["to_gas"]:
        raise Problem("It burns that gas already. Choose the gas it is to burn.", field="to_gas")
    old = {name.removeprefix("from_"): v for name, v in values.items() if name.startswith("from_")}
    present, present_feed = feed_of(old | {"elevation_ft": 0.0}, gases)
    coming, coming_feed = feed_of(dict(values), gases, gas_name="to_gas")
    spuds = [
        Spud(name, _hole(str(values[spud_field(place)]), drills, spud_field(place)))
        for place, name in enumerate(burners, start=1)
        if str(values.get(spud_field(place)) or "").strip()
    ]
    if not spuds:
        raise Problem("Write down the spud of one burner at least.", field=spud_field(1))
    changes = convert(spuds, present_feed, coming_feed, drills)
    counted = Counter((c.work, c.choice.chosen.drill.size) for c in changes)
    warned = tuple(told for c in changes if (told := warning(c, coming.name)))
    return Plan(
        present, coming, coming_feed, changes,
        tuple((work, size, count) for (work, size), count in sorted(counted.items())),
        warned, tuple(_says(changes, coming, coming_feed)),
    )  # fmt: skip


def _hole(text: str, drills: Drills, field: str) -> float:
    plain = text.strip().removesuffix("in").strip()
    if plain.startswith(("0.", ".", "0,")):
        try:
            return hole_of("", float(plain.replace(",", ".")), drills, field)
        except ValueError:
            raise Problem("“{typed}” is no diameter.", field=field, typed=text) from None
        except Problem as problem:
            problem.field = field
            raise
    return hole_of(text, None, drills, field)


def _says(changes: Sequence[Change], coming: Gas, feed: Feed) -> list[Sentence]:
    says = [
        sentence(
            "All burners together are rated {heat} Btu/h; the supply has to carry it.",
            heat=figure_as(total_input_btuh(changes), ",.0f", Quantity.HEAT),
        ),
        sentence(
            "Manifold at {pressure} in w.c. of {gas}.",
            pressure=figure(feed.pressure_inwc, 2, Quantity.PRESSURE),
            gas=coming.name,
        ),
    ]
    if coming.sinks:
        text = "{gas} is heavier than air: it sinks and pools. Not in a basement where the code forbids it."
        says.append(sentence(text, gas=coming.name))
    note = elevation_note(feed)
    return [*says, note] if note else says


def lit_on_another(drilled_for: Gas, lit_on: Gas) -> Sentence | None:
    """What spuds of one gas make of another at its customary pressure, in figures; None within 10 %."""
    ratio = _heat(lit_on) / _heat(drilled_for)
    facts = {"drilled": drilled_for.name, "lit": lit_on.name, "times": figure(ratio)}
    if ratio > 1 + TOLERATED:
        return sentence(
            "The spuds are drilled for {drilled}. Lit on {lit} every burner would take {times} times its "
            "input: it would over-fire, soot and make carbon monoxide. Do not light it.",
            **facts,
        )
    if ratio < 1 - TOLERATED:
        return sentence(
            "The spuds are drilled for {drilled}. Lit on {lit} every burner would take {times} times its "
            "input: it would starve, lift or go out. Do not light it.",
            **facts,
        )
    return None


def _heat(gas: Gas) -> float:
    """Heat through a given spud goes with the Wobbe index and the root of the pressure."""
    return wobbe_btuft3(gas.heating_value_btuft3, gas.gravity) * math.sqrt(gas.pressure_inwc)
