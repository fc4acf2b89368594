"""Odds of a date: the plan lived through, against what can be worked out by hand or otherwise."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from planning_cases import a_shop, a_task, after, shops
from scipy import stats

from shopdesk.domain.money import Spread
from shopdesk.domain.planning.floor import Floor
from shopdesk.domain.planning.instance import Instance, Person, Range, Station
from shopdesk.domain.planning.net import Net
from shopdesk.domain.planning.odds import Assumptions, lengths_drawn, outlook
from shopdesk.domain.planning.solve import plan
from shopdesk.domain.problem import Problem

CALM = Assumptions(surprises_per_range=0, draws=4000)


def test_one_task_alone_is_ready_as_its_beta_pert_says() -> None:
    """Beta-PERT 60-120-300 minutes: a beta of shapes 2 and 4 over 240 minutes, by scipy."""
    one = a_shop(a_task("mend", 4))
    seen = outlook(one, plan(one, seconds=1), {"mend": Spread(60, 120, 300)}, CALM)
    expected = stats.beta(2, 4, loc=60, scale=240)
    for odds in (0.5, 0.8, 0.95):
        assert abs(seen.ready_by("r", odds) * 30 - expected.ppf(odds)) < 36
        slot = seen.ready_by("r", odds)
        assert abs(seen.odds_by("r", slot) - expected.cdf(slot * 30)) < 0.03


def test_with_nothing_uncertain_the_plan_comes_true() -> None:
    shop = a_shop(
        a_task("strip", 5, uses=(("bay", 1),)),
        a_task("plater", 40, by_hand=False, after=after("strip"), starts=(16, 32)),
        a_task("paint", 3, after=after("strip", lag=8)),
        a_task("assemble", 6, after=after("plater", "paint"), uses=(("bay", 1),)),
        stations=(Station(id="bay", name="Bay"),),
    )
    found = plan(shop, seconds=1)
    seen = outlook(shop, found, {}, replace(CALM, draws=3))
    assert seen.ends("r").tolist() == [found.finish(shop, "r")] * 3 == [62.0] * 3


def test_tasks_of_one_range_hang_together_and_those_of_two_do_not() -> None:
    pair = a_shop(
        a_task("a", 4),
        a_task("b", 4),
        a_task("c", 4, range_id="s"),
        ranges=(Range(id="r", name="R"), Range(id="s", name="S")),
    )
    spreads = dict.fromkeys("abc", Spread(60, 120, 300))
    lengths = lengths_drawn(pair, spreads, replace(CALM, correlation=0.5), {})
    seen = np.corrcoef(lengths.T)
    assert seen[0, 1] == pytest.approx(0.5, abs=0.06)
    assert seen[0, 2] == pytest.approx(0.0, abs=0.06)


def test_surprises_add_their_share_and_fewer_when_the_work_is_half_done() -> None:
    shop = a_shop(a_task("a", 4), a_task("b", 12))
    assumed = replace(CALM, surprises_per_range=2.0, surprise=Spread(120, 120, 120))
    whole = lengths_drawn(shop, {}, assumed, {}) - np.array([4, 12])
    half = lengths_drawn(shop, {}, assumed, {"r": 0.5}) - np.array([4, 12])
    assert whole.sum(axis=1).mean() == pytest.approx(2 * 4, abs=0.3)
    assert half.sum(axis=1).mean() == pytest.approx(4, abs=0.3)
    assert whole[:, 1].mean() / whole[:, 0].mean() == pytest.approx(3, abs=0.4)


def test_doubt_about_the_figures_widens_the_odds_and_leaves_the_middle_where_it_was() -> None:
    job = a_shop(*(a_task(f"t{n}", 16) for n in range(4)))
    found = plan(job, seconds=1, starts=1, rounds=0, workers=1)
    spreads = {task.id: Spread(300, 480, 900) for task in job.tasks}
    sure = Assumptions(draws=2000, surprises_per_range=0.0)
    unsure = replace(sure, hours_doubt=0.2)
    known, doubted = (outlook(job, found, spreads, each) for each in (sure, unsure))
    name = job.ranges[0].id
    assert doubted.ready_by(name, 0.95) > known.ready_by(name, 0.95) + 4
    assert abs(doubted.ready_by(name, 0.5) - known.ready_by(name, 0.5)) <= 2


def test_a_range_keeps_its_luck_when_another_comes_into_the_shop() -> None:
    alone = a_shop(a_task("a", 4), a_task("b", 2))
    both = a_shop(
        a_task("n", 4, range_id="s"),
        a_task("a", 4),
        a_task("b", 2),
        ranges=(Range(id="s", name="S"), Range(id="r", name="R")),
    )
    spreads = dict.fromkeys("abn", Spread(30, 120, 300))
    assumed = Assumptions(draws=50)
    assert (
        lengths_drawn(alone, spreads, assumed, {}) == lengths_drawn(both, spreads, assumed, {})[:, 1:]
    ).all()


def test_a_later_plater_makes_every_odds_worse_and_is_named_as_the_driver() -> None:
    shop = a_shop(
        a_task("pack", 1),
        a_task("plater", 100, by_hand=False, after=after("pack")),
        a_task("fit", 4, after=after("plater")),
    )
    found = plan(shop, seconds=1)
    spreads = {"plater": Spread(2400, 3000, 6000), "fit": Spread(60, 120, 180)}
    early = outlook(shop, found, spreads, replace(CALM, draws=300))
    late = outlook(shop, found, spreads | {"plater": Spread(3900, 4500, 7500)}, replace(CALM, draws=300))
    slot = early.ready_by("r", 0.8)
    assert late.odds_by("r", slot) < early.odds_by("r", slot)
    assert early.drivers("r")[0].task == "plater"
    dates = [early.ready_by("r", odds) for odds in (0.5, 0.8, 0.95)]
    assert dates == sorted(dates)


def test_someone_idle_takes_what_another_was_to_do_later() -> None:
    people = (Person(id="ida", name="Ida"), Person(id="ole", name="Ole"))
    shop = a_shop(a_task("a", 4), a_task("b", 4), a_task("c", 4), people=people)
    found = plan(shop, seconds=1, workers=1)
    slow = next(name for name, at in found.placed.items() if at.start == 0)
    lengths = [20.0 if task.id == slow else 4.0 for task in shop.tasks]
    ends = Floor(Net(shop), found).live(lengths)
    assert sorted(ends) == [4.0, 8.0, 20.0]


@given(shop=shops(), seed=st.integers(0, 5))
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_every_task_of_any_shop_ends_and_none_before_what_it_needs(shop: Instance, seed: int) -> None:
    try:
        found = plan(shop, seconds=0.2, starts=2, workers=1)
    except Problem:
        return
    net = Net(shop)
    spreads = {task.id: Spread(20 * task.slots, 30 * task.slots, 60 * task.slots) for task in shop.tasks}
    lengths = lengths_drawn(shop, spreads, Assumptions(draws=2, seed=seed), {})
    for row in lengths.tolist():
        ends = Floor(net, found).live(row)
        for i in range(net.size):
            assert ends[i] >= net.earliest[i] + row[i] - 1e-3
            for j, lag in net.preds[i]:
                assert ends[i] >= ends[j] + lag + row[i] - 1e-3


def test_stop_keeps_what_was_drawn_so_far() -> None:
    one = a_shop(a_task("mend", 4))
    asked: list[int] = []

    def stop() -> bool:
        asked.append(1)
        return len(asked) >= 5

    seen = outlook(one, plan(one, seconds=1), {}, CALM, stop=stop)
    assert len(seen.ends("r")) == 5


def test_assumptions_that_make_no_sense_are_refused() -> None:
    with pytest.raises(Problem, match="from 0 to 1"):
        Assumptions(correlation=1.5)
    with pytest.raises(Problem, match="at least one draw"):
        Assumptions(draws=0)
    with pytest.raises(Problem, match="less than nothing"):
        Assumptions(hours_factor=0)
