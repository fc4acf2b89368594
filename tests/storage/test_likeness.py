"""A shop file from a stranger: what is not built by the migrations is refused before it can run."""

import json
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from fixed_clock import FixedClock

from shopdesk import paths
from shopdesk.domain.problem import Problem
from shopdesk.storage import ShopFile, upgrade
from shopdesk.storage.backup import copy_shop
from shopdesk.storage.likeness import likenesses


def test_what_is_written_down_is_what_the_migrations_make() -> None:
    """After a new migration: `write_likenesses()` (DEVELOPERS.md, Add a migration)."""
    assert json.loads(paths.resource("schema.json").read_text(encoding="utf-8")) == likenesses()


@pytest.mark.parametrize(
    "strange",
    [
        "CREATE TRIGGER quiet AFTER INSERT ON party BEGIN UPDATE party SET note = 'owned'; END",
        "CREATE VIEW quiet AS SELECT * FROM staff",
        "CREATE TABLE quiet (x)",
        "DROP TRIGGER invoice_no_update",
        "CREATE INDEX quiet ON party (name)",
    ],
)
def test_a_file_built_otherwise_is_neither_opened_nor_upgraded_nor_copied(
    sqlite_shop: Path, clock: FixedClock, tmp_path: Path, strange: str
) -> None:
    ShopFile(sqlite_shop, clock).close()
    with closing(sqlite3.connect(sqlite_shop)) as plain:
        plain.execute(strange)
        plain.commit()
    for attempt in (
        lambda: ShopFile(sqlite_shop, clock),
        lambda: ShopFile(sqlite_shop, clock, looking=True),
        lambda: upgrade(sqlite_shop),
        lambda: copy_shop(sqlite_shop, tmp_path / "copy.db"),
    ):
        with pytest.raises(Problem, match="not built as this program builds shops"):
            attempt()
    assert not (tmp_path / "copy.db").exists()


def test_statistics_and_tidying_of_sqlite_s_own_are_no_stranger(sqlite_shop: Path, clock: FixedClock) -> None:
    with closing(sqlite3.connect(sqlite_shop)) as plain:
        plain.execute("ANALYZE")
        plain.execute("VACUUM")
    ShopFile(sqlite_shop, clock).close()
