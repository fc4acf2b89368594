"""Writes copies of patterns into a shop file: one INSERT ... SELECT a table, keys and days shifted.

The file is not a shop while it grows. Guards sleep and are made again as they were; everything is
numbered anew without a gap, and journal and search words are made for what stands there.
"""

import hashlib
import sqlite3
from collections.abc import Callable, Iterable, Sequence
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy.dialects import sqlite

from shopdesk.domain.folding import fold
from shopdesk.storage.column_types import Day, UtcTime
from shopdesk.storage.growing.deeds import write_journal
from shopdesk.storage.growing.patterns import COPIED, CUSTOMERS, TABLES, Copy, Pattern, numbered, references
from shopdesk.storage.searching import made_findable

Told = Callable[[str, int], None]
_CUSTOMER = -1  # stands for the copy's own customer in a pattern's rows
_FAST = ("journal_mode=OFF", "synchronous=OFF", "foreign_keys=OFF", "cache_size=-400000", "temp_store=MEMORY")


@dataclass(frozen=True)
class Customer:
    """Someone invented."""

    name: str
    phone: str
    street: str
    town: str


def grow(
    place: Path, patterns: Sequence[Pattern], copies: Sequence[Copy], customers: Sequence[Customer],
    stand_ins: tuple[bytes, bytes], told: Told,
) -> None:  # fmt: skip
    """Puts the copies in the place of the patterns' own jobs. `told` hears each table with its rows.

    `stand_ins` are a small picture and a small paper; each copy of one gets its number behind the end.
    """
    with closing(sqlite3.connect(place, isolation_level=None)) as connection:
        for pragma in _FAST:
            connection.execute(f"PRAGMA {pragma}")
        connection.execute("BEGIN EXCLUSIVE")
        asleep = _sleep(connection)
        kept = _take_out(connection, patterns)
        people = _write_customers(connection, customers)
        _reach_back(connection, min(copy.days for copy in copies))
        counts = _Bases(patterns, copies, people)
        counts.write(connection)
        _add_functions(connection, counts, *stand_ins)
        for table in COPIED:
            told(table, _copy_table(connection, table, patterns, counts))
        _set_series(connection, counts)
        told("journal", write_journal(connection, patterns, copies, counts.keys, kept))
        told("findable", _write_findable(connection))
        for sql in asleep:
            connection.execute(sql)
        connection.execute("INSERT INTO ft_findable (ft_findable) VALUES ('rebuild')")
        connection.execute("COMMIT")
        if connection.execute("PRAGMA foreign_key_check").fetchone():
            raise RuntimeError("the grown shop has a row that points nowhere")
        connection.execute("PRAGMA journal_mode=WAL")


def _sleep(connection: sqlite3.Connection) -> list[str]:
    """Drops guards and indexes; returns what makes them again."""
    found = connection.execute(
        "SELECT type, name, sql FROM sqlite_master WHERE type IN ('trigger', 'index') AND sql IS NOT NULL "
        "ORDER BY type, name"
    ).fetchall()
    for kind, name, _sql in found:
        connection.execute(f'DROP {kind} "{name}"')
    return [sql for _kind, _name, sql in found]


def _take_out(connection: sqlite3.Connection, patterns: Sequence[Pattern]) -> int:
    """Removes the jobs the patterns were cut from; returns the last journal row of the setting-up."""
    jobs = ",".join(str(key) for pattern in patterns for key in pattern.keys["job"])
    first = connection.execute(f"SELECT min(id) FROM journal WHERE job_id IN ({jobs})").fetchone()[0]
    for table in COPIED:
        if "id" in TABLES[table].c:
            ids = ",".join(str(key) for pattern in patterns for key in pattern.keys.get(table, ()))
            connection.execute(f"DELETE FROM {table} WHERE id IN ({ids})")
        else:
            connection.execute(f"DELETE FROM {table}")
    connection.execute("DELETE FROM journal WHERE id >= ?", (first,))
    return int(first) - 1


def _reach_back(connection: sqlite3.Connection, days: int) -> None:
    """Wages, rates and taxes hold from before the first job on."""
    for table in ("wage", "labour_rate", "tax_rate"):
        connection.execute(f"UPDATE {table} SET from_day = date(from_day, ?)", (f"{days:+d} days",))


