"""The rows of one job, cut out as a pattern: keys as ranks, numbers as places in their series."""

import re
import sqlite3
from collections.abc import Iterable, Mapping
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from shopdesk.storage.tables import Base

TABLES = Base.metadata.tables
# Kept by everybody, written by plans and mornings, or made anew from the other rows.
_NOT_COPIED = {
    "bench_plan", "caution_seen", "findable", "hours_word", "journal", "labour_rate", "leave", "letter",
    "local_tax_rate", "morning_odds", "number_series", "odd_day", "outwork_closure", "part", "part_fit",
    "party", "pin", "planned_task", "setting", "staff", "station", "stock_take", "stock_take_line",
    "tax_rate", "wage", "working_hours",
}  # fmt: skip
# Rows found through a row that points to them: table, and where its keys stand.
_POINTED_TO = {
    "gas_range": ("job", "range_id"),
    "purchase_order": ("purchase_line", "order_id"),
    "consignment": ("consignment_piece", "consignment_id"),
    "photograph": ("photograph_use", "photograph_id"),
}
CUSTOMERS = {("job", "customer_id"), ("gas_range", "owner_id"), ("invoice", "customer_id"),
             ("payment", "party_id"), ("paper", "party_id"), ("appointment", "party_id")}  # fmt: skip
JOURNALED = ("job", "walk_round", "quote", "agreement", "job_release", "invoice", "payment")
COPIED = tuple(t.name for t in Base.metadata.sorted_tables if t.name not in _NOT_COPIED)
_NUMBER = re.compile(r"\b([A-Z]-)(\d{4,})\b")
_MARK = "\x02{prefix}{rank}\x03"
_MARKED = re.compile("\x02([A-Z]-)(\\d+)\x03")
Rows = list[dict[str, Any]]


@dataclass(frozen=True)
class Pattern:
    """A job's rows by table. A key is a rank from 1 within its table, a number a rank in its series."""

    name: str
    rows: Mapping[str, Rows]
    numbers: Mapping[str, int]  # how many of a series it takes, by prefix
    journal: Rows
    ends_on: str  # the last day on which anything was done
    keys: Mapping[str, set[int]] = field(repr=False)  # the keys it had in the small shop

    def count(self, table: str) -> int:
        return len(self.rows.get(table, ()))


@dataclass(frozen=True)
class Copy:
    """One job to be written: which pattern, by how many days later, for which of the customers."""

    pattern: int
    days: int
    customer: int


def references(table: str) -> dict[str, str]:
    """Columns of a table that point to copied rows, and to which table."""
    found = {}
    for column in TABLES[table].columns:
        for key in column.foreign_keys:
            if key.column.table.name in COPIED:
                found[column.name] = key.column.table.name
    return found


def patterns_of(place: Path, jobs: Mapping[str, int]) -> list[Pattern]:
    """A pattern of each named job of a shop file that nobody has open."""
    with closing(sqlite3.connect(place)) as connection:
        connection.row_factory = sqlite3.Row
        return [_pattern(connection, name, job) for name, job in jobs.items()]


def marked(text: str, ranks: Mapping[str, str]) -> str:
    """Numbers of the pattern's own within a text, as places in their series."""
    return _NUMBER.sub(lambda found: ranks.get(found[0], found[0]), text)


def numbered(text: str | None, firsts: Mapping[str, int]) -> str | None:
    """A marked text with its numbers again, counted on from where each series stands."""
    if text is None or "\x02" not in text:
        return text
    return _MARKED.sub(lambda found: f"{found[1]}{firsts[found[1]] + int(found[2]):04d}", text)


def _pattern(connection: sqlite3.Connection, name: str, job: int) -> Pattern:
    keys = _keys(connection, job)
    raw = {table: _rows(connection, table, ids) for table, ids in keys.items() if ids}
    raw.update({table: _linked(connection, table, keys) for table in COPIED if "id" not in TABLES[table].c})
    _thin(raw)
    ranks = {
        table: {row["id"]: n for n, row in enumerate(rows, 1)}
        for table, rows in raw.items() if "id" in TABLES[table].c
    }  # fmt: skip
    places, taken = _places(raw)
    rows = {table: [_ranked(table, row, ranks, places) for row in of] for table, of in raw.items() if of}
    journal = _journal(connection, job, ranks)
    return Pattern(name, rows, taken, journal, max(deed["at"] for deed in journal)[:10], keys)


