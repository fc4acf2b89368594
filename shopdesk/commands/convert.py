"""`shopdesk gas convert`: a whole range from one gas to another, burner by burner."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import asdict
from typing import Annotated

import typer

from shopdesk import paths
from shopdesk.commands.answers import AsJson, answer, in_words
from shopdesk.commands.gas_choice import choice_facts
from shopdesk.commands.gas_feed import (
    Coefficient,
    ElevationFt,
    ElevationM,
    FeedOptions,
    Number,
    feed_facts,
    feed_of,
    feed_sentence,
    hole_in,
    shipped_drills,
)
from shopdesk.domain.gas.cautions import AlsoChanges, read_also_changes
from shopdesk.domain.gas.conversion import Change, Spud, elevation_note, total_input_btuh, warning
from shopdesk.domain.gas.conversion import convert as convert_spuds
from shopdesk.domain.gas.drills import Drills
from shopdesk.domain.gas.gases import Gas
from shopdesk.domain.gas.orifice import COEFFICIENT, Feed, check_input, diameter_for_in
from shopdesk.domain.measured import Sentence, figure_as, sentence
from shopdesk.domain.problem import Problem
from shopdesk.domain.quantity import Quantity
from shopdesk.domain.units import btuh_to_kw, kw_to_btuh
from shopdesk.wording import say

_WORK_WORDS = {
    "keep": "{burner}: drill {new} stays, {heat} Btu/h kept.",
    "drill": "{burner}: drill the spud out to {new} ({inches} in), {heat} Btu/h kept.",
    "buy": "{burner}: buy a spud drilled {new} ({inches} in), {heat} Btu/h kept; a hole is not closed.",
}


def convert(
    from_gas: Annotated[str, typer.Option("--from", help="Gas it is set for.")] = "natural",
    to_gas: Annotated[str, typer.Option("--to", help="Gas it is to burn.")] = "propane",
    burner: Annotated[
        list[str] | None, typer.Option("--burner", help="NAME=DRILL, once for every burner.")
    ] = None,
    drill: Annotated[
        list[str] | None, typer.Option("--drill", help="Present drill, once for every burner.")
    ] = None,
    diameter_in: Annotated[
        list[float] | None, typer.Option("--diameter-in", help="Present hole, in, once for every burner.")
    ] = None,
    diameter_mm: Annotated[
        list[float] | None, typer.Option("--diameter-mm", help="Present hole, mm, once for every burner.")
    ] = None,
    input_btuh: Annotated[
        list[float] | None, typer.Option("--input-btuh", help="Rated input, Btu/h, where no hole is known.")
    ] = None,
    input_kw: Annotated[
        list[float] | None, typer.Option("--input-kw", help="Rated input, kW, where no hole is known.")
    ] = None,
    from_pressure_inwc: Annotated[
        Number, typer.Option("--from-pressure-inwc", "--pressure-inwc", help="Present manifold, in w.c.")
    ] = None,
    from_pressure_mbar: Annotated[
        Number, typer.Option("--from-pressure-mbar", "--pressure-mbar", help="Present manifold, mbar.")
    ] = None,
    from_gravity: Annotated[
        Number, typer.Option("--from-gravity", "--gravity", help="Gravity of the present gas.")
    ] = None,
    from_heating_value: Annotated[
        Number,
        typer.Option("--from-heating-value", "--heating-value", help="Heat of the present gas, Btu/ft³."),
    ] = None,
    to_pressure_inwc: Annotated[Number, typer.Option(help="New manifold pressure, in w.c.")] = None,
    to_pressure_mbar: Annotated[Number, typer.Option(help="New manifold pressure, mbar.")] = None,
    to_gravity: Annotated[Number, typer.Option(help="Gravity of the new gas.")] = None,
    to_heating_value: Annotated[Number, typer.Option(help="Heat of the new gas, Btu/ft³.")] = None,
    from_heating_value_mjm3: Annotated[
        Number,
        typer.Option(
            "--from-heating-value-mjm3", "--heating-value-mjm3", help="Heat of the present gas, MJ/m³."
        ),
    ] = None,
    to_heating_value_mjm3: Annotated[
        Number, typer.Option("--to-heating-value-mjm3", help="Heat of the new gas, MJ/m³.")
    ] = None,
    coefficient: Coefficient = COEFFICIENT,
    from_elevation_ft: Annotated[Number, typer.Option(help="Where the present sizes belong, ft.")] = None,
    from_elevation_m: Annotated[Number, typer.Option(help="Where the present sizes belong, m.")] = None,
    elevation_ft: ElevationFt = None,
    elevation_m: ElevationM = None,
    as_json: AsJson = False,
) -> None:
    """Every burner's new spud for another gas, each keeping its input, and what else changes."""
    drills = shipped_drills()
    present, old_gas, old_says = feed_of(
        FeedOptions(
            gas=from_gas,
            pressure_inwc=from_pressure_inwc,
            pressure_mbar=from_pressure_mbar,
            gravity=from_gravity,
            heating_value=from_heating_value,
            heating_value_mjm3=from_heating_value_mjm3,
            coefficient=coefficient,
            elevation_ft=from_elevation_ft,
            elevation_m=from_elevation_m,
        ),
        field="from",
    )
    coming, new_gas, new_says = feed_of(
        FeedOptions(
            gas=to_gas,
            pressure_inwc=to_pressure_inwc,
            pressure_mbar=to_pressure_mbar,
            gravity=to_gravity,
            heating_value=to_heating_value,
            heating_value_mjm3=to_heating_value_mjm3,
            coefficient=coefficient,
            elevation_ft=elevation_ft,
            elevation_m=elevation_m,
        ),
        field="to",
    )
    spuds = _named(burner or [], drills)
    spuds += [Spud("", hole_in(size, None, None, drills) or 0) for size in drill or []]
    spuds += [Spud("", hole_in(None, inches, None, drills) or 0) for inches in diameter_in or []]
    spuds += [Spud("", hole_in(None, None, mm, drills) or 0) for mm in diameter_mm or []]
    inputs = [*(input_btuh or []), *(kw_to_btuh(kw) for kw in input_kw or [])]
    spuds += [Spud("", _hole_for(heat, present)) for heat in inputs]
    changes = convert_spuds(_numbered(spuds), present, coming, drills)
    also = read_also_changes(paths.resource("gas", "conversion.toml"))[new_gas.family]
    facts = _facts(changes, present, old_gas, coming, new_gas, also)
    lines = [*_lines(changes, coming, new_gas, also), *old_says, *new_says]
    answer(facts, lines, "convert", as_json=as_json)