def _write_customers(connection: sqlite3.Connection, customers: Sequence[Customer]) -> int:
    """Returns the key before the first of them."""
    last = int(connection.execute("SELECT coalesce(max(id), 0) FROM party").fetchone()[0])
    connection.executemany(
        "INSERT INTO party (id, name, phone, street, town, is_firm, supplies, version, search_text) "
        "VALUES (?, ?, ?, ?, ?, 0, 0, 1, ?)",
        (
            (last + n, c.name, c.phone, c.street, c.town, fold(f"{c.name} {c.phone} {c.town} {c.street}"))
            for n, c in enumerate(customers, 1)
        ),
    )
    return last


class _Bases:
    """Where each copy's keys and numbers begin, table by table and series by series."""

    def __init__(self, patterns: Sequence[Pattern], copies: Sequence[Copy], people: int) -> None:
        self.tables = [t for t in COPIED if "id" in TABLES[t].c and any(p.count(t) for p in patterns)]
        self.prefixes = sorted({prefix for pattern in patterns for prefix in pattern.numbers})
        self.people = people
        self._patterns, self._copies = patterns, copies
        self.firsts: list[dict[str, int]] = []  # of each copy, by prefix
        self.keys: list[dict[str, int]] = []  # of each copy, by table
        self.next = dict.fromkeys(self.prefixes, 1)

    def write(self, connection: sqlite3.Connection) -> None:
        """The copies as a table, with a column for the first key of every table."""
        columns = ", ".join(f"b_{table} INTEGER" for table in self.tables)
        connection.execute(
            "CREATE TEMP TABLE copies "
            f"(n INTEGER PRIMARY KEY, pattern INTEGER, days TEXT, customer INTEGER, {columns})"
        )
        holes = ", ".join("?" * (4 + len(self.tables)))
        connection.executemany(f"INSERT INTO copies VALUES ({holes})", self._counted(connection))

    def _counted(self, connection: sqlite3.Connection) -> Iterable[tuple[Any, ...]]:
        at = {
            t: connection.execute(f"SELECT coalesce(max(id), 0) FROM {t}").fetchone()[0] for t in self.tables
        }
        for n, copy in enumerate(self._copies):
            pattern = self._patterns[copy.pattern]
            self.firsts.append(dict(self.next))
            self.keys.append(dict(at))
            yield (n, copy.pattern, f"{copy.days:+d} days", self.people + 1 + copy.customer, *at.values())
            for table in self.tables:
                at[table] += pattern.count(table)
            for prefix, taken in pattern.numbers.items():
                self.next[prefix] += taken


def _add_functions(connection: sqlite3.Connection, counts: _Bases, picture: bytes, paper: bytes) -> None:
    makers: dict[str, tuple[int, Callable[..., Any]]] = {
        "fold": (1, fold),
        "numbered": (2, lambda text, n: numbered(text, counts.firsts[n])),
        "picture": (1, lambda key: picture + b"%d" % key),
        "paper_pdf": (1, lambda key: paper + b"%% %d" % key),
        "sha256": (1, lambda data: hashlib.sha256(data).hexdigest()),
    }
    for name, (takes, made) in makers.items():
        connection.create_function(name, takes, made, deterministic=True)


# What is not simply carried over; `r` is the pattern's row and `c` the copy.
_OWN = {
    ("gas_range", "serial"): "upper(substr(r.maker, 1, 2)) || ' ' || (1000 + 7 * c.n)",
    ("gas_range", "search_text"):
        "fold(numbered(r.number, c.n) || ' ' || r.maker || ' ' || r.model || ' ' || "
        "upper(substr(r.maker, 1, 2)) || ' ' || (1000 + 7 * c.n) || ' ' "
        "|| r.colour || ' ' || r.stands_at || ' ' || r.note)",
    ("photograph", "data"): "picture(c.b_photograph + r.id)",
    ("photograph", "thumbnail"): "picture(0)",
    ("photograph", "sha256"): "sha256(picture(c.b_photograph + r.id))",
    ("photograph", "media_type"): "'image/jpeg'",
    ("photograph", "width"): "16",
    ("photograph", "height"): "12",
    ("paper", "pdf"): "paper_pdf(c.b_paper + r.id)",
    ("paper", "sha256"): "sha256(paper_pdf(c.b_paper + r.id))",
    ("paper", "facts"): "'{}'",
}  # fmt: skip


