"""The journal of copied jobs: in the order of time, every row chained by its hash to the one before."""

import datetime as dt
import json
import sqlite3
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from shopdesk.storage.growing.patterns import Copy, Pattern
from shopdesk.storage.unit_of_work import journal_hash


def write_journal(
    connection: sqlite3.Connection,
    patterns: Sequence[Pattern],
    copies: Sequence[Copy],
    keys: Sequence[Mapping[str, int]],
    last: int,
) -> int:
    """The copies' journal in the order of time, chained on to the setting-up's."""
    previous = connection.execute("SELECT hash FROM journal WHERE id = ?", (last,)).fetchone()
    previous_hash = previous[0] if previous else ""
    deeds = sorted(
        (_moved(deed["at"], copy.days), n, place)
        for n, copy in enumerate(copies)
        for place, deed in enumerate(patterns[copy.pattern].journal)
    )

    def rows() -> Iterable[tuple[Any, ...]]:
        hashed = previous_hash
        for key, (at, n, place) in enumerate(deeds, last + 1):
            deed = patterns[copies[n].pattern].journal[place]
            row = _deed(key, at, deed, keys[n]) | {"previous_hash": hashed}
            hashed = journal_hash(row)
            yield (*(_stored(value) for value in row.values()), hashed)

    columns = ", ".join((*_DEED, "hash"))
    connection.executemany(
        f"INSERT INTO journal ({columns}) VALUES ({', '.join('?' * (len(_DEED) + 1))})", rows()
    )
    return len(deeds)


_DEED = (
    "id",
    "at",
    "staff_id",
    "who",
    "action",
    "record",
    "record_id",
    "job_id",
    "before",
    "after",
    "previous_hash",
)


def _deed(key: int, at: str, deed: Mapping[str, Any], keys: Mapping[str, int]) -> dict[str, Any]:
    record_id, job_id = keys[deed["record"]] + deed["record_id"], keys["job"] + 1
    about, old = f"{deed['record']} {record_id}", f"{deed['record']} "
    return {
        "id": key, "at": dt.datetime.fromisoformat(at), "staff_id": deed["staff_id"], "who": deed["who"],
        "action": deed["action"], "record": deed["record"], "record_id": record_id, "job_id": job_id,
        "before": _plain(json.loads(deed["before"]), old, about),
        "after": _plain(json.loads(deed["after"]), old, about),
    }  # fmt: skip


def _plain(changes: Mapping[str, Mapping[str, Any]], old: str, about: str) -> dict[str, Any]:
    """Of a deed, what it changed on the record itself: stages, kinds and amounts."""
    for key, values in changes.items():
        if key.startswith(old):
            kept = {k: v for k, v in values.items() if k in _TELLING}
            return {about: kept}
    return {}


_TELLING = (
    "stage",
    "held_for",
    "kind",
    "amount_cents",
    "gross_cents",
    "net_cents",
    "purpose",
    "scope",
    "basis",
)


def _stored(value: Any) -> Any:
    if isinstance(value, dt.datetime):
        return value.astimezone(dt.UTC).isoformat(timespec="microseconds")
    return json.dumps(value, sort_keys=True, ensure_ascii=False) if isinstance(value, dict) else value


def _moved(at: str, days: int) -> str:
    moved = dt.date.fromisoformat(at[:10]) + dt.timedelta(days=days)
    return moved.isoformat() + at[10:]
