"""Stage and held-for follow from the facts, and from nothing else."""

import datetime as dt
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.stage import WAY, Facts, Held, Hold, Stage, held_for, stage

DAY = dt.date(2026, 9, 15)
STEPS: list[tuple[Stage, dict[str, object]]] = [
    (Stage.LOOKED_AT, {}),
    (Stage.BOOKED_IN, {"booked_in": True}),
    (Stage.INSPECTED, {"inspected": True}),
    (Stage.QUOTED, {"quoted": True}),
    (Stage.AGREED, {"agreed": True, "tasks": 3}),
    (Stage.ON_THE_BENCH, {"started": True}),
    (Stage.PROVING, {"work_done": True}),
    (Stage.READY, {"released": True}),
    (Stage.GONE, {"gone": True}),
    (Stage.SETTLED, {"home_proof": True, "billed": True}),
]


def facts_at(name: Stage, **more: object) -> Facts:
    known: dict[str, object] = {}
    for step, facts in STEPS:
        known |= facts
        if step is name:
            break
    return Facts(**{**known, **more})


@pytest.mark.parametrize("name", WAY)
def test_every_stage_of_the_way_follows_from_its_facts(name):
    assert stage(facts_at(name)) is name


@pytest.mark.parametrize("end", [Stage.DONOR, Stage.NOT_TAKEN, Stage.WITHDRAWN])
@pytest.mark.parametrize("name", WAY)
def test_a_job_that_ended_stays_ended_and_waits_for_nothing(name, end):
    ended = facts_at(name, ended_as=end, short_parts=(Held(Hold.PART),), open_questions=(Held(Hold.ANSWER),))
    assert (stage(ended), held_for(ended)) == (end, ())


def test_a_range_of_the_shop_s_own_skips_quoted_and_agreed():
    stages = [stage(facts_at(name, shop_owned=True)) for name in WAY]
    assert Stage.QUOTED not in stages
    assert Stage.AGREED not in stages
    assert stages[3:6] == [Stage.INSPECTED, Stage.INSPECTED, Stage.ON_THE_BENCH]


def test_nothing_is_ready_while_a_tag_is_out_and_the_tag_is_what_holds_it():
    out = facts_at(Stage.READY, tags_out=(Held(Hold.PART, None, "T-0001 screws"),))
    assert stage(out) is Stage.PROVING
    assert held_for(out)[0].what == "T-0001 screws"


def test_a_lapsed_release_never_moves_the_stage_back():
    lapsed = facts_at(Stage.READY, release_lapsed=True)
    assert stage(lapsed) is Stage.READY
    assert held_for(lapsed) == (Held(Hold.PROOF, None, "release"),)


@pytest.mark.parametrize(
    "missing", [{"home_proof": False}, {"billed": False}, {"balance": 1}, {"billed": False, "balance": 0}]
)
def test_what_is_not_proved_at_home_or_not_paid_is_gone_and_not_settled(missing):
    assert stage(facts_at(Stage.SETTLED, **missing)) is Stage.GONE


def test_a_red_tagged_range_needs_no_proof_at_home():
    tagged = facts_at(Stage.SETTLED, home_proof=False, red_tagged=True)
    assert stage(tagged) is Stage.SETTLED
    assert held_for(replace(tagged, balance=1)) == ()


_WAITS = [
    (Stage.QUOTED, "open_questions", Held(Hold.ANSWER, DAY, "Q-1")),
    (Stage.AGREED, "short_parts", Held(Hold.PART, DAY, "cord")),
    (Stage.ON_THE_BENCH, "outwork_out", Held(Hold.OUTWORK, DAY, "top")),
    (Stage.ON_THE_BENCH, "without_person", Held(Hold.PERSON, DAY, "weld the top")),
]


@pytest.mark.parametrize(("name", "fact", "held"), _WAITS)
def test_each_reason_to_wait_is_told_as_it_was_recorded(name, fact, held):
    assert held_for(facts_at(name, **{fact: (held,)})) == (held,)


@pytest.mark.parametrize(
    ("facts", "held"),
    [
        (facts_at(Stage.AGREED, deposit_open=1, agreed_on=DAY), Held(Hold.DEPOSIT, DAY)),
        (facts_at(Stage.PROVING, proofs_missing=("co-oven",)), Held(Hold.PROOF, None, "co-oven")),
        (facts_at(Stage.GONE), Held(Hold.PROOF, None, "at-home")),
    ],
)
def test_a_deposit_and_a_proof_hold_a_range_too(facts, held):
    assert held_for(facts) == (held,)


def test_the_most_pressing_reason_stands_first():
    everything = facts_at(
        Stage.AGREED, deposit_open=1, open_questions=(Held(Hold.ANSWER),), short_parts=(Held(Hold.PART),),
        outwork_out=(Held(Hold.OUTWORK),), without_person=(Held(Hold.PERSON),),
    )  # fmt: skip
    assert [h.hold for h in held_for(everything)] == list(Hold)[:5]


def test_a_deposit_holds_nothing_up_once_work_has_started():
    assert held_for(facts_at(Stage.ON_THE_BENCH, deposit_open=1)) == ()


def test_parts_hold_up_an_own_range_before_it_is_on_the_bench():
    waiting = facts_at(Stage.INSPECTED, short_parts=(Held(Hold.PART),))
    assert held_for(waiting) == ()
    assert held_for(replace(waiting, shop_owned=True)) == (Held(Hold.PART),)


_FACTS = st.builds(
    Facts,
    **{n: st.booleans() for n in (
        "shop_owned", "booked_in", "inspected", "quoted", "agreed", "started", "work_done", "released",
        "release_lapsed", "gone", "red_tagged", "home_proof", "billed",
    )},
    tasks=st.integers(0, 3), balance=st.integers(-5, 5), deposit_open=st.integers(0, 5),
)  # fmt: skip


@given(_FACTS)
def test_more_facts_never_lead_back(facts):
    """Taking a step on leaves the stage where it is or moves it on."""
    for name in ("booked_in", "inspected", "quoted", "agreed", "started", "released", "gone", "home_proof"):
        further = replace(facts, **{name: True})
        assert WAY.index(stage(further)) >= WAY.index(stage(facts))


@given(_FACTS)
def test_what_is_settled_is_gone_and_waits_for_nothing(facts):
    if stage(facts) is Stage.SETTLED:
        assert facts.gone
        assert facts.balance <= 0
        assert held_for(facts) == ()
