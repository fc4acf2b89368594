"""A backup is whole or absent, may be made while the shop is in use, and proves itself."""

import sqlite3
from contextlib import closing

import pytest
from shop_rows import SOMEBODY

from shopdesk.domain.problem import Problem, Unavailable
from shopdesk.storage import ShopFile
from shopdesk.storage.backup import copy_shop
from shopdesk.storage.checking import faults
from shopdesk.storage.tables.people import Party


def test_a_copy_of_a_shop_in_use_holds_everything_saved(sqlite_shop, clock, tmp_path):
    copy = tmp_path / "kept" / "copy.db"
    with closing(ShopFile(sqlite_shop, clock)) as shop:
        with shop.writing(SOMEBODY, "test") as work:
            work.add(Party(name="Ruiz"))
        copy_shop(sqlite_shop, copy)
    assert [p.name for p in copy.parent.iterdir()] == ["copy.db"]  # one file, no log beside it
    with closing(ShopFile(copy, clock, looking=True)) as kept:
        assert faults(kept) == []
        with kept.reading() as session:
            assert session.query(Party).one().name == "Ruiz"


def test_a_copy_takes_the_place_of_nothing_unasked(sqlite_shop, tmp_path):
    there = tmp_path / "there.db"
    there.write_text("mine")
    with pytest.raises(Problem, match="already a file"):
        copy_shop(sqlite_shop, there)
    assert there.read_text() == "mine"
    copy_shop(sqlite_shop, there, replace=True)
    assert there.read_bytes()[:15] == b"SQLite format 3"


@pytest.mark.parametrize("page", [3, 40])
def test_no_copy_is_made_of_a_damaged_shop(sqlite_shop, tmp_path, page):
    data = bytearray(sqlite_shop.read_bytes())
    data[page * 4096 : page * 4096 + 900] = b"\xff" * 900
    sqlite_shop.write_bytes(data)
    copy = tmp_path / "copy.db"
    with pytest.raises(Problem, match="is damaged"):
        copy_shop(sqlite_shop, copy)
    assert not copy.exists()
    assert not copy.with_name("copy.db.part").exists()


def test_no_copy_is_made_of_a_shop_whose_rows_point_nowhere(sqlite_shop, tmp_path):
    with closing(sqlite3.connect(sqlite_shop)) as connection:
        connection.execute(
            "INSERT INTO wage (staff_id, from_day, cost_cents_per_hour) VALUES (99, '2026-01-01', 1)"
        )
        connection.commit()
    with pytest.raises(Problem, match="points to a row of staff"):
        copy_shop(sqlite_shop, tmp_path / "copy.db")


def test_a_copy_of_what_is_no_shop_or_to_no_place_is_a_sentence(sqlite_shop, tmp_path):
    with pytest.raises(Problem, match="no shop"):
        copy_shop(tmp_path / "none.db", tmp_path / "copy.db")
    (tmp_path / "notes.txt").write_text("notes")
    with pytest.raises(Problem, match="not a shop"):
        copy_shop(tmp_path / "notes.txt", tmp_path / "copy.db")
    with pytest.raises(Unavailable, match="could not be written"):
        copy_shop(sqlite_shop, tmp_path / "notes.txt" / "copy.db")
