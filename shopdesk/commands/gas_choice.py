"""A chosen drill with its neighbours, as JSON keys and as sentences."""

from shopdesk.commands.answers import turned
from shopdesk.domain.gas.orifice import Choice, Feed, Sized, heat_btuh
from shopdesk.domain.measured import Sentence, figure, figure_as, sentence
from shopdesk.domain.quantity import Quantity
from shopdesk.domain.units import btuh_to_kw, ft3_to_m3, in_to_mm


def sized_facts(sized: Sized) -> dict[str, object]:
    return {
        "drill": sized.drill.size,
        "diameter_in": sized.drill.diameter_in,
        "diameter_mm": in_to_mm(sized.drill.diameter_in),
        "flow_cfh": sized.flow_cfh,
        "flow_m3h": ft3_to_m3(sized.flow_cfh),
        "input_btuh": sized.input_btuh,
        "input_kw": turned(sized.input_btuh, btuh_to_kw),
    }


def choice_facts(choice: Choice, feed: Feed) -> dict[str, object]:
    return {
        **sized_facts(choice.chosen),
        "exact_diameter_in": choice.exact_diameter_in,
        "exact_diameter_mm": in_to_mm(choice.exact_diameter_in),
        "wanted_cfh": choice.wanted_cfh,
        "wanted_btuh": heat_btuh(choice.wanted_cfh, feed),
        "smaller": sized_facts(choice.smaller) if choice.smaller else None,
        "larger": sized_facts(choice.larger) if choice.larger else None,
    }


def choice_sentences(choice: Choice) -> list[Sentence]:
    says = [
        sentence(
            "The hole would be {exact} in; the nearest drill in input is {size} ({inches} in).",
            exact=figure_as(choice.exact_diameter_in, ".4f", Quantity.HOLE),
            size=choice.chosen.drill.size,
            inches=figure_as(choice.chosen.drill.diameter_in, ".4f", Quantity.HOLE),
        ),
        _passes(choice.chosen),
    ]
    if choice.smaller:
        says.append(_passes(choice.smaller))
    if choice.larger:
        says.append(_passes(choice.larger))
    return says


def _passes(sized: Sized) -> Sentence:
    facts = {"size": sized.drill.size, "cfh": figure(sized.flow_cfh, 3, Quantity.FLOW)}
    if sized.input_btuh is None:
        return sentence("Drill {size} passes {cfh} ft³/h.", **facts)
    text = "Drill {size} passes {cfh} ft³/h, {heat} Btu/h."
    return sentence(text, heat=figure_as(sized.input_btuh, ",.0f", Quantity.HEAT), **facts)
