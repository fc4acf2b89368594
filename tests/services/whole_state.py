"""What stands in a shop, to be compared before and after a fault."""

import hashlib
import sqlite3
from contextlib import closing
from pathlib import Path


def standing(shop: str | Path) -> str:
    """SHA-256 over every row of every table but SQLite's own."""
    found = hashlib.sha256()
    address = Path(shop).absolute().as_uri() + "?mode=ro"
    with closing(sqlite3.connect(address, uri=True)) as connection:
        tables = "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'ft_%' ORDER BY name"
        for (name,) in connection.execute(tables).fetchall():
            for row in connection.execute(f'SELECT * FROM "{name}" ORDER BY 1'):
                found.update(repr(row).encode())
    return found.hexdigest()


def last_deed(shop: str | Path) -> int:
    """How far the journal has come."""
    with closing(sqlite3.connect(Path(shop).absolute().as_uri() + "?mode=ro", uri=True)) as connection:
        return int(connection.execute("SELECT coalesce(max(id), 0) FROM journal").fetchone()[0])
