"""The simulated estimate: sums, what was not seen, what drives the spread."""

import json
import os
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from small_catalogue import a_catalogue, a_checkpoint, a_finding, a_look, a_task, found, looks, some_figures

from shopdesk import paths
from shopdesk.domain.answers import Answer
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Evidence, OutworkUse, PartUse, Purpose, Scope
from shopdesk.domain.catalogue.reading import read_catalogue
from shopdesk.domain.estimate import DriverKind, estimate
from shopdesk.domain.estimate.simulate import simulate
from shopdesk.domain.estimate.streams import Streams
from shopdesk.domain.estimate.three_point import drawn_variance, mean
from shopdesk.domain.money import Spread
from shopdesk.domain.work import plan_work

SHIPPED = read_catalogue(paths.resource("catalogue"))
INDEPENDENT = some_figures(correlation=0.0)
HOURS = [Spread(30, 60, 240), Spread(10, 20, 60), Spread(60, 90, 100), Spread(5, 100, 300)]


def several(count=4, **task):
    """One checkpoint for each task, each with a finding that calls for it."""
    tasks = [a_task(f"job-{n}", minutes=HOURS[n % 4], **task) for n in range(count)]
    points = [a_checkpoint(f"place{n}", a_finding(f"place{n}.bad", f"job-{n}")) for n in range(count)]
    return a_catalogue(points, tasks)


def all_found(count=4):
    return a_look(*(found(f"place{n}.bad") for n in range(count)))


def drawn(catalogue, look, figures=INDEPENDENT, scope=Scope.MECHANICAL, seed=1):
    return simulate(catalogue, look, scope, figures, Streams(seed, figures.correlation))


def test_independent_tasks_add_up_in_mean_and_variance():
    minutes = drawn(several(), all_found()).totals.minutes
    spread = float(sum(drawn_variance(h) for h in HOURS)) ** 0.5
    assert abs(minutes.mean() - float(sum(mean(h) for h in HOURS))) < 4 * spread / minutes.size**0.5
    assert minutes.std() == pytest.approx(spread, rel=0.03)


def test_correlation_widens_the_range_and_leaves_the_mean():
    apart = estimate(several(), all_found(), Scope.MECHANICAL, INDEPENDENT, 1)
    together = estimate(several(), all_found(), Scope.MECHANICAL, some_figures(correlation=0.6), 1)
    assert together.minutes.high - together.minutes.low > 1.3 * (apart.minutes.high - apart.minutes.low)
    assert together.expected_minutes == pytest.approx(apart.expected_minutes, rel=0.02)


def test_labour_parts_and_outwork_make_up_the_cost():
    catalogue = several(
        1,
        parts=(
            PartUse("spring", Spread(500, 500, 500), count=2),
            PartUse("wax", Spread(90, 90, 90), per_extent=False),
        ),
        outwork=OutworkUse("plater", Spread(1000, 1000, 1000), Spread(1, 2, 3)),
        per="piece",
    )
    found_thrice = a_look(found("place0.bad", 3))
    result = estimate(catalogue, found_thrice, Scope.MECHANICAL, INDEPENDENT, 1)
    assert result.parts == Spread(3090, 3090, 3090)
    assert result.outwork == Spread(3000, 3000, 3000)
    expected = float(mean(HOURS[0])) * 3 * 5000 / 60 + 6090
    assert result.expected_cost == pytest.approx(expected, rel=0.01)


def test_adding_a_task_shifts_no_other():
    few = drawn(several(5), a_look(*(found(f"place{n}.bad") for n in range(4)), Answer("place4")))
    more = drawn(several(5), all_found(5))
    for cause, cents in few.by_root.items():
        assert np.array_equal(cents, more.by_root[cause])


def test_the_order_and_its_estimate_agree_on_how_often_a_task_is_done():
    look = a_look(found("burner-valves.seized", 2), found("knobs.cracked", 3), build=Build(griddle=True))
    everything = tuple(
        Answer(c.code) for c in SHIPPED.walk(look.build) if c.code not in ("burner-valves", "knobs")
    )
    look = a_look(*look.answers, *everything, build=look.build)
    order = plan_work(SHIPPED, look.build, look.answers, Scope.SHOW)
    expected = sum(float(mean(task.minutes)) for task in order.tasks)
    result = estimate(SHIPPED, look, Scope.SHOW, SHIPPED.figures, 1)
    assert result.expected_minutes == pytest.approx(expected, rel=0.01)


def doubtful(chance=0.25):
    return a_catalogue(
        [a_checkpoint("joint", a_finding("joint.leaks", "mend-joint", chance=chance))],
        [a_task("mend-joint", minutes=Spread(60, 60, 60))],
    )


def test_what_was_not_seen_costs_its_chance_times_its_work():
    result = estimate(doubtful(), a_look(), Scope.MECHANICAL, INDEPENDENT, 1)
    assert result.expected_cost == pytest.approx(0.25 * 5000, rel=0.05)
    assert result.unseen_cents == result.expected_cost
    assert result.cost == Spread(0, 0, 5000)


def test_a_claim_takes_away_the_share_of_the_risk_that_is_trusted():
    claimed = a_look(Answer("joint", evidence=Evidence.CLAIMED))
    result = estimate(doubtful(), claimed, Scope.MECHANICAL, INDEPENDENT, 1)
    assert result.expected_cost == pytest.approx(0.25 * 0.6 * 5000, rel=0.07)


