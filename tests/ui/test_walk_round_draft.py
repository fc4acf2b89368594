"""The walk without its window: what a key does, where one stands after it, and what the shop then holds."""

from collections.abc import Iterator

import pytest
from fixed_clock import FixedClock
from hypothesis import given, settings
from hypothesis import strategies as st
from walk_shop import a_walk, kept

from shopdesk.domain.catalogue.model import Evidence, Purpose
from shopdesk.services import walks
from shopdesk.services.seat import Seat
from shopdesk.services.settings import ShopIdentity
from shopdesk.services.shops import new_shop
from shopdesk.ui.pages.walk_round.draft import SMELL, Walk
from shopdesk.ui.pages.walk_round.keeping import keep
from shopdesk.wording import Region


@pytest.fixture(scope="module")
def shop_of_keys(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Seat]:
    """One shop for many short walk-rounds."""
    place = tmp_path_factory.mktemp("keys") / "shop.db"
    made = new_shop(place, FixedClock(), ShopIdentity(name="Hearth and Damper"), Region(), "Ida Kessler")
    yield made
    made.file.close()


def _walk(seat: Seat, **wanted: object) -> Walk:
    return Walk(seat.catalogue, a_walk(seat, **wanted))


def test_the_next_checkpoint_comes_by_itself(seat: Seat) -> None:
    walk = _walk(seat)
    first, second, third = (c.code for c in walk.checkpoints[:3])
    assert walk.open == first
    walk.sound()
    assert walk.open == second
    walk.find(0)
    assert walk.open == third


def test_after_going_back_an_answer_leads_on_to_the_first_checkpoint_without_one(seat: Seat) -> None:
    walk = _walk(seat)
    for _ in range(3):
        walk.sound()
    walk.step(-1)
    walk.step(-1)
    walk.find(0)
    assert walk.open == walk.checkpoints[3].code


def test_evidence_stays_as_it_was_chosen_last(seat: Seat) -> None:
    walk = _walk(seat)
    walk.choose_evidence(Evidence.TESTED)
    changes = [walk.sound(), walk.find(0)]
    assert all(a.evidence is Evidence.TESTED for change in changes if change for a in change.after)


def test_plus_counts_what_is_found_next_where_it_is_counted_by_something(seat: Seat) -> None:
    walk = _walk(seat)
    counted = next(c for c in walk.checkpoints if c.findings and c.findings[0].per)
    plain = next(c for c in walk.checkpoints if c.findings and not c.findings[0].per)
    for checkpoint, expected in ((counted, 3), (plain, 1)):
        walk.go(checkpoint.code)
        walk.add(1)
        walk.add(1)
        change = walk.find(0)
        assert change is not None
        assert change.after[0].extent == expected
    walk.go(counted.code)
    grown = walk.add(1)
    assert grown is not None
    assert grown.after[0].extent == 4


def test_the_same_key_takes_a_finding_back_and_stays(seat: Seat) -> None:
    walk = _walk(seat)
    code = walk.open
    walk.find(0, stay=True)
    walk.find(1, stay=True)
    assert len(walk.answers()) == 2
    walk.find(0)
    assert [a.finding for a in walk.answers(code)] == [walk.checkpoint.findings[1].code]
    assert walk.open == code


def test_undo_gives_back_what_stood_there_and_opens_it(seat: Seat) -> None:
    walk = _walk(seat)
    code = walk.open
    walk.find(0)
    walk.step(5)
    change = walk.undo()
    assert change is not None
    assert change.after == ()
    assert walk.open == code
    assert walk.undo() is None


def test_a_note_waits_for_its_answer(seat: Seat) -> None:
    walk = _walk(seat)
    code = walk.open
    change = walk.write_note("door stuck")
    assert change is not None
    assert change.after[0].evidence is Evidence.NOT_SEEN
    answered = walk.find(0)
    assert answered is not None
    assert answered.after[0].note == "door stuck"
    assert walk.answers(code) == answered.after


