"""Taking deeds back from the journal, and refusing to where that would lose or falsify something."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from builders import Shop, a_customer, a_range, agreed, reopened, walked
from fixed_clock import FixedClock
from hypothesis import HealthCheck, given
from hypothesis import settings as budget
from hypothesis import strategies as st

from shopdesk.domain.answers import Answer
from shopdesk.domain.catalogue.model import Evidence
from shopdesk.domain.problem import ChangedMeanwhile, NotAllowed, Problem
from shopdesk.domain.rights import Action
from shopdesk.services import bench, checking, people, walks, work_orders
from shopdesk.services.jacket import jacket
from shopdesk.services.undo import COUNTER_ENTRY_ONLY, undo, undoable
from shopdesk.storage.backup import copy_shop
from shopdesk.storage.tables.shop import Journal


def newest(shop: Shop) -> int:
    return undoable(shop.owner)[0].journal_id


def test_a_changed_telephone_is_put_back_and_can_be_changed_again(shop: Shop) -> None:
    key = a_customer(shop.owner, "Hesper Dunmarrow", phone="555 0101")
    a_customer_called(shop, key, "555 0199")
    undo(shop.owner, newest(shop))
    assert people.party_draft(shop.owner, key).phone == "555 0101"
    assert undoable(shop.owner)[0].again
    undo(shop.owner, newest(shop))
    assert people.party_draft(shop.owner, key).phone == "555 0199"


def a_customer_called(shop: Shop, key: int, phone: str) -> None:
    people.keep_party(shop.owner, people.PartyDraft(name="Hesper Dunmarrow", phone=phone), key)


def test_a_record_made_by_mistake_goes_again_unless_something_hangs_on_it(shop: Shop) -> None:
    a_customer(shop.owner, "Noor Castellane")
    undo(shop.owner, newest(shop))
    assert [row.name for row in people.parties(shop.owner, "Noor")] == []
    taken = a_range(shop.owner, booked_in=False)
    booked = newest(shop)
    walked(shop.owner, taken.job_id, "lamp-cord.frayed")
    with pytest.raises(Problem, match="more was done on it since"):
        undo(shop.owner, booked)
    assert jacket(shop.owner, taken.job_id).findings


def test_an_answer_taken_back_by_hand_comes_back_with_its_note(shop: Shop) -> None:
    taken = a_range(shop.owner)
    walk = walks.open_walk(shop.owner, taken.job_id)
    walks.answer(
        shop.owner, walk, Answer("lamp-cord", "lamp-cord.frayed", evidence=Evidence.SEEN, note="cloth gone")
    )
    before = walks.walk_view(shop.owner, walk)
    walks.take_back(shop.owner, walk, "lamp-cord")
    undo(shop.owner, newest(shop))
    assert walks.walk_view(shop.owner, walk) == before


def test_a_tick_goes_with_its_person_and_stage_follows(shop: Shop) -> None:
    job_id = agreed(shop).job_id
    first = work_orders.task_lines(shop.owner, job_id)[0]
    stage = jacket(shop.owner, job_id).stage
    bench.tick(shop.technician, first.id)
    undo(shop.technician, undoable(shop.technician)[0].journal_id)
    line = work_orders.task_lines(shop.owner, job_id)[0]
    assert (line.done_share, jacket(shop.owner, job_id).stage) == (0, stage)
    assert checking.faults(shop.owner) == []


def test_what_was_changed_again_is_not_overwritten(shop: Shop) -> None:
    key = a_customer(shop.owner, "Hesper Dunmarrow", phone="555 0101")
    a_customer_called(shop, key, "555 0102")
    earlier = newest(shop)
    a_customer_called(shop, key, "555 0103")
    with pytest.raises(ChangedMeanwhile, match="changed again since"):
        undo(shop.owner, earlier)
    assert people.party_draft(shop.owner, key).phone == "555 0103"
    with pytest.raises(ChangedMeanwhile):
        undo(shop.owner, earlier - 1)  # the adding: a field left empty then may be filled since


def test_agreements_and_papers_have_counter_entries_and_are_not_offered(shop: Shop) -> None:
    agreed(shop)
    with shop.owner.look() as session:
        deeds = {row.id: row for row in session.query(Journal)}
    offered = {one.journal_id for one in undoable(shop.owner, limit=400)}
    for deed in deeds.values():
        touched = {key.partition(" ")[0] for key in (*deed.before, *deed.after)}
        if touched & COUNTER_ENTRY_ONLY:
            assert deed.id not in offered
            with pytest.raises(Problem, match="counter-entry"):
                undo(shop.owner, deed.id)


def test_one_person_takes_back_their_own_deeds_and_an_owner_anybodys(shop: Shop) -> None:
    key = a_customer(shop.desk, "Noor Castellane")
    deed = newest(shop)
    assert deed not in [one.journal_id for one in undoable(shop.technician)]
    with pytest.raises((Problem, NotAllowed)):
        undo(shop.technician, deed)
    undo(shop.owner, deed)
    with pytest.raises(Problem, match="taken back already"):
        undo(shop.desk, deed)
    assert key not in [row.party_id for row in people.parties(shop.owner)]


def test_thirty_deeds_back_and_after_opening_the_shop_again(set_up_file: str, clock: FixedClock) -> None:
    shop = reopened(set_up_file, clock)
    key = a_customer(shop.owner, "Hesper Dunmarrow", phone="555 0000")
    for n in range(1, 36):
        a_customer_called(shop, key, f"555 {n:04d}")
    shop.owner.file.close()
    shop = reopened(set_up_file, clock)
    for n in range(34, 3, -1):
        deed = next(one for one in undoable(shop.owner) if one.action == Action.KEEP_PEOPLE)
        undo(shop.owner, deed.journal_id)
        assert people.party_draft(shop.owner, key).phone == f"555 {n:04d}"
    assert checking.faults(shop.owner) == []
    shop.owner.file.close()


def test_every_table_that_is_only_added_to_is_left_to_counter_entries(set_up_file: str) -> None:
    with closing(sqlite3.connect(set_up_file)) as plain:
        names = plain.execute(
            "SELECT tbl_name FROM sqlite_master WHERE type = 'trigger' AND name LIKE '%_no_update'"
        )
        assert {name for (name,) in names} <= COUNTER_ENTRY_ONLY


@budget(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(st.sampled_from(["name", "phone", "walk", "answer", "back", "undo"]), min_size=3, max_size=14)
)
def test_no_mix_of_deeds_and_taking_back_breaks_the_shop(
    set_up_file: str, tmp_path_factory: pytest.TempPathFactory, deeds: list[str]
) -> None:
    file = tmp_path_factory.mktemp("mix") / "shop.db"
    copy_shop(Path(set_up_file), file)
    shop = reopened(str(file), FixedClock())
    taken = a_range(shop.owner)
    key, walk = a_customer(shop.owner, "A"), walks.open_walk(shop.owner, taken.job_id)
    for n, deed in enumerate(deeds):
        try:
            if deed in ("name", "phone"):
                people.keep_party(
                    shop.owner, people.PartyDraft(name=f"N{n}" if deed == "name" else "A", phone=f"{n}"), key
                )
            elif deed == "answer":
                walks.answer(shop.owner, walk, Answer("lamp-cord", "lamp-cord.frayed", note=f"{n}"))
            elif deed == "back":
                walks.take_back(shop.owner, walk, "lamp-cord")
            elif deed == "undo" and undoable(shop.owner):
                undo(shop.owner, newest(shop))
        except Problem:
            pass  # a sentence is an answer; a broken shop is not
    assert checking.faults(shop.owner) == []
    shop.owner.file.close()