def _keys(connection: sqlite3.Connection, job: int) -> dict[str, set[int]]:
    """What belongs to a job, followed from row to row until nothing more is found."""
    keys: dict[str, set[int]] = {"job": {job}}
    size = -1
    while size != sum(map(len, keys.values())):
        size = sum(map(len, keys.values()))
        for table, (by, column) in _POINTED_TO.items():
            pointing = connection.execute(
                f"SELECT DISTINCT {column} FROM {by} WHERE id IN ({_listed(keys.get(by, ()))})"
            )
            keys.setdefault(table, set()).update(row[0] for row in pointing)
        for table in COPIED:
            if table not in _POINTED_TO and table != "job" and "id" in TABLES[table].c:
                keys.setdefault(table, set()).update(_pointing(connection, table, keys))
    return keys


def _pointing(connection: sqlite3.Connection, table: str, keys: Mapping[str, set[int]]) -> set[int]:
    among = [
        f"{column} IN ({_listed(keys.get(to, ()))})"
        for column, to in references(table).items() if to != table
    ]  # fmt: skip
    if not among:
        return set()
    return {row[0] for row in connection.execute(f"SELECT id FROM {table} WHERE {' OR '.join(among)}")}


def _rows(connection: sqlite3.Connection, table: str, ids: set[int]) -> Rows:
    found = connection.execute(f"SELECT * FROM {table} WHERE id IN ({_listed(ids)}) ORDER BY id")
    return [dict(row) for row in found]


def _linked(connection: sqlite3.Connection, table: str, keys: Mapping[str, set[int]]) -> Rows:
    """Rows of a table without a key of its own, by the first record they link."""
    column, to = next(iter(references(table).items()))
    ids = _listed(keys.get(to, ()))
    return [dict(row) for row in connection.execute(f"SELECT * FROM {table} WHERE {column} IN ({ids})")]


def _listed(ids: Iterable[int]) -> str:
    return ",".join(map(str, sorted(ids)))


def _thin(raw: dict[str, Rows]) -> None:
    """Of a walk-round stay the findings and what others refer to; of an order, one edge to each task.

    Every copied job would otherwise carry some hundred answers that say "sound".
    """
    referred = {
        row.get("observation_id") for table in ("task_cause", "photograph_use") for row in raw.get(table, ())
    }
    raw["observation"] = [r for r in raw.get("observation", ()) if r["finding"] or r["id"] in referred]
    raw["task_after"] = list({row["task_id"]: row for row in raw.get("task_after", ())}.values())


def _places(raw: Mapping[str, Rows]) -> tuple[dict[str, str], dict[str, int]]:
    """Every number the rows carry, as a place in its series, and how many of each series there are."""
    found = {row["number"] for rows in raw.values() for row in rows if row.get("number")}
    places: dict[str, str] = {}
    taken: dict[str, int] = {}
    for number in sorted(found):
        prefix = _NUMBER.fullmatch(number)
        if prefix is None:
            continue
        taken[prefix[1]] = taken.get(prefix[1], 0) + 1
        places[number] = _MARK.format(prefix=prefix[1], rank=taken[prefix[1]] - 1)
    return places, taken


def _ranked(
    table: str, row: dict[str, Any], ranks: Mapping[str, Mapping[int, int]], places: Mapping[str, str]
) -> dict[str, Any]:
    refers = references(table)
    made = dict(row)
    for column, value in row.items():
        if column == "id":
            made[column] = ranks[table][value]
        elif column in refers and value is not None:
            made[column] = ranks[refers[column]][value]
        elif isinstance(value, str):
            made[column] = marked(value, places)
    return made


def _journal(connection: sqlite3.Connection, job: int, ranks: Mapping[str, Mapping[int, int]]) -> Rows:
    """The journal of the job's chief records; of what changed, only their own plain facts."""
    names = ",".join(f"'{name}'" for name in JOURNALED)
    found = connection.execute(
        f"SELECT * FROM journal WHERE job_id = ? AND record IN ({names}) ORDER BY id", (job,)
    )
    return [
        {**dict(row), "record_id": ranks[row["record"]][row["record_id"]]}
        for row in found if row["record_id"] in ranks.get(row["record"], {})
    ]  # fmt: skip
