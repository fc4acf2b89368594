"""What a screen had read when somebody began to type, and what others wrote since.

The journal says it: a screen remembers how long the journal was when it was read. What a unit of work is
about to overwrite is compared with the journal's rows from there on, in its own transaction and after its
rows are locked, so that no table needs a column for it and no service can forget it.
"""

from collections.abc import Iterator, Mapping
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.changed import Difference, Path, Seen
from shopdesk.storage.tables.shop import Journal

Fields = Mapping[str, Mapping[str, Any]]  # a record's key and its columns, as a journal row has them

# Follows from facts, or is counted by the database: nobody types it.
DERIVED = {
    "job": frozenset({"stage", "held_for", "held_what", "held_since"}),
    "party": frozenset({"search_text"}),
    "gas_range": frozenset({"search_text"}),
}
# Written by the program with every change: two seats always differ in it.
_STAMPS = {
    "observation": frozenset({"at"}),
    "setting": frozenset({"edition"}),
    "staff": frozenset({"signed_in_at", "failed_at", "failed_count"}),
}


def journal_length(asked: Session | sa.Connection) -> int:
    """The key of the newest journal row; 0 in a new shop."""
    return asked.scalar(sa.select(sa.func.max(Journal.id))) or 0


def differences(session: Session, seen: Seen, before: Fields, after: Fields) -> list[Difference]:
    """Every field this unit of work overwrites and somebody else changed since it was read.

    Equal texts are none, nor is what the program writes by itself. Asked after the flush: the rows are
    locked, and whoever came first is in the journal.
    """
    newer = sa.select(Journal).where(Journal.id > seen.length).order_by(Journal.id)
    rows = [row for row in session.scalars(newer) if row.id not in seen.own]
    found: list[Difference] = []
    for key, old in before.items():
        touching = [row for row in rows if key in row.after]
        if touching:
            found += _of_record(key, old, after.get(key), touching)
    return found


def _of_record(
    key: str, old: Mapping[str, Any], new: Mapping[str, Any] | None, rows: list[Journal]
) -> Iterator[Difference]:
    theirs: dict[Path, Difference] = {}
    for row in rows:
        was = dict(_leaves(row.before.get(key, {})))
        for path, value in _leaves(row.after[key]):
            if was.get(path) == value or _is_stamp(key, path):
                continue
            first = theirs.get(path)
            stood = first.before if first else was.get(path)
            theirs[path] = Difference(key, path, stood, value, None, row.who, row.at)
    if new is None:  # this would take away a record that they changed
        for row in rows[-1:] if theirs else ():
            said = {path[-1]: each.theirs for path, each in theirs.items()}
            yield Difference(
                key, (), {p[-1]: e.before for p, e in theirs.items()}, said, None, row.who, row.at
            )
        return
    stood_now = dict(_leaves(old))
    for path, mine in _leaves(new):
        each = theirs.get(path)
        if each is not None and stood_now.get(path) != mine and mine != each.theirs:
            yield Difference(key, path, each.before, each.theirs, mine, each.who, each.at)


def _is_stamp(key: str, path: Path) -> bool:
    table = key.partition(" ")[0]
    silent = DERIVED.get(table, frozenset()) | _STAMPS.get(table, frozenset())
    return path[-1] in silent or path[0] == "version"


def _leaves(fields: Mapping[str, Any], above: Path = ()) -> Iterator[tuple[Path, Any]]:
    """Every value with the way to it; a document is entered, a list is one value."""
    for name, value in fields.items():
        if isinstance(value, dict) and value:
            yield from _leaves(value, (*above, name))
        else:
            yield (*above, name), value
