"""What two seats wrote over the same text: the one that came first, and the one that would undo it.

Plain values as the journal has them; how they are called and written is for the screen.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from shopdesk.domain.problem import ChangedMeanwhile

Path = tuple[str, ...]  # a column, and below it the way into a document; () is the record as a whole


@dataclass
class Seen:
    """How far the journal was when a screen read what it shows, kept by the screen with its form.

    `own` are the journal's rows this screen wrote since: nobody is told of what he did himself. `theirs`
    are fields in which the other's text stands by choice; what was put back there is in `put_back`.
    """

    length: int
    own: set[int] = field(default_factory=set)
    theirs: frozenset[tuple[str, Path]] = frozenset()
    put_back: dict[tuple[str, Path], Any] = field(default_factory=dict)

    def chosen(self, row_key: str, column: str, stands: Any, wanted: Any) -> Any:
        """The value a column is to get: `wanted`, with `stands` wherever theirs was chosen."""
        for key, path in self.theirs:
            if key != row_key or not path or path[0] != column:
                continue
            wanted = _with(wanted, path[1:], _at(stands, path[1:]))
            self.put_back[key, path] = _at(stands, path[1:])
        return wanted


@dataclass(frozen=True, slots=True)
class Difference:
    """One field of one record; `key` is its table and key as the journal writes them ("party 12")."""

    key: str
    path: Path
    before: Any  # what stood when the screen was read
    theirs: Any
    mine: Any
    who: str
    at: dt.datetime

    @property
    def mine_is_untouched(self) -> bool:
        """Whether only they changed it: this screen merely shows what stood before."""
        return bool(self.mine == self.before)


class Changed(ChangedMeanwhile):
    """Somebody saved what this screen still shows as it was; nothing was written.

    `length` is how far the journal was when they were compared: who chooses among the differences has
    seen everything up to there.
    """

    def __init__(self, differences: Sequence[Difference], length: int) -> None:
        last = max(differences, key=lambda each: each.at)
        super().__init__(
            "{who} saved this while you had it open. Nothing you typed is lost: "
            "look at both texts and choose what is to stand.",
            who=last.who,
        )
        self.differences = tuple(differences)
        self.length = length
        self.who, self.at = last.who, last.at


def _at(value: Any, path: Path) -> Any:
    for name in path:
        value = value.get(name) if isinstance(value, dict) else None
    return value


def _with(document: Any, path: Path, value: Any) -> Any:
    """The document with another value at the end of the way."""
    if not path:
        return value
    inside = document if isinstance(document, dict) else {}
    return {**inside, path[0]: _with(inside.get(path[0]), path[1:], value)}
