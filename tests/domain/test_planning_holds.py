"""Every plan is read again by a checker that shares no code with the planner."""

from dataclasses import replace
from itertools import permutations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from plan_checker import faults
from planning_cases import a_shop, a_task, after, shops

from shopdesk.domain.planning import model
from shopdesk.domain.planning.again import plan_again
from shopdesk.domain.planning.instance import Instance, Person, Placed, Plan, Range, Station, Task
from shopdesk.domain.planning.solve import plan
from shopdesk.domain.problem import Problem

QUICK = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@given(shop=shops())
@QUICK
def test_any_small_shop_is_planned_without_a_fault_or_refused_with_a_sentence(shop: Instance) -> None:
    shown: list[Plan] = []
    try:
        found = plan(shop, seconds=0.3, starts=5, workers=1, progress=shown.append)
    except Problem as refused:
        assert any(task.name in str(refused) for task in shop.tasks)
        return
    assert faults(shop, found) == []
    assert [fault for early in shown for fault in faults(shop, early)] == []
    costs = [early.cost for early in shown]
    assert costs == sorted(costs, reverse=True)
    assert found.cost <= costs[-1]


@given(shop=shops(), data=st.data())
@QUICK
def test_planning_anew_after_any_change_holds_as_well(shop: Instance, data: st.DataObject) -> None:
    try:
        before = plan(shop, seconds=0.2, starts=3, workers=1)
    except Problem:
        return
    number = data.draw(st.integers(0, len(shop.tasks) - 1))
    grown = replace(shop.tasks[number], slots=shop.tasks[number].slots + data.draw(st.integers(0, 4)))
    tasks = (*shop.tasks[:number], grown, *shop.tasks[number + 1 :])
    today = replace(shop, tasks=tasks, yesterday=before.placed)
    try:
        found = plan_again(today, touched={grown.id}, seconds=0.05)
    except Problem as refused:
        assert any(task.name in str(refused) for task in shop.tasks)
        return
    assert faults(today, found) == []


def test_the_checker_sees_each_kind_of_fault() -> None:
    shop = a_shop(
        a_task("strip", 4, uses=(("bay", 1),)),
        a_task("gas train", 2, skills=frozenset({"gas"}), after=after("strip", lag=2)),
        a_task("wire", 2, uses=(("bay", 1),), earliest=3, starts=(10, 20)),
        people=(
            Person(id="ida", name="Ida", skills=frozenset({"gas"}), off=((30, 40),)),
            Person(id="ole", name="Ole"),
        ),
        stations=(Station(id="bay", name="Bay"),),
    )
    good = plan(shop, seconds=0.5, workers=1)
    assert faults(shop, good) == []
    for name, start, person, words in (
        ("strip", 0, None, "has nobody"),
        ("gas train", 5, "ida", "lag"),
        ("gas train", 6, "ole", "lacks"),
        ("gas train", 29, "ida", "away"),
        ("gas train", 10, good.placed["wire"].person, "two things"),
        ("wire", 3, "ole", "over full"),
        ("wire", 12, "ole", "one of its days"),
        ("wire", 2, "ole", "before 3"),
    ):
        slots = next(task.slots for task in shop.tasks if task.id == name)
        moved = {**good.placed, name: Placed(start=start, end=start + slots, person=person)}
        assert any(words in fault for fault in faults(shop, replace(good, placed=moved))), words


def _brute(shop: Instance) -> int:
    """The least lateness over every order of placing tasks as early as they go (Sprecher et al. 1995:
    for such costs one of these plans is best). Slot by slot, one station, no people."""
    best = 10**9
    for order in permutations(shop.tasks):
        ends: dict[str, int] = {}
        load = [0] * 60
        for task in order:
            if any(link.task not in ends for link in task.after):
                break
            start = max([task.earliest or 0, *(ends[link.task] + link.lag for link in task.after)])
            need = sum(amount for _, amount in task.uses)
            while any(load[t] + need > shop.stations[0].capacity for t in range(start, start + task.slots)):
                start += 1
            for t in range(start, start + task.slots):
                load[t] += need
            ends[task.id] = start + task.slots
        else:
            late = 0
            for each in shop.ranges:
                end = max(ends[task.id] for task in shop.tasks if task.range_id == each.id)
                late += each.weight * max(0, end - (each.due or 0))
            best = min(best, late)
    return best


@st.composite
def _projects(draw: st.DrawFn) -> Instance:
    tasks: list[Task] = []
    for n in range(draw(st.integers(3, 6))):
        names = [task.id for task in tasks]
        before = draw(st.sets(st.sampled_from(names), max_size=2)) if names else set()
        tasks.append(
            a_task(
                f"t{n}",
                draw(st.integers(1, 4)),
                range_id=f"r{n % 2}",
                by_hand=False,
                uses=(("k", draw(st.integers(1, 3))),),
                after=after(*sorted(before), lag=draw(st.integers(0, 2))),
            )
        )
    ranges = (Range(id="r0", name="First", due=4, weight=2), Range(id="r1", name="Second", due=2))
    return Instance(tasks=tuple(tasks), ranges=ranges, stations=(Station(id="k", name="K", capacity=3),))


@pytest.mark.skipif(not model.available(), reason="OR-Tools is not installed")
@given(project=_projects())
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_a_proven_plan_is_as_good_as_the_best_of_all_orders(project: Instance) -> None:
    found = plan(project, seconds=10, starts=3, workers=1)
    assert found.proven
    assert found.cost.lateness == _brute(project) == found.least_lateness
