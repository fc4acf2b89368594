"""One table of a catalogue file, read field by field; what is wrong is collected, not raised.

Every complaint names the file, the entry and the fix, so that a restorer can mend the file.
This room must not know what a checkpoint or a task is.
"""

import re
from collections.abc import Callable, Mapping
from decimal import Decimal, InvalidOperation
from enum import StrEnum
from typing import TypeVar

from shopdesk.domain.money import NOTHING, Spread, round_half_up

Table = Mapping[str, object]
Choice = TypeVar("Choice", bound=StrEnum)

_CODE = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


class Complaints:
    """What is wrong with the files, in the order it was met."""

    def __init__(self) -> None:
        self.lines: list[str] = []

    def add(self, file: str, entry: str, what: str, fix: str) -> None:
        self.lines.append(f"{file}: {entry}: {what} {fix}")


class Entry:
    """One table; a field that is wrong leaves a complaint and comes back as its default."""

    def __init__(self, table: Table, file: str, name: str, complaints: Complaints) -> None:
        self.table = table
        self.file = file
        self.name = name
        self.complaints = complaints
        self._asked: set[str] = set()

    def refuse(self, what: str, fix: str) -> None:
        self.complaints.add(self.file, self.name, what, fix)

    def has(self, key: str) -> bool:
        return key in self.table

    def _take(self, key: str) -> object:
        self._asked.add(key)
        return self.table.get(key)

    def text(self, key: str, default: str | None = None) -> str:
        """A string; without a default it must be there and not empty."""
        value = self._take(key)
        if value is None and default is not None:
            return default
        if not isinstance(value, str) or (default is None and not value.strip()):
            self.refuse(f"{key} is missing or not a text.", f'Write {key} = "...".')
            return default or ""
        return value.strip()

    def code(self, key: str = "code") -> str:
        """Lower-case words joined by hyphens."""
        value = self.text(key)
        if value and not _CODE.fullmatch(value):
            self.refuse(f"{key} “{value}” is not a code.", "Use lower-case words joined by hyphens.")
        return value

    def words(self, key: str) -> tuple[str, ...]:
        """A list of strings, empty when it is not there."""
        value = self._take(key)
        if value is None:
            return ()
        if not isinstance(value, list) or not all(isinstance(word, str) for word in value):
            self.refuse(f"{key} is not a list of texts.", f'Write {key} = ["...", "..."].')
            return ()
        if len(set(value)) < len(value):
            self.refuse(f"{key} names something twice.", "Leave each name in once.")
        return tuple(value)

    def yes(self, key: str, default: bool = False) -> bool:
        value = self._take(key)
        if value is None:
            return default
        if not isinstance(value, bool):
            self.refuse(f"{key} is neither true nor false.", f"Write {key} = true or leave it out.")
            return default
        return value

    def whole(self, key: str, low: int, high: int, default: int | None = None) -> int:
        """A whole number from `low` to `high`; required without a default."""
        value = self._take(key)
        if value is None and default is not None:
            return default
        if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
            self.refuse(f"{key} is not a whole number from {low} to {high}.", f"Write {key} = {low}.")
            return low if default is None else default
        return value

    def share(self, key: str, default: float | None = None) -> float:
        """A share of one, 0 to 1; required without a default."""
        value = self._take(key)
        if value is None and default is not None:
            return default
        if isinstance(value, bool) or not isinstance(value, int | Decimal) or not 0 <= value <= 1:
            self.refuse(f"{key} is not between 0 and 1.", f"Write {key} = 0.1 for one in ten.")
            return default or 0.0
        return float(value)

    def choice(self, key: str, kind: type[Choice], default: Choice) -> Choice:
        """One word of an enumeration."""
        value = self._take(key)
        try:
            return kind(str(value))
        except ValueError:
            known = ", ".join(kind)
            self.refuse(f"{key} “{value}” is not known.", f"Write one of: {known}.")
            return default

    def optional_choice(self, key: str, kind: type[Choice]) -> Choice | None:
        if not self.has(key):
            return None
        return self.choice(key, kind, next(iter(kind)))

    def one_of(self, key: str, known: frozenset[str]) -> str:
        """One of the known words, or empty when the field is not there."""
        value = self.text(key, "")
        if value and value not in known:
            self.refuse(f"{key} “{value}” is not known.", f"Write one of: {', '.join(sorted(known))}.")
        return value

    def money(self, key: str) -> Spread:
        """Three amounts as texts, in cents; nothing when the field is not there."""
        return self._spread(key, self._cents, f'Write {key} = ["10.00", "15.00", "30.00"].')

    def minutes(self, key: str) -> Spread:
        """Three figures in hours, in whole minutes (half a minute rounds up)."""
        fix = f"Write {key} = [0.2, 0.5, 1.0], in hours."
        return self._spread(key, lambda hours: round_half_up(_number(hours) * 60), fix)

    def days(self, key: str) -> Spread:
        return self._spread(key, _whole, f"Write {key} = [5, 10, 20], in whole days.")

    def amount(self, key: str) -> int:
        """One amount as a text, in cents; required."""
        try:
            return self._cents(self._take(key))
        except (ValueError, InvalidOperation):
            self.refuse(f"{key} is not an amount of money.", f'Write {key} = "95.00".')
            return 0

    @staticmethod
    def _cents(value: object) -> int:
        if not isinstance(value, str):
            raise ValueError("money is written as a text")
        cents = Decimal(value) * 100
        if cents != cents.to_integral_value() or cents < 0:
            raise ValueError("more than two decimals")
        return int(cents)

    def _spread(self, key: str, read: Callable[[object], int], fix: str) -> Spread:
        value = self._take(key)
        if value is None:
            return NOTHING
        if not isinstance(value, list) or len(value) != 3:
            self.refuse(f"{key} is not a low, a likely and a high figure.", fix)
            return NOTHING
        try:
            low, likely, high = (read(figure) for figure in value)
        except (ValueError, InvalidOperation):
            self.refuse(f"{key} holds something that is not a figure of this kind.", fix)
            return NOTHING
        if not 0 <= low <= likely <= high:
            self.refuse(f"{key} is not in order from low to high.", "Put the smallest figure first.")
            return NOTHING
        return Spread(low, likely, high)

    def tables(self, key: str, named: str) -> list["Entry"]:
        """The tables of a list below this entry, each with a name for its complaints."""
        value = self._take(key)
        if value is None:
            return []
        if not isinstance(value, list) or not all(isinstance(table, dict) for table in value):
            self.refuse(f"{key} is not a list of tables.", f"Write {key} = [{{ ... }}].")
            return []
        return [Entry(table, self.file, f"{self.name}, {named} {_name(table, n)}", self.complaints)
                for n, table in enumerate(value, 1)]  # fmt: skip

    def table_at(self, key: str) -> "Entry | None":
        """The one table below this entry."""
        value = self._take(key)
        if value is None:
            return None
        if not isinstance(value, dict):
            self.refuse(f"{key} is not a table.", f"Write {key} = {{ ... }}.")
            return None
        return Entry(value, self.file, f"{self.name}, {key}", self.complaints)

    def done(self) -> None:
        """Complain about every field nobody asked for: mostly a slip of the pen."""
        for key in self.table:
            if key not in self._asked:
                known = ", ".join(sorted(self._asked))
                self.refuse(f"the field “{key}” is not known.", f"Take it out or use one of: {known}.")


def _name(table: Table, place: int) -> str:
    return str(table.get("code") or table.get("key") or table.get("name") or place)


def _number(value: object) -> Decimal:
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        raise ValueError("not a number")
    return Decimal(value)


def _whole(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise ValueError("not a whole number")
    return value
