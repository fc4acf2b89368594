"""Copies that make themselves, thin out, go to a second place, and come back."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from builders import Shop, a_customer, reopened
from fixed_clock import FixedClock

from shopdesk.domain.problem import Problem
from shopdesk.services import people
from shopdesk.services.checking import faults
from shopdesk.services.keeping_copies import copies, folder_of, keep_a_copy, restore
from shopdesk.services.seat import open_shop
from shopdesk.services.settings import Copies, Sample
from shopdesk.services.shops import keep_setting


@pytest.fixture
def shop(set_up_file: str, clock: FixedClock) -> Iterator[Shop]:
    made = reopened(set_up_file, clock)
    yield made
    made.owner.file.close()


def test_a_changed_shop_is_copied_once_and_comes_back_with_everything(shop: Shop, tmp_path: Path) -> None:
    a_customer(shop.owner, "Hesper Dunmarrow")
    (made,) = keep_a_copy(shop.owner).made
    assert made.parent == folder_of(shop.owner) == tmp_path / "shop copies"
    assert keep_a_copy(shop.owner).made == (), "nothing changed since"
    a_customer(shop.owner, "Noor Castellane")
    restore(made, tmp_path / "back.db")
    back = open_shop(tmp_path / "back.db", shop.clock)
    try:
        assert faults(back) == []
        assert [row.name for row in people.parties(back)] == ["Hesper Dunmarrow"]
    finally:
        back.file.close()
    with pytest.raises(Problem, match="already a file"):
        restore(made, tmp_path / "back.db")


def test_copies_go_to_a_second_place_and_its_trouble_is_told_without_losing_the_first(
    shop: Shop, tmp_path: Path
) -> None:
    keep_setting(shop.owner, Copies(str(tmp_path / "one"), str(tmp_path / "two")))
    assert [path.parent.name for path in keep_a_copy(shop.owner).made] == ["one", "two"]
    (tmp_path / "blocked").write_text("a file where a folder should be")
    keep_setting(shop.owner, Copies(str(tmp_path / "one"), str(tmp_path / "blocked")))
    done = keep_a_copy(shop.owner)
    assert [path.parent.name for path in done.made] == ["one"]
    assert "could not be written" in done.second_problem


def test_old_copies_thin_out_and_strange_files_are_left_alone(shop: Shop, tmp_path: Path) -> None:
    folder = folder_of(shop.owner)
    folder.mkdir()
    (folder / "holiday.db").write_text("mine")
    (folder / "other shop 20260101T000000 j9.db").write_text("another shop's")
    for n in range(12):
        a_customer(shop.owner, f"Customer {n}")
        keep_a_copy(shop.owner)
        shop.clock.advance(hours=1)
    shop.clock.advance(days=20)
    a_customer(shop.owner, "The last")
    keep_a_copy(shop.owner)
    left = copies(shop.owner)
    assert len(left) == 5, "the newest five stay, the rest of that old day went"
    assert left[0].at > left[1].at
    assert (folder / "holiday.db").exists()
    assert len(list(folder.glob("other shop*"))) == 1


def test_a_damaged_shop_is_not_copied_and_its_copies_stay(shop: Shop) -> None:
    a_customer(shop.owner, "Hesper Dunmarrow")
    keep_a_copy(shop.owner)
    a_customer(shop.owner, "Noor Castellane")
    raw = shop.owner.file.engine.raw_connection()
    raw.cursor().execute("PRAGMA foreign_keys=OFF")
    raw.cursor().execute(
        "INSERT INTO wage (staff_id, from_day, cost_cents_per_hour) VALUES (999, '2026-01-01', 1)"
    )
    raw.close()
    with pytest.raises(Problem, match="no backup was made"):
        keep_a_copy(shop.owner)
    assert len(copies(shop.owner)) == 1


def test_a_sample_and_a_shop_only_looked_at_make_no_copies(
    shop: Shop, clock: FixedClock, set_up_file: str
) -> None:
    a_customer(shop.owner, "Hesper Dunmarrow")
    looking = open_shop(set_up_file, clock, looking=True)
    assert keep_a_copy(looking).made == ()
    looking.file.close()
    keep_setting(shop.owner, Sample(stands_at="2026-03-17T16:00:00+00:00"))
    assert keep_a_copy(shop.owner).made == ()
