"""Finding records by what is remembered of them."""

import pytest
from builders import Shop, a_customer, a_firm, a_range, walked

from shopdesk.domain.answers import Answer
from shopdesk.services import people, walks
from shopdesk.services.finding import Found, find, terms


def titles(found: tuple[Found, ...]) -> list[str]:
    return [one.title for one in found]


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("R-2", ["r 0002"]),
        ("R-00", ["r 00"]),
        ("r0002", ["r 0002"]),
        (" w 17 ", ["w 0017"]),
        ("Søn Ruiz", ["son", "ruiz"]),
        ("  ", []),
        ("%_'\"", ["_"]),
    ],
)
def test_what_is_typed_becomes_words_to_look_for(typed: str, words: list[str]) -> None:
    assert terms(typed) == words


def test_a_range_is_found_by_number_maker_serial_and_its_owner_s_name_and_telephone(shop: Shop) -> None:
    taken = a_range(shop.owner)
    for typed in ("R-1", "r-0001", "corvane", "118-204", "no. 40 corv", "ruiz", "SØN", "5550142", "555 0142"):
        found = find(shop.owner, typed)
        assert (taken.range_id, taken.job_id) in [(one.record_id, one.job_id) for one in found], typed
        assert not any(one.alike for one in found)


def test_what_begins_with_the_words_comes_before_what_only_holds_them(shop: Shop) -> None:
    a_firm(shop.owner, "Northern Corvane Supply")
    a_firm(shop.owner, "Corvane Heirs")
    assert titles(find(shop.owner, "corvane")) == ["Corvane Heirs", "Northern Corvane Supply"]


def test_a_slip_of_the_pen_is_forgiven_and_said(shop: Shop) -> None:
    a_customer(shop.owner, "Teodor Vantongeren")
    a_customer(shop.owner, "Hesper Dunmarrow")
    found = find(shop.owner, "vantogeren")
    assert titles(found) == ["Teodor Vantongeren"]
    assert found[0].alike
    assert find(shop.owner, "zzzzqqq") == ()
    assert find(shop.owner, "") == ()


def test_notes_and_complaints_lead_to_their_range(shop: Shop) -> None:
    taken = a_range(shop.owner)
    walk_id = walked(shop.owner, taken.job_id, "lamp-cord.frayed", finished=False)
    walks.answer(shop.owner, walk_id, Answer("lamp-cord", "lamp-cord.frayed", note="mice behind the lamp"))
    (found,) = [one for one in find(shop.owner, "mice lamp") if one.kind == "look"]
    assert found.job_id == taken.job_id
    assert found.line == "of R-0001"


def test_words_follow_a_changed_record_and_an_erased_one_is_gone(shop: Shop) -> None:
    key = a_customer(shop.owner, "Alder Pennyfeather")
    held = people.party_draft(shop.owner, key)
    people.keep_party(shop.owner, people.PartyDraft(name="Alder Quillmark", phone=held.phone), key)
    assert find(shop.owner, "pennyfeather") == ()
    assert titles(find(shop.owner, "quillmark")) == ["Alder Quillmark"]


def test_words_that_mean_something_to_a_database_are_only_words(shop: Shop) -> None:
    a_customer(shop.owner, 'Robert "); DROP TABLE party; --')
    for typed in ('"', "a OR b", "NEAR(", "drop table party", "100%", "*", "^", "a" * 5000):
        find(shop.owner, typed)
    assert titles(find(shop.owner, "drop table")) == ['Robert "); DROP TABLE party; --']
