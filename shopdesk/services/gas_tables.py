"""The gas bench's own tables as they ship: drills, gases, cautions, and what else a conversion changes."""

from collections.abc import Mapping
from functools import cache

from shopdesk import paths
from shopdesk.domain.catalogue.model import Caution
from shopdesk.domain.gas.cautions import AlsoChanges, read_also_changes, read_gas_cautions
from shopdesk.domain.gas.drills import Drills, read_drills
from shopdesk.domain.gas.gases import Gases, read_gases
from shopdesk.wording import say

_ALSO_CALLED = {
    "natural": ("natural", "ng", "methane", "mains gas"),
    "propane": ("propane", "lp", "lpg", "bottled gas"),
    "butane": ("butane",),
    "town": ("town", "town gas", "manufactured gas", "coal gas", "made gas"),
}


@cache
def gases() -> Gases:
    return read_gases(paths.resource("gas", "gases.toml"))


@cache
def drills() -> Drills:
    return read_drills(paths.resource("gas", "drills.csv"))


@cache
def cautions() -> Mapping[str, Caution]:
    """By subject: bench, convert, clock, supply, tightness, co, thermostat, electrical."""
    return read_gas_cautions(paths.resource("gas", "cautions.toml"))


@cache
def also_changes() -> Mapping[str, AlsoChanges]:
    """By the family of the gas converted to."""
    return read_also_changes(paths.resource("gas", "conversion.toml"))


def gas_code(written: str) -> str:
    """The code of a gas as people write it (`Natural gas`, `LP`); empty when it is none of ours."""
    text = written.strip().lower().split(",")[0].strip()
    for code, gas in gases().items():
        called = (code, gas.name, *_ALSO_CALLED.get(code, ()))
        if text in called or text in (say(name).lower() for name in called):
            return code
    return ""
