"""A shop moves to a server and back and is the same in every row; the old place says where it went."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
import sqlalchemy as sa
from fixed_clock import FixedClock
from pg_cluster import Cluster
from shop_rows import SOMEBODY, write_protected_rows

from shopdesk.domain.problem import Problem
from shopdesk.storage import ShopFile
from shopdesk.storage.checking import faults
from shopdesk.storage.engine import make_engine, shop_url
from shopdesk.storage.moving import MOVED, move_shop
from shopdesk.storage.tables import Base
from shopdesk.storage.tables.people import Party


@pytest.fixture
def empty_database(pg_cluster: Cluster) -> Iterator[str]:
    yield pg_cluster.create("moving")
    pg_cluster.drop("moving")


@pytest.fixture
def filled(sqlite_shop: Path, clock: FixedClock) -> Path:
    with closing(ShopFile(sqlite_shop, clock)) as shop:
        with shop.writing(SOMEBODY, "test") as work:
            write_protected_rows(work)
        with shop.writing(SOMEBODY, "test") as work:
            work.add(Party(name="Łucja Wierzbo", note="émail\n“quoted”"))
    return sqlite_shop


def everything(place: str | Path) -> dict[str, list[tuple[object, ...]]]:
    engine = make_engine(shop_url(place))
    with engine.connect() as connection:
        rows = {
            table.name: [
                tuple(row)
                for row in connection.execute(sa.select(table).order_by(*table.primary_key.columns))
            ]
            for table in Base.metadata.sorted_tables
        }
    engine.dispose()
    rows["setting"] = [row for row in rows["setting"] if row[0] != MOVED]
    return rows


def test_a_shop_goes_to_a_server_and_back_and_is_the_same(
    filled: Path, empty_database: str, tmp_path: Path, clock: FixedClock
) -> None:
    before = everything(filled)
    with closing(ShopFile(filled, clock, looking=True)) as old:
        known = faults(old)  # its one paper is no real one
    told: list[tuple[str, int]] = []
    moved = move_shop(filled, empty_database, lambda table, rows: told.append((table, rows)))
    assert everything(empty_database) == before
    assert moved.total == sum(len(rows) for rows in before.values()) == sum(rows for _, rows in told)
    with pytest.raises(Problem, match=r"moved to postgresql.*here it can be looked at only"):
        ShopFile(filled, clock)
    with closing(ShopFile(filled, clock, looking=True)) as old:
        assert old.looking
    with closing(ShopFile(empty_database, clock)) as there:
        with there.writing(SOMEBODY, "test") as work:  # keys go on where they were
            work.add(Party(name="New at the server"))
        assert faults(there) == known
        with pytest.raises(sa.exc.DBAPIError, match="never changed"), there.engine.begin() as connection:
            connection.execute(sa.text("UPDATE journal SET who = 'x'"))
    after = everything(empty_database)
    back = tmp_path / "back.db"
    move_shop(empty_database, back)
    assert everything(back) == after
    with closing(ShopFile(back, clock)) as again:
        assert faults(again) == known
        with again.engine.connect() as connection:
            match = "SELECT rowid FROM ft_findable WHERE words MATCH 'wierzbo'"
            assert len(connection.execute(sa.text(match)).all()) == 1
        with pytest.raises(sa.exc.IntegrityError), again.engine.begin() as connection:
            connection.execute(sa.text("DELETE FROM payment"))


def test_a_move_that_cannot_be_whole_leaves_the_old_shop_as_it_was_and_no_new_one(
    filled: Path, tmp_path: Path, clock: FixedClock
) -> None:
    (tmp_path / "there.db").write_text("mine")
    with pytest.raises(Problem, match="already a file"):
        move_shop(filled, tmp_path / "there.db")
    with closing(sqlite3.connect(filled)) as plain:
        plain.execute(
            "INSERT INTO wage (staff_id, from_day, cost_cents_per_hour) VALUES (999, '2026-01-01', 1)"
        )
        plain.commit()
    with pytest.raises(Problem, match="points to one that is not there"):
        move_shop(filled, tmp_path / "new.db")
    assert not (tmp_path / "new.db").exists()
    ShopFile(filled, clock).close()


def test_a_shop_in_use_is_not_moved(filled: Path, tmp_path: Path, clock: FixedClock) -> None:
    with closing(ShopFile(filled, clock)), pytest.raises(Problem, match="open for writing"):
        move_shop(filled, tmp_path / "new.db")
    assert not (tmp_path / "new.db").exists()
