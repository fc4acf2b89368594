"""Drill sizes: number sizes 80 to 1 and letters A to Z, read from a table.

A spud is drilled with one of these; the table is given, never looked for.
"""

import csv
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from shopdesk.domain.measured import figure_as
from shopdesk.domain.problem import Problem
from shopdesk.domain.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Drill:
    """One size: `80` to `1`, or `A` to `Z`."""

    size: str
    diameter_in: float


Drills = tuple[Drill, ...]
"""A table in rising diameter."""


def read_drills(path: Path) -> Drills:
    """The table in `path` (csv: size, diameter_in), smallest first; a Problem names file and row."""
    drills: list[Drill] = []
    with path.open(encoding="utf-8", newline="") as stream:
        rows = csv.DictReader(line for line in stream if not line.startswith("#"))
        for number, row in enumerate(rows, start=1):
            drills.append(_drill(row, path.name, number))
    if not drills:
        raise Problem("The drill table {file} has no rows. Put the shipped table back.", file=path.name)
    return tuple(sorted(drills, key=lambda d: d.diameter_in))


def _drill(row: dict[str, str], file: str, number: int) -> Drill:
    try:
        drill = Drill(row["size"].strip().upper(), float(row["diameter_in"]))
    except (KeyError, ValueError, AttributeError):
        drill = Drill("", 0.0)
    if not drill.size or not 0 < drill.diameter_in < 1:
        raise Problem(
            "In the drill table {file}, row {row} needs a size and a diameter below 1 inch. Mend the row.",
            file=file,
            row=number,
        )
    return drill


def find(drills: Drills, size: str) -> Drill:
    """The drill called `size` (`50`, `#50`, `No. 50`, `a`); a Problem suggests the nearest."""
    wanted = re.sub(r"^(#|no\.?|nr\.?)\s*", "", size.strip(), flags=re.IGNORECASE).upper()
    for drill in drills:
        if drill.size == wanted:
            return drill
    near = _nearest_name(drills, wanted)
    raise Problem(
        "There is no drill “{size}”; sizes are 80 to 1 and A to Z. The nearest is {near} ({inches} in).",
        field="drill",
        size=size.strip(),
        near=near.size,
        inches=figure_as(near.diameter_in, ".4f", Quantity.HOLE),
    )


def _nearest_name(drills: Drills, wanted: str) -> Drill:
    """A guess at what was meant: a fraction or decimal is a diameter, a number a number size."""
    fraction = re.fullmatch(r"(\d{1,4})/(\d{1,4})", wanted)
    if fraction and int(fraction[2]):
        return nearest_diameter(drills, int(fraction[1]) / int(fraction[2]))
    if re.fullmatch(r"\d*\.\d+", wanted):
        return nearest_diameter(drills, float(wanted))
    number = re.match(r"-?\d{1,9}", wanted)
    numbered = [d for d in drills if d.size.isdigit()]
    if number and numbered:
        return min(numbered, key=lambda d: abs(int(d.size) - int(number[0])))
    return next((d for d in drills if d.size == wanted[:1]), drills[-1])


def nearest_diameter(drills: Drills, diameter_in: float) -> Drill:
    return min(drills, key=lambda d: abs(d.diameter_in - diameter_in))


def nearest_area(drills: Drills, diameter_in: float) -> Drill:
    """The drill whose hole passes most nearly the same gas (flow goes with the square of the diameter)."""
    return min(drills, key=lambda d: abs(d.diameter_in**2 - diameter_in**2))


def neighbours(drills: Sequence[Drill], drill: Drill) -> tuple[Drill | None, Drill | None]:
    """The next size down and the next size up; None at the ends of the table."""
    place = list(drills).index(drill)
    smaller = drills[place - 1] if place else None
    larger = drills[place + 1] if place + 1 < len(drills) else None
    return smaller, larger
