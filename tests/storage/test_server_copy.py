"""A shop on a server copied by the server's own tools and brought back into a new database, row by row."""

from contextlib import closing
from pathlib import Path

import pytest
from fixed_clock import FixedClock
from shop_rows import SOMEBODY

from shopdesk.domain.problem import Problem, Unavailable
from shopdesk.storage import ShopFile, server_copy
from shopdesk.storage.checking import faults
from shopdesk.storage.engine import shop_url
from shopdesk.storage.server_copy import different_tables, dump_shop, restore_dump
from shopdesk.storage.tables.people import Party


def test_a_copy_comes_back_into_a_new_database_the_same_in_every_row(
    postgresql_shop: str, empty_pg_database: str, tmp_path: Path, clock: FixedClock
) -> None:
    here, there, copy = shop_url(postgresql_shop), shop_url(empty_pg_database), tmp_path / "shop.dump"
    with closing(ShopFile(postgresql_shop, clock)) as shop:  # in use meanwhile
        with shop.writing(SOMEBODY, "test") as work:
            work.add(Party(name="Ruiz & Søn <b>"))
        dump_shop(here, copy)
    assert copy.read_bytes()[:5] == b"PGDMP"
    assert restore_dump(copy, there)["party"] == 1
    assert different_tables(here, there) == []
    with closing(ShopFile(empty_pg_database, clock)) as back:
        assert faults(back) == []
        with back.writing(SOMEBODY, "test") as work:  # its counters of keys came with it
            work.add(Party(name="Noor Castellane"))
    assert set(different_tables(here, there)) == {"party", "journal", "findable"}
    with pytest.raises(Problem, match="is not empty"):
        restore_dump(copy, there)
    with pytest.raises(Problem, match="already a file"):
        dump_shop(here, copy)


def test_a_broken_copy_is_refused_and_leaves_the_database_empty(
    postgresql_shop: str, empty_pg_database: str, tmp_path: Path
) -> None:
    copy, there = tmp_path / "shop.dump", shop_url(empty_pg_database)
    dump_shop(shop_url(postgresql_shop), copy)
    data = copy.read_bytes()
    copy.write_bytes(data[: len(data) // 2])
    with pytest.raises(Problem, match="refused"):
        restore_dump(copy, there)
    dump_shop(shop_url(postgresql_shop), copy, replace=True)
    assert restore_dump(copy, there)["party"] == 0  # nothing of the broken one was left in the way


def test_missing_and_old_tools_are_said(
    postgresql_shop: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(Unavailable, match="version 99 or newer"):
        server_copy._tool("pg_dump", 99)
    with pytest.raises(Unavailable, match=r"pg_none is not on this machine\. Install"):
        server_copy._tool("pg_none", 15)
    (tmp_path / "file").write_text("")
    with pytest.raises(Unavailable, match="could not be written"):
        dump_shop(shop_url(postgresql_shop), tmp_path / "file" / "shop.dump")
