"""The `[range]` table of a sheet: how the range is built, and what identifies it."""

from dataclasses import dataclass, fields
from typing import get_args

from shopdesk.domain.build import Back, Base, Build, OvenLighting, Side
from shopdesk.domain.problem import Problem
from shopdesk.exchange.sheet_entry import Entry

_WORDS = {"back": Back, "base": Base, "oven_side": Side, "lighting": OvenLighting}


@dataclass(frozen=True, slots=True)
class Identity:
    """What is written on the range and who offers it, as the sheet says; empty when it does not."""

    maker: str = ""
    model: str = ""
    serial: str = ""
    colour: str = ""
    made_about: str = ""
    gas_on_plate: str = ""
    spuds_found: str = ""
    house_gas: str = ""
    house_pressure_inwc: str = ""
    set_to_gas: str = ""
    gas_label: str = ""
    width_in: str = ""
    weight_lb: str = ""
    depth_in: str = ""
    height_in: str = ""
    door_in: str = ""
    opening_in: str = ""
    stairs: str = ""
    seller: str = ""
    seller_telephone: str = ""
    seller_address: str = ""


def read_range(entry: Entry) -> tuple[Build, Identity]:
    """Build and identity; field names are those of the values with hyphens for underscores."""
    of_build = [field.name for field in fields(Build)]
    of_identity = [field.name for field in fields(Identity)]
    entry.only(name.replace("_", "-") for name in (*of_build, *of_identity))
    identity = Identity(**{name: entry.text(name.replace("_", "-")) for name in of_identity})
    return _build(entry), identity


def _build(entry: Entry) -> Build:
    given: dict[str, object] = {}
    for field in fields(Build):
        key, default = field.name.replace("_", "-"), field.default
        if field.name in _WORDS:
            given[field.name] = entry.word(key, list(get_args(_WORDS[field.name])), str(default))
        elif isinstance(default, bool):
            given[field.name] = entry.yes(key, default)
        elif isinstance(default, int):
            given[field.name] = entry.whole(key, default, 1, 8)
    try:
        return Build(**given)  # type: ignore[arg-type]
    except Problem as problem:
        entry.refuse(problem.text, **problem.facts)
        return Build()