def _named(burners: Sequence[str], drills: Drills) -> list[Spud]:
    spuds = []
    for text in burners:
        name, mark, size = text.rpartition("=")
        if not mark or not name.strip():
            raise Problem("A burner is given as NAME=DRILL, not “{typed}”.", field="burner", typed=text)
        spuds.append(Spud(name.strip(), hole_in(size, None, None, drills) or 0))
    return spuds


def _numbered(spuds: Sequence[Spud]) -> list[Spud]:
    """Burners without a name are told apart by their number."""
    return [
        spud if spud.burner else Spud(say("burner {number}", number=number), spud.diameter_in)
        for number, spud in enumerate(spuds, start=1)
    ]


def _hole_for(rated_btuh: float, feed: Feed) -> float:
    if feed.heating_value_btuft3 is None:
        raise Problem("The heating value of both gases is needed to convert.", field="heating_value")
    return diameter_for_in(check_input(rated_btuh) / feed.heating_value_btuft3, feed)


def _burner_facts(change: Change, coming: Feed, gas: Gas) -> dict[str, object]:
    warned = warning(change, gas.name)
    return {
        "burner": change.spud.burner,
        "present_diameter_in": change.spud.diameter_in,
        "rated_btuh": change.rated_btuh,
        "rated_kw": btuh_to_kw(change.rated_btuh),
        **choice_facts(change.choice, coming),
        "work": change.work,
        "unchanged_btuh": change.unchanged_btuh,
        "unchanged_ratio": change.unchanged_ratio,
        "warning": in_words(warned) if warned else None,
    }


def _facts(
    changes: Sequence[Change], present: Feed, old: Gas, coming: Feed, new: Gas, also: AlsoChanges
) -> dict[str, object]:
    burners = [_burner_facts(change, coming, new) for change in changes]
    spuds = Counter((c.choice.chosen.drill, c.work) for c in changes)
    return {
        **(burners[0] if len(burners) == 1 else {}),
        "burners": burners,
        "spuds": [
            {"drill": drill.size, "diameter_in": drill.diameter_in, "work": work, "count": count}
            for (drill, work), count in sorted(spuds.items(), key=lambda item: item[0][0].diameter_in)
        ],
        "total_rated_btuh": total_input_btuh(changes),
        "from": feed_facts(present, old),
        "to": feed_facts(coming, new),
        **{name: say(text) for name, text in asdict(also).items()},
    }


def _lines(changes: Sequence[Change], coming: Feed, gas: Gas, also: AlsoChanges) -> list[Sentence]:
    lines = [_work(change) for change in changes]
    lines += [each for change in changes if (each := warning(change, gas.name))]
    lines.append(
        sentence(
            "All burners together are rated {heat} Btu/h; the supply has to carry it.",
            heat=figure_as(total_input_btuh(changes), ",.0f", Quantity.HEAT),
        )
    )
    lines.append(feed_sentence(coming, gas))
    note = elevation_note(coming)
    return [*lines, *([note] if note else []), *(Sentence(text) for text in asdict(also).values())]


def _work(change: Change) -> Sentence:
    drill = change.choice.chosen.drill
    return sentence(
        _WORK_WORDS[change.work],
        burner=change.spud.burner,
        new=drill.size,
        inches=figure_as(drill.diameter_in, ".4f", Quantity.HOLE),
        heat=figure_as(change.wanted_btuh, ",.0f", Quantity.HEAT),
    )
