"""What two seats write over the same text is found in the journal, field by field, and nothing is lost."""

from collections.abc import Iterator
from contextlib import closing

import pytest
from shop_rows import SOMEBODY

from shopdesk.domain.changed import Changed, Seen
from shopdesk.storage import ShopFile
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.shop import Setting


@pytest.fixture
def shop(shop_place, clock) -> Iterator[ShopFile]:
    with closing(ShopFile(shop_place, clock)) as opened:
        with opened.writing(SOMEBODY, "write") as work:
            work.add(Party(name="Hesper Dunmarrow", phone="555 0114", town="Ferrow"))
            work.add(Setting(name="terms", value={"days": 14, "deep": {"a": 1, "b": 2}}))
        yield opened


def _write(shop: ShopFile, seen: Seen | None = None, **texts: str) -> None:
    with shop.writing(SOMEBODY, "write", seen) as work:
        party = work.get(Party, 1, "customer")
        for name, text in texts.items():
            setattr(party, name, text)


def _party(shop: ShopFile) -> tuple[str, str, str]:
    with shop.reading() as session:
        row = session.get_one(Party, 1)
        return row.name, row.phone, row.town


def test_what_nobody_touched_meanwhile_is_saved(shop: ShopFile) -> None:
    seen = shop.seen()
    _write(shop, town="Quarrel Bend")
    _write(shop, seen, phone="555 0200")
    assert _party(shop) == ("Hesper Dunmarrow", "555 0200", "Quarrel Bend")


def test_a_form_that_shows_an_old_text_does_not_bring_it_back(shop: ShopFile) -> None:
    seen = shop.seen()
    _write(shop, phone="555 0300", town="Quarrel Bend")
    with pytest.raises(Changed) as told:
        _write(shop, seen, name="Hesper Dunmarrow", phone="555 0200", town="Ferrow")
    assert {(d.path, d.before, d.theirs, d.mine) for d in told.value.differences} == {
        (("phone",), "555 0114", "555 0300", "555 0200"),
        (("town",), "Ferrow", "Quarrel Bend", "Ferrow"),
    }
    assert {d.path: d.mine_is_untouched for d in told.value.differences} == {
        ("phone",): False,
        ("town",): True,
    }
    assert told.value.who == SOMEBODY.name
    assert _party(shop) == ("Hesper Dunmarrow", "555 0300", "Quarrel Bend")


def test_the_choice_is_saved_field_by_field_and_the_screen_hears_what_was_put_back(shop: ShopFile) -> None:
    seen = shop.seen()
    _write(shop, phone="555 0300", town="Quarrel Bend")
    with pytest.raises(Changed) as told:
        _write(shop, seen, phone="555 0200", town="Ferrow")
    chosen = Seen(told.value.length, theirs=frozenset({("party 1", ("town",))}))
    _write(shop, chosen, phone="555 0200", town="Ferrow")
    assert _party(shop) == ("Hesper Dunmarrow", "555 0200", "Quarrel Bend")
    assert chosen.put_back == {("party 1", ("town",)): "Quarrel Bend"}
    _write(shop, phone="555 0400")
    with pytest.raises(Changed):  # a third seat, while one was choosing
        _write(shop, Seen(told.value.length), phone="555 0200", town="Ferrow")


def test_nobody_is_told_of_what_he_wrote_himself_or_of_equal_texts(shop: ShopFile) -> None:
    seen = shop.seen()
    _write(shop, seen, phone="555 0200")
    _write(shop, seen, phone="555 0201")
    _write(shop, phone="555 0300")
    _write(shop, seen, phone="555 0300")
    assert _party(shop)[1] == "555 0300"


def test_documents_are_compared_and_chosen_inside(shop: ShopFile) -> None:
    def keep(days: int, a: int, b: int, seen: Seen | None = None) -> None:
        with shop.writing(SOMEBODY, "write", seen) as work:
            row = work.session.get_one(Setting, "terms")
            row.value = {"days": days, "deep": {"a": a, "b": b}}

    seen = shop.seen()
    keep(30, 1, 5)
    with pytest.raises(Changed) as told:
        keep(14, 9, 2, seen)
    assert {d.path for d in told.value.differences} == {("value", "days"), ("value", "deep", "b")}
    theirs = frozenset((d.key, d.path) for d in told.value.differences)
    keep(14, 9, 2, Seen(told.value.length, theirs=theirs))
    with shop.reading() as session:
        assert session.get_one(Setting, "terms").value == {"days": 30, "deep": {"a": 9, "b": 5}}


def test_a_record_that_another_changed_is_not_taken_away_unseen(shop: ShopFile) -> None:
    seen = shop.seen()
    _write(shop, phone="555 0300")
    with pytest.raises(Changed) as told, shop.writing(SOMEBODY, "write", seen) as work:
        work.session.delete(work.get(Party, 1, "customer"))
    assert [(d.path, d.theirs) for d in told.value.differences] == [((), {"phone": "555 0300"})]
    assert _party(shop)[1] == "555 0300"
