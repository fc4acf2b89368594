"""One table of a sheet, read field by field; what is wrong is collected, not raised."""

import datetime as dt
import difflib
from collections.abc import Iterable, Mapping
from decimal import Decimal, InvalidOperation
from enum import StrEnum
from typing import TypeVar, overload

from shopdesk.domain.money import decimals
from shopdesk.domain.problem import Problem

Table = Mapping[str, object]
Choice = TypeVar("Choice", bound=StrEnum)

_LONGEST = 4000  # characters of one text
_MOST_CENTS = 10**10


class Trouble:
    """What is wrong with one file, in the order it was met."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.problems: list[Problem] = []

    def add(self, entry: str, what: str, /, **facts: object) -> None:
        self.problems.append(
            Problem("{file}, {entry}: " + what, field=entry, file=self.file, entry=entry, **facts)
        )


class Entry:
    """One table; a field that is wrong leaves a Problem and comes back as its default."""

    def __init__(self, table: Table, name: str, trouble: Trouble) -> None:
        self.table = table
        self.name = name
        self.trouble = trouble

    def refuse(self, what: str, /, **facts: object) -> None:
        self.trouble.add(self.name, what, **facts)

    def only(self, known: Iterable[str]) -> None:
        """Refuse every field nobody knows, mostly a slip of the pen."""
        names = list(known)
        for key in self.table:
            if key not in names:
                self.refuse(
                    "the field {key} is not known. {hint}",
                    key=key,
                    hint=nearest(key, names) or "Take it out.",
                )

    def below(self, key: str) -> "Entry":
        """The table under a key; an empty one when it is missing or something else."""
        value = self.table.get(key, {})
        if not isinstance(value, dict):
            self.refuse("{key} is not a table. Write it as [{key}].", key=key)
            value = {}
        return Entry(value, key, self.trouble)

    def each(self, key: str) -> list["Entry"]:
        """The tables of a list, numbered from 1."""
        value = self.table.get(key, [])
        if not isinstance(value, list) or not all(isinstance(table, dict) for table in value):
            self.refuse("{key} is not a list of tables. Write each as [[{key}]].", key=key)
            return []
        return [Entry(table, f"{key} {n}", self.trouble) for n, table in enumerate(value, 1)]

    def text(self, key: str) -> str:
        """A text, or a day as written; empty when it is not there."""
        value = self.table.get(key, "")
        if isinstance(value, dt.date):
            return value.isoformat()
        if not isinstance(value, str):
            self.refuse("{key} is not a text. Put it in quotes.", key=key)
            return ""
        if len(value) > _LONGEST:
            self.refuse("{key} is longer than {most} characters. Shorten it.", key=key, most=_LONGEST)
            return value[:_LONGEST]
        return value.strip()

    def whole(self, key: str, default: int, low: int, high: int) -> int:
        value = self.table.get(key, default)
        if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
            self.refuse(
                "{key} is {value}. Write a whole number from {low} to {high}.",
                key=key,
                value=shortened(value),
                low=low,
                high=high,
            )
            return default
        return value

    def yes(self, key: str, default: bool) -> bool:
        value = self.table.get(key, default)
        if not isinstance(value, bool):
            self.refuse("{key} is {value}. Write true or false.", key=key, value=shortened(value))
            return default
        return value

    @overload
    def choice(self, key: str, kind: type[Choice], default: Choice) -> Choice: ...
    @overload
    def choice(self, key: str, kind: type[Choice], default: None) -> Choice | None: ...
    def choice(self, key: str, kind: type[Choice], default: Choice | None) -> Choice | None:
        word = self.word(key, [member.value for member in kind], default or "")
        return kind(word) if word else default

    def word(self, key: str, known: list[str], default: str) -> str:
        """One of some words."""
        value = self.table.get(key, default)
        if value != default and value not in known:
            self.refuse(
                "{key} is {value}. Write one of: {known}.",
                key=key,
                value=shortened(value),
                known=", ".join(known),
            )
            return default
        return str(value)

    def amount(self, key: str, currency: str) -> int | None:
        """Money as a text such as "450.00", or a whole number of the currency's unit, in minor units."""
        value = self.table.get(key)
        if value is None:
            return None
        unit = 10 ** decimals(currency)
        try:
            if isinstance(value, bool) or not isinstance(value, int | str):
                raise ValueError("a float is not money")
            minor = Decimal(value) * unit
            if not minor.is_finite() or minor != minor.to_integral_value() or not 0 <= minor <= _MOST_CENTS:
                raise ValueError("not an amount")
        except (ValueError, InvalidOperation):
            self.refuse(
                '{key} is {value}. Write an amount in quotes, such as "450.00".',
                key=key,
                value=shortened(value),
            )
            return None
        return int(minor)

    def codes(self, key: str, known: Mapping[str, object], what: str) -> tuple[str, ...]:
        """A list of codes the catalogue has, each once."""
        value = self.table.get(key, [])
        if not isinstance(value, list) or not all(isinstance(code, str) for code in value):
            self.refuse('{key} is not a list of codes. Write {key} = ["...", "..."].', key=key)
            return ()
        kept: list[str] = []
        for code in value:
            if code not in known:
                self.refuse(
                    "{key} names {code}, and the catalogue has no such {what}. {hint}",
                    key=key,
                    code=shortened(code),
                    what=what,
                    hint=nearest(code, known) or "Look it up in the catalogue.",
                )
            elif code in kept:
                self.refuse("{key} names {code} twice. Leave it in once.", key=key, code=code)
            else:
                kept.append(code)
        return tuple(kept)


def nearest(word: str, known: Iterable[str]) -> str:
    """A question that offers the nearest known word; empty when none is near."""
    found = difflib.get_close_matches(word[:80], list(known), n=1, cutoff=0.6)
    return f"Did you mean {found[0]}?" if found else ""


def shortened(value: object) -> str:
    """A value as it may stand in a sentence."""
    text = str(value)
    return text if len(text) <= 60 else text[:57] + "..."
