"""Which column of a table is what, and its lines read by that: good ones, and bad ones with what is wrong."""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from shopdesk.domain.folding import fold
from shopdesk.domain.money import decimals
from shopdesk.domain.problem import Problem
from shopdesk.exchange.tables_in.source import Table

Matching = Mapping[str, int]  # what is wanted -> column, counted from nought


@dataclass(frozen=True, slots=True)
class Wanted:
    """One thing asked of a table. `known_as`: titles it often has; `read` turns a cell into a value.

    `read` raises a Problem for a cell that cannot be that; an empty cell of what is not required is None.
    """

    key: str
    title: str
    known_as: tuple[str, ...]
    read: Callable[[str], Any]
    required: bool = False


@dataclass(frozen=True, slots=True)
class Line:
    """A line of the file by its number: its values, or what is wrong with it."""

    number: int
    values: dict[str, Any]
    problem: Problem | None = None


def suggest(titles: Sequence[str], wanted: Sequence[Wanted]) -> dict[str, int]:
    """Columns whose titles say what they are; a person has the last word."""
    folded = [fold(title) for title in titles]
    found: dict[str, int] = {}
    for one in wanted:
        names = [fold(one.title), *(fold(name) for name in one.known_as)]
        exact = [at for name in names for at, title in enumerate(folded) if title == name]
        near = [at for name in names for at, title in enumerate(folded) if name and name in title]
        free = [at for at in (*exact, *near) if at not in found.values()]
        if free:
            found[one.key] = free[0]
    return found


def missing(wanted: Sequence[Wanted], matching: Matching) -> list[Wanted]:
    """What is required and has no column."""
    return [one for one in wanted if one.required and one.key not in matching]


def read_lines(table: Table, wanted: Sequence[Wanted], matching: Matching) -> Iterator[Line]:
    """Every line of a table; the reading goes on after a bad one."""
    for number, cells in table.lines():
        values: dict[str, Any] = {}
        try:
            for one in wanted:
                at = matching.get(one.key, -1)
                cell = cells[at] if 0 <= at < len(cells) else ""
                if not cell and one.required:
                    raise Problem("{what} is empty.", field=one.key, what=one.title)
                values[one.key] = one.read(cell) if cell else None
        except Problem as problem:
            yield Line(number, values, problem)
        else:
            yield Line(number, values)


def read_text(most: int = 300) -> Callable[[str], str]:
    """A text of at most so many letters."""

    def read(cell: str) -> str:
        if len(cell) > most:
            raise Problem("“{cell}…” is too long.", cell=cell[:30])
        return " ".join(cell.split())

    return read


def read_whole(least: int = 0, most: int = 100_000) -> Callable[[str], int]:
    """A whole number."""

    def read(cell: str) -> int:
        digits = re.fullmatch(r"(\d{1,9})(?:[.,]0+)?", cell, re.ASCII)
        if digits is None or not least <= int(digits[1]) <= most:
            raise Problem("“{cell}” is no whole number from {least} to {most}.", cell=cell[:30], least=least,
                          most=most)  # fmt: skip
        return int(digits[1])

    return read


def read_amount(currency: str) -> Callable[[str], int]:
    """An amount in minor units: 1,234.50 or 1.234,50, with or without a sign of money.

    A single mark with three digits behind it may part thousands or decimals, and is refused.
    """
    places = decimals(currency)

    def read(cell: str) -> int:
        bare = re.sub(r"[^\d.,'-]", "", cell.replace("−", "-"))
        found = re.fullmatch(r"(\d{1,3}(?:[.,']\d{3})+|\d{1,9})(?:[.,](\d{1,6}))?", bare, re.ASCII)
        if found is None or re.search(r"\d\s*[a-z]{4,}", cell, re.IGNORECASE):
            raise Problem("“{cell}” is no amount.", cell=cell[:30])
        if re.fullmatch(r"\d{1,3}[.,]\d{3}", bare, re.ASCII):
            raise Problem("“{cell}” may mean thousands or decimals. Write it with two decimals.", cell=cell)
        whole, part = re.sub(r"\D", "", found[1]), (found[2] or "").rstrip("0")
        if len(part) > places:
            raise Problem("“{cell}” has more decimals than {money} has.", cell=cell[:30], money=currency)
        return int(whole + part.ljust(places, "0"))

    return read
