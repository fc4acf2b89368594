"""The gases a range may be fired on, with heating value, gravity and customary pressure.

Figures and their sources stand in the table; this room reads and checks it.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from shopdesk.domain.problem import Problem

Family = Literal["piped", "lp"]


@dataclass(frozen=True, slots=True)
class Gas:
    """`heating_value_btuft3` gross, per ft³; `gravity` relative to air; pressure at the manifold."""

    code: str
    name: str
    family: Family
    heating_value_btuft3: float
    gravity: float
    pressure_inwc: float
    pressure_low_inwc: float
    pressure_high_inwc: float
    source: str

    @property
    def sinks(self) -> bool:
        """Heavier than air: it runs down and lies in low places."""
        return self.gravity > 1


Gases = Mapping[str, Gas]

_NUMBERS = (
    "heating_value_btuft3",
    "gravity",
    "pressure_inwc",
    "pressure_low_inwc",
    "pressure_high_inwc",
)


def read_gases(path: Path) -> Gases:
    """The table in `path` (toml, one table per gas); a Problem names file, gas and entry."""
    try:
        tables = tomllib.loads(path.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as error:
        raise Problem("The gas table {file} cannot be read: {why}.", file=path.name, why=error) from error
    return {code: _gas(code, table, path.name) for code, table in tables.items()}


def _gas(code: str, table: object, file: str) -> Gas:
    if not isinstance(table, dict):
        raise Problem("In {file}, {code} is not a table of a gas. Mend or remove it.", file=file, code=code)
    for name in ("name", "family", "source"):
        if not isinstance(table.get(name), str) or not table[name]:
            raise Problem(
                "In {file}, the gas {code} needs {entry} as text.", file=file, code=code, entry=name
            )
    for name in _NUMBERS:
        value = table.get(name)
        if not isinstance(value, int | float) or isinstance(value, bool) or not 0 < value < 10000:
            raise Problem(
                "In {file}, the gas {code} needs {entry} as a number above nought.",
                file=file,
                code=code,
                entry=name,
            )
    if table["family"] not in ("piped", "lp"):
        raise Problem("In {file}, the family of the gas {code} is piped or lp.", file=file, code=code)
    numbers = {name: float(table[name]) for name in _NUMBERS}
    return Gas(code, table["name"], table["family"], source=table["source"], **numbers)


def find_gas(gases: Gases, code: str, *, field: str = "gas") -> Gas:
    """The gas called `code`; a Problem lists those there are."""
    try:
        return gases[code.strip().lower()]
    except KeyError:
        known = ", ".join(gases)
        raise Problem(
            "The gas {code} is not in the table. It has {known}.", field=field, code=code, known=known
        ) from None