def _copy_table(
    connection: sqlite3.Connection, table: str, patterns: Sequence[Pattern], counts: _Bases
) -> int:
    """All copies of a table's rows at once; returns how many."""
    rows = [(n, row) for n, pattern in enumerate(patterns) for row in pattern.rows.get(table, ())]
    if not rows:
        return 0
    columns = [c.name for c in TABLES[table].columns]
    owners = _customer_keys(patterns)
    connection.execute(f"CREATE TEMP TABLE r_{table} (pattern INTEGER, {', '.join(columns)})")
    connection.executemany(
        f"INSERT INTO r_{table} VALUES ({', '.join('?' * (len(columns) + 1))})",
        ([n, *(_anyone(table, c, row[c], owners[n]) for c in columns)] for n, row in rows),
    )
    connection.execute(f"CREATE INDEX temp.i_{table} ON r_{table} (pattern)")
    texts = {c for c in columns if any("\x02" in row[c] for _, row in rows if isinstance(row[c], str))}
    taken = ", ".join(_taken(table, column, column in texts, counts.tables) for column in columns)
    made = connection.execute(
        f"INSERT INTO main.{table} ({', '.join(columns)}) SELECT {taken} FROM copies c "
        f"CROSS JOIN r_{table} r ON r.pattern = c.pattern ORDER BY c.n, r.rowid"
    ).rowcount
    connection.execute(f"DROP TABLE temp.r_{table}")
    return made


def _customer_keys(patterns: Sequence[Pattern]) -> list[int | None]:
    """Whose the pattern's job is: the customer, or who bought it."""
    found = []
    for pattern in patterns:
        billed = [row["customer_id"] for row in pattern.rows.get("invoice", ())]
        found.append(
            next(iter([pattern.rows["job"][0]["customer_id"], *billed]), None) or next(iter(billed), None)
        )
    return found


def _anyone(table: str, column: str, value: Any, owner: int | None) -> Any:
    return _CUSTOMER if (table, column) in CUSTOMERS and value == owner and owner is not None else value


def _taken(table: str, column: str, holds_number: bool, copied: Sequence[str]) -> str:
    """How a column of a copy follows from the pattern's."""
    if (table, column) in _OWN:
        return _OWN[table, column]
    kind = TABLES[table].columns[column].type
    refers = references(table)
    if column == "id" or refers.get(column) in copied:
        return f"c.b_{refers.get(column, table)} + r.{column}"
    if (table, column) in CUSTOMERS:
        return f"CASE r.{column} WHEN {_CUSTOMER} THEN c.customer ELSE r.{column} END"
    if isinstance(kind, Day):
        return f"date(r.{column}, c.days)"
    if isinstance(kind, UtcTime):
        return f"date(substr(r.{column}, 1, 10), c.days) || substr(r.{column}, 11)"
    return f"numbered(r.{column}, c.n)" if holds_number else f"r.{column}"


def _set_series(connection: sqlite3.Connection, counts: _Bases) -> None:
    for prefix, following in counts.next.items():
        connection.execute("UPDATE number_series SET next = ? WHERE prefix = ?", (following, prefix))


def _write_findable(connection: sqlite3.Connection) -> int:
    """The words of everything, in place of those of the small shop."""
    connection.execute("DELETE FROM findable")
    rows = connection.cursor()
    made = 0
    for kind, query, words_of in made_findable():
        compiled = str(query.compile(dialect=sqlite.dialect(), compile_kwargs={"literal_binds": True}))
        found = ((kind, *words_of(row)) for row in rows.execute(compiled))
        made += connection.executemany(
            "INSERT INTO findable (kind, record_id, job_id, title, line, words) VALUES (?, ?, ?, ?, ?, ?)",
            found,
        ).rowcount
    return made
