"""The thermostat card: complete or not, the hold flame first, and what it points to."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk import paths
from shopdesk.domain.catalogue.reading import read_catalogue
from shopdesk.domain.problem import Problem
from shopdesk.domain.thermostat_card import (
    CONDEMNING_TASKS,
    FIRST,
    FORCED,
    Points,
    check_answer,
    judge_card,
    missing,
    read_card,
)

CARD = read_card(paths.resource("catalogue", "thermostat_card.toml"))
SOUND = {
    "hold-flame": "right", "trouble": "not-known", "dial": "free", "bulb": "in-clips", "capillary": "whole",
    "before-it": "right", FORCED: "passes-and-closes",
}  # fmt: skip


def points(**answers):
    return judge_card(CARD, {**SOUND, **{k.replace("_", "-"): v for k, v in answers.items()}}).points


def test_it_asks_six_questions_the_hold_flame_first_and_a_forced_test():
    assert len(CARD.questions) == 6
    assert CARD.steps[0].code == FIRST
    assert CARD.steps[-1].code == FORCED
    assert all(step.ask.endswith(("?", ".")) and step.tell and len(step.answers) > 1 for step in CARD.steps)


def test_the_tasks_that_condemn_a_thermostat_are_in_the_catalogue():
    catalogue = read_catalogue(paths.resource("catalogue"))
    assert catalogue.tasks.keys() >= CONDEMNING_TASKS
    for code in CONDEMNING_TASKS:
        assert "test-thermostat-first" in catalogue.tasks[code].needs


# Which answers speak for what: common practice, no source.
@pytest.mark.parametrize(
    ("answers", "to"),
    [
        ({"hold_flame": "too-high", "trouble": "never-off"}, Points.HOLD_FLAME),
        ({"hold_flame": "too-low", "trouble": "slow"}, Points.HOLD_FLAME),
        ({"hold_flame": "too-high", "capillary": "cut"}, Points.THERMOSTAT),
        ({"trouble": "never-off"}, Points.THERMOSTAT),
        ({"trouble": "never-off", "bulb": "loose"}, Points.BULB),
        ({"trouble": "never-off", "capillary": "not-seen"}, Points.LOOK_AGAIN),
        ({"trouble": "no-heat", "before_it": "pilot"}, Points.BEFORE_IT),
        ({"trouble": "no-heat", "forced": "nothing-passes", "before_it": "oven-safety"}, Points.BEFORE_IT),
        ({"trouble": "no-heat", "forced": "nothing-passes", "dial": "stiff"}, Points.PLUG),
        ({"trouble": "no-heat", "forced": "nothing-passes"}, Points.THERMOSTAT),
        ({"forced": "does-not-close", "dial": "stuck"}, Points.PLUG),
        ({"forced": "does-not-close"}, Points.THERMOSTAT),
        ({"forced": "leaks-at-stem"}, Points.STEM),
        ({"forced": "leaks-at-body"}, Points.THERMOSTAT),
        ({"capillary": "kinked"}, Points.BULB),
        ({"dial": "slips"}, Points.DIAL),
        ({"trouble": "runs-cold"}, Points.DIAL),
        ({"hold_flame": "cannot-light"}, Points.LOOK_AGAIN),
        ({}, Points.LOOK_AGAIN),
    ],
)
def test_what_a_card_points_to(answers, to):
    assert points(**answers) is to


def test_a_high_hold_flame_alone_never_condemns_a_thermostat_that_passes_and_closes():
    steps = {s.code: [c.code for c in s.answers] for s in CARD.steps}
    for trouble, dial, bulb, before in product(
        steps["trouble"], steps["dial"], steps["bulb"], steps["before-it"]
    ):
        assert points(hold_flame="too-high", trouble=trouble, dial=dial, bulb=bulb, before_it=before) is not (
            Points.THERMOSTAT
        )


def test_an_open_card_names_what_is_missing_in_order_and_judges_nothing():
    verdict = judge_card(CARD, {"hold-flame": "right", "dial": "free"})
    assert verdict.missing == ("trouble", "bulb", "capillary", "before-it", FORCED)
    assert verdict.points is None
    assert not verdict.complete
    assert [s.code for s in missing(CARD, {})] == [s.code for s in CARD.steps]


def test_the_hold_flame_comes_first():
    with pytest.raises(Problem, match="hold flame comes first"):
        check_answer(CARD, {}, "dial", "free")
    check_answer(CARD, {}, FIRST, "right")
    check_answer(CARD, {FIRST: "right"}, "dial", "free")


def test_only_what_the_card_offers_is_an_answer():
    with pytest.raises(Problem, match="no answer to"):
        check_answer(CARD, {FIRST: "right"}, "dial", "rusty")
    with pytest.raises(Problem, match="asks nothing called"):
        check_answer(CARD, {FIRST: "right"}, "colour", "blue")


every_answer = st.fixed_dictionaries(
    {step.code: st.sampled_from([c.code for c in step.answers]) for step in CARD.steps}
)


@given(every_answer)
def test_every_complete_card_points_somewhere_and_says_why(answers):
    verdict = judge_card(CARD, answers)
    assert verdict.complete
    assert verdict.points is not None
    assert verdict.why.endswith(".")
    assert "safe" not in verdict.why.lower().replace("oven safety", "")
    for step in CARD.steps:
        left = {code: given for code, given in answers.items() if code != step.code}
        assert judge_card(CARD, left).missing == (step.code,)


def test_a_card_that_was_spoiled_is_refused_with_what_to_mend(tmp_path):
    whole = paths.resource("catalogue", "thermostat_card.toml").read_text(encoding="utf-8")
    spoiled = tmp_path / "card.toml"
    spoiled.write_text(whole.replace('code = "hold-flame"', 'code = "hold-fast"'), encoding="utf-8")
    with pytest.raises(Problem, match="six questions, the hold flame first"):
        read_card(spoiled)