def test_what_needs_a_flame_asks_first_unless_it_is_only_claimed(seat: Seat) -> None:
    walk = _walk(seat)
    flame = next(c for c in walk.checkpoints if c.flame)
    walk.go(flame.code)
    assert walk.needs_lighting()
    walk.choose_evidence(Evidence.CLAIMED)
    assert not walk.needs_lighting()
    walk.choose_evidence(Evidence.TESTED)
    walk.lit = True
    change = walk.sound()
    assert "competent with gas" in change.after[0].note


def test_a_smell_of_gas_is_written_down_from_anywhere(seat: Seat) -> None:
    walk = _walk(seat)
    change = walk.raise_smell()
    assert change is not None
    assert change.checkpoint == SMELL
    assert walk.smells_of_gas()


def test_a_range_for_resale_has_no_house_yet(seat: Seat) -> None:
    walk = _walk(seat, purpose=Purpose.FULL)
    walk.step(len(walk.checkpoints))
    assert walk.checkpoint.zone == "house"
    walk.take_purpose(Purpose.RESALE)
    assert "house" not in {c.zone for c in walk.checkpoints}
    assert walk.open in {c.code for c in walk.checkpoints}


def test_words_find_a_checkpoint_by_name_first(seat: Seat) -> None:
    walk = _walk(seat)
    found = walk.matching("oven floor")
    assert "floor" in found[0].name.casefold()
    assert walk.matching("no such words anywhere") == []


def test_a_part_of_the_drawing_leads_to_its_checkpoints_one_after_the_other(seat: Seat) -> None:
    walk = _walk(seat)
    wanted = [c.code for c in walk.checkpoints if c.part == "valves"]
    seen = []
    for _ in wanted:
        walk.go_part("valves")
        seen.append(walk.open)
    assert sorted(seen) == sorted(wanted)
    assert not walk.go_part("no such part")


def test_a_walk_is_taken_up_after_the_last_answer(seat: Seat) -> None:
    walk = _walk(seat)
    for _ in range(4):
        keep(seat, walk.view.id, walk.sound())
    again = Walk(seat.catalogue, walks.walk_view(seat, walk.view.id))
    assert again.open == walk.open


WORDS = ["s", "1", "2", "3", "stay1", "stay2", "n", "back", "on", "del", "undo", "+", "c", "t", "note"]
DEEDS = st.lists(st.sampled_from(WORDS), max_size=25)


@settings(max_examples=25, deadline=None)
@given(DEEDS)
def test_whatever_the_keys_the_shop_holds_what_the_screen_shows(shop_of_keys: Seat, deeds: list[str]) -> None:
    seat = shop_of_keys
    walk = Walk(seat.catalogue, a_walk(seat))
    for place, deed in enumerate(deeds):
        change = {
            "s": walk.sound,
            "n": walk.pass_over,
            "del": walk.take_back,
            "undo": walk.undo,
            "back": lambda: walk.step(-1),
            "on": lambda: walk.step(1),
            "+": lambda: walk.add(1),
            "c": lambda: walk.choose_evidence(Evidence.CLAIMED),
            "t": lambda: walk.choose_evidence(Evidence.TESTED),
            "note": lambda n=place: walk.write_note(f"note {n}"),
            "stay1": lambda: walk.find(0, stay=True),
            "stay2": lambda: walk.find(1, stay=True),
        }.get(deed, lambda d=deed: walk.find(int(d) - 1))()
        if change is not None:
            keep(seat, walk.view.id, change)
    view = walks.walk_view(seat, walk.view.id)
    held = {code: set() for code in kept(seat, walk.view.id)}  # type: dict[str, set[object]]
    for given_ in view.given:
        held[given_.answer.checkpoint].add(given_.answer)
    shown = {c.code: set(walk.answers(c.code)) for c in walk.checkpoints if walk.answers(c.code)}
    assert held == shown