@pytest.mark.parametrize("evidence", [Evidence.SEEN, Evidence.TESTED])
def test_what_was_seen_or_tested_carries_no_risk(evidence):
    result = estimate(
        doubtful(), a_look(Answer("joint", evidence=evidence)), Scope.MECHANICAL, INDEPENDENT, 1
    )
    assert result.cost == Spread(0, 0, 0)


def test_findings_at_one_place_not_seen_exclude_one_another():
    points = [
        a_checkpoint(
            "joint",
            a_finding("joint.leaks", "mend-joint", chance=0.3),
            a_finding("joint.gone", "new-joint", chance=0.2),
        )
    ]
    catalogue = a_catalogue(points, [a_task("mend-joint"), a_task("new-joint")])
    unknown = drawn(catalogue, a_look()).by_unknown
    leaks, gone = (set(unknown[code][0].at) for code in ("joint.leaks", "joint.gone"))
    assert not leaks & gone
    assert len(leaks) / 20_000 == pytest.approx(0.3, abs=0.02)
    assert len(gone) / 20_000 == pytest.approx(0.2, abs=0.02)


def test_work_on_the_order_anyway_is_not_a_risk_as_well():
    catalogue = a_catalogue(
        [
            a_checkpoint("joint", a_finding("joint.leaks", "mend-joint", chance=0.5)),
            a_checkpoint("pipe", a_finding("pipe.bent", "mend-joint")),
        ],
        [a_task("mend-joint", minutes=Spread(60, 60, 60))],
    )
    result = estimate(catalogue, a_look(found("pipe.bent")), Scope.MECHANICAL, INDEPENDENT, 1)
    assert result.cost == Spread(5000, 5000, 5000)
    assert result.unseen_cents == 0


def test_the_house_is_nobodys_risk_while_a_range_is_bought_for_resale():
    point = a_checkpoint("stairs", a_finding("stairs.tight", "carry", chance=0.5), zone="house")
    catalogue = a_catalogue([point], [a_task("carry")])
    resale = estimate(catalogue, a_look(), Scope.MECHANICAL, INDEPENDENT, 1)
    own = estimate(catalogue, a_look(purpose=Purpose.FULL), Scope.MECHANICAL, INDEPENDENT, 1)
    assert resale.cost.high == 0
    assert own.cost.high > 0


def test_the_shares_of_the_drivers_make_up_the_whole_spread():
    result = estimate(SHIPPED, a_look(found("oven-floor.worn")), Scope.EVERYDAY, SHIPPED.figures, 1)
    assert sum(d.share for d in result.drivers) == pytest.approx(1.0, abs=1e-6)
    assert [d.share for d in result.drivers] == sorted((d.share for d in result.drivers), reverse=True)
    assert sum(d.expected for d in result.drivers) == pytest.approx(result.expected_cost, rel=0.001)


def test_the_swing_of_a_driver_is_that_of_the_whole_cost():
    result = estimate(several(), all_found(), Scope.MECHANICAL, INDEPENDENT, 1)
    for driver in result.drivers:
        assert driver.swing.low < result.expected_cost < driver.swing.high
    widths = [d.swing.high - d.swing.low for d in result.drivers]
    assert widths == sorted(widths, reverse=True)


def test_the_widest_finding_drives_the_spread():
    result = estimate(several(), all_found(), Scope.MECHANICAL, INDEPENDENT, 1)
    assert result.drivers[0].code == "place3.bad"
    assert result.drivers[0].kind is DriverKind.FOUND


def test_the_same_seed_gives_the_same_figures_in_two_processes():
    code = (
        "import json\n"
        "from shopdesk import paths\n"
        "from shopdesk.domain.answers import Look\n"
        "from shopdesk.domain.build import Build\n"
        "from shopdesk.domain.catalogue.model import Purpose, Scope\n"
        "from shopdesk.domain.catalogue.reading import read_catalogue\n"
        "from shopdesk.domain.estimate import estimate\n"
        "c = read_catalogue(paths.resource('catalogue'))\n"
        "e = estimate(c, Look(Build(lamp=True), Purpose.RESALE), Scope.SHOW, c.figures, 11)\n"
        "print(json.dumps([e.cost.low, e.cost.likely, e.cost.high, e.minutes.high, e.unseen_cents]))"
    )
    told = [
        subprocess.run(
            [sys.executable, "-c", code],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": salt},
        ).stdout
        for salt in ("3", "4")
    ]
    here = estimate(SHIPPED, a_look(build=Build(lamp=True)), Scope.SHOW, SHIPPED.figures, 11)
    figures = [here.cost.low, here.cost.likely, here.cost.high, here.minutes.high, here.unseen_cents]
    assert [json.loads(text) for text in told] == [figures, figures]


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(looks(SHIPPED))
def test_any_look_gives_figures_in_order(look):
    result = estimate(SHIPPED, look, Scope.MECHANICAL, SHIPPED.figures, 1, draws=2000)
    assert 0 < result.cost.low <= result.cost.likely <= result.cost.high
    assert result.minutes.low > 0
    assert result.expected_cost > 0
