"""Whether a shop file is built as this program's migrations build one, told before anything in it can run.

A file from a stranger may carry triggers or views of its own, which would act as soon as something is
written or read. So its schema is read with nothing trusted and compared with what the migrations make:
`resources/schema.json` holds a SHA-256 for every migration (see `write_likenesses`).
"""

import hashlib
import json
import re
import sqlite3
import tempfile
from contextlib import closing
from functools import cache
from pathlib import Path

from shopdesk import paths
from shopdesk.domain.problem import Problem, Unavailable

_SCHEMA = "SELECT type, name, tbl_name, sql FROM sqlite_master WHERE sql IS NOT NULL"
# Made by SQLite itself for an index of words, and worded as each of its versions likes.
_OWN = tuple(f"ft_findable_{part}" for part in ("data", "idx", "docsize", "config", "content"))


def refuse_strange(path: Path) -> None:
    """Problem when the file was built otherwise, or is too damaged to say how it was built. A migration
    nobody here has heard of is left to others."""
    try:
        _refuse_strange(path)
    except (sqlite3.DatabaseError, UnicodeDecodeError) as error:
        raise Unavailable(
            "The shop {path} is damaged ({why}), and nothing was written to it. Set the file aside and bring "
            "back a copy.",
            path=str(path),
            why=str(error),
        ) from error


def _refuse_strange(path: Path) -> None:
    with closing(sqlite3.connect(path.absolute().as_uri() + "?mode=ro", uri=True)) as connection:
        connection.execute("PRAGMA trusted_schema=OFF")
        entries = _entries(connection)
        if not any(kind == "table" and name == "alembic_version" for kind, name, _, _ in entries):
            return  # an empty file, or none of ours: opening it says so
        row = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    known = _known().get(row[0]) if row else None
    if known is not None and likeness(entries) != known:
        raise Problem(
            "The file {path} is not built as this program builds shops, so nothing in it was run. If it is "
            "your own, bring back a copy; if somebody sent it, ask them for a backup made by the program.",
            path=str(path),
        )


def likeness(entries: list[tuple[str, str, str, str]]) -> str:
    """SHA-256 over every table, index, trigger and view, whatever their order and spacing."""
    plain = sorted(
        (kind, name, table, re.sub(r"\s+", " ", sql).strip()) for kind, name, table, sql in entries
    )
    return hashlib.sha256(json.dumps(plain, ensure_ascii=False).encode()).hexdigest()


def likenesses() -> dict[str, str]:
    """The likeness at each migration, by running them all on a new file."""
    from shopdesk.storage.upgrading import step_by_step

    made: dict[str, str] = {}
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "shop.db"
        for revision in step_by_step(file):
            with closing(sqlite3.connect(file)) as connection:
                made[revision] = likeness(_entries(connection))
    return made


def _entries(connection: sqlite3.Connection) -> list[tuple[str, str, str, str]]:
    found = [(str(a), str(b), str(c), str(d)) for a, b, c, d in connection.execute(_SCHEMA)]
    return [
        entry
        for entry in found
        if not (entry[1].startswith("sqlite_") or (entry[0] == "table" and entry[1] in _OWN))
    ]


@cache
def _known() -> dict[str, str]:
    known: dict[str, str] = json.loads(paths.resource("schema.json").read_text(encoding="utf-8"))
    return known


def write_likenesses() -> None:
    """Writes `resources/schema.json` anew, after a migration was added."""
    paths.resource("schema.json").write_text(json.dumps(likenesses(), indent=1) + "\n", encoding="utf-8")
