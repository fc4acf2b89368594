"""Single cases of the bench calendar: pins, sittings, stop, repetition, what cannot be planned."""

from dataclasses import replace

import pytest
from plan_checker import faults
from planning_cases import a_shop, a_task, after

from shopdesk.domain.planning import model, rolling
from shopdesk.domain.planning.again import plan_again
from shopdesk.domain.planning.instance import Instance, Person, Plan, Range, Station
from shopdesk.domain.planning.obstacles import obstacles, without_blocked
from shopdesk.domain.planning.sittings import in_sittings
from shopdesk.domain.planning.solve import plan
from shopdesk.domain.problem import Problem
from tests.bench.generate import best_rule, shop


def quick(instance: Instance) -> Plan:
    found = plan(instance, seconds=2, starts=10, workers=1)
    assert faults(instance, found) == []
    return found


def test_a_published_style_project_of_six_activities_is_done_in_its_known_time() -> None:
    """By hand: 3 + 2 + 4 slots of two units each on a resource of two follow one another, 9 in all;
    the two activities of one unit run side by side in what is left, after the first."""
    rows = (
        ("a", 3, 2, ()),
        ("b", 2, 2, ("a",)),
        ("c", 4, 2, ("a",)),
        ("d", 3, 1, ("a",)),
        ("e", 3, 1, ("a",)),
    )
    tasks = [
        a_task(name, slots, by_hand=False, uses=(("k", need),), after=after(*before))
        for name, slots, need, before in rows
    ]
    project = a_shop(*tasks, stations=(Station(id="k", name="K", capacity=2),), people=())
    assert quick(project).cost.lateness == 3 + 2 + 4 + 3


def test_the_range_with_more_weight_goes_first() -> None:
    two = a_shop(
        a_task("one", 4),
        a_task("other", 4, range_id="s"),
        ranges=(Range(id="r", name="R", due=4), Range(id="s", name="S", due=4, weight=3)),
    )
    found = quick(two)
    assert found.placed["other"].start == 0
    assert found.cost.lateness == 4


def test_outwork_passes_without_people_and_leaves_on_the_platers_day() -> None:
    found = quick(
        a_shop(
            a_task("pack", 2),
            a_task("plater", 100, by_hand=False, after=after("pack"), starts=(0, 40, 80)),
            a_task("unpack", 1, after=after("plater")),
            a_task("something else", 30),
        )
    )
    assert found.placed["plater"].start == 40
    assert found.placed["plater"].person is None
    assert found.placed["unpack"].start == 140


def test_a_pin_stays_and_pulls_what_comes_before_it_forward() -> None:
    found = quick(
        a_shop(
            *(a_task(f"dull {n}", 6, range_id="s") for n in range(4)),
            a_task("strip", 4),
            a_task("visit", 2, after=after("strip"), pinned_start=5, pinned_person="ida"),
            ranges=(Range(id="r", name="R"), Range(id="s", name="S", due=0, weight=9)),
        )
    )
    assert found.placed["visit"].start == 5
    assert found.placed["strip"].end <= 5


def test_started_work_stays_though_what_comes_before_it_is_not_done() -> None:
    found = quick(
        a_shop(
            a_task("first", 4),
            a_task("begun", 3, after=after("first"), started=True, pinned_person="ida"),
        )
    )
    assert (found.placed["begun"].start, found.placed["first"].start) == (0, 3)


def test_long_work_in_sittings_fits_half_days_and_stays_in_one_hand() -> None:
    mornings = tuple((day * 16 + 8, day * 16 + 16) for day in range(10))
    people = (Person(id="ida", name="Ida", off=mornings), Person(id="ole", name="Ole", off=mornings))
    long = a_task("rebuild", 30)
    with pytest.raises(Problem, match="Cut the task into sittings"):
        plan(a_shop(long, people=tuple(replace(p, off=(*p.off, (160, 1 << 20))) for p in people)), seconds=1)
    cut = a_shop(*in_sittings((long, a_task("next", 2, after=after("rebuild")))), people=people)
    found = quick(cut)
    names = ("rebuild/1", "rebuild/2", "rebuild/3", "rebuild")
    assert len({found.placed[name].person for name in names}) == 1
    assert [found.placed[name].start // 16 for name in names] == [0, 1, 2, 3]
    assert sum(found.placed[name].end - found.placed[name].start for name in names) == 30


@pytest.mark.parametrize(
    ("facts", "sentence"),
    [
        (
            {"skills": frozenset({"leading"})},
            "Nobody who may do weld .The green range. has the skill asked for",
        ),
        ({"people": frozenset({"gone"})}, "Nobody may do weld"),
        ({"earliest": None, "waits_for": "the door spring"}, "weld .* waits for the door spring"),
        ({"starts": (1, 2), "earliest": 5}, "may only begin on days"),
        ({"uses": (("bay", 2),)}, "room for 2 at Bay, which has room for 1"),
        ({"uses": (("attic", 1),)}, "needs attic, which is not in the plan"),
        ({"pinned_start": 9, "pinned_person": "ida"}, "at which Ida is not there"),
        ({"pinned_start": 1, "after": after("strip")}, "what comes before it .strip"),
    ],
)
def test_what_cannot_be_planned_is_said_with_the_task(facts: dict[str, object], sentence: str) -> None:
    hopeless = a_shop(
        a_task("strip", 4),
        a_task("weld", 2, **facts),
        people=(Person(id="ida", name="Ida", off=((10, 12),)),),
        stations=(Station(id="bay", name="Bay"),),
    )
    with pytest.raises(Problem, match=sentence):
        plan(hopeless, seconds=1)


def test_a_circle_is_named_and_the_rest_can_still_be_planned() -> None:
    shop_with_circle = a_shop(
        a_task("free", 2),
        a_task("hen", 1, after=after("egg")),
        a_task("egg", 1, after=after("hen")),
        a_task("omelette", 1, after=after("egg")),
    )
    found = obstacles(shop_with_circle)
    assert [set(each.tasks) for each in found] == [{"hen", "egg"}]
    rest = without_blocked(shop_with_circle, found)
    assert [task.id for task in rest.tasks] == ["free"]
    assert quick(rest).placed["free"].start == 0


def test_a_shop_with_nothing_to_do_has_an_empty_plan() -> None:
    assert plan(a_shop(), seconds=1).placed == {}


def test_one_worker_and_the_same_seed_give_the_same_plan() -> None:
    busy = shop(13, 3)

    def made() -> Plan:
        return plan(busy, seconds=60, starts=10, rounds=1, workers=1, seed=5)

    first, second = made(), made()
    assert first.placed == second.placed
    assert faults(busy, first) == []


def test_stop_ends_the_search_with_the_best_plan_so_far() -> None:
    busy, shown = shop(40, 2), list[Plan]()
    found = plan(busy, seconds=600, stop=lambda: len(shown) > 0, progress=shown.append)
    assert faults(busy, found) == []
    assert found.cost <= shown[0].cost


def test_stop_interrupts_the_model_of_all_ranges() -> None:
    tight, asked = shop(12, 4, late_share=0.8), list[int]()

    def stop() -> bool:
        asked.append(1)
        return len(asked) > 60

    assert faults(tight, plan(tight, seconds=600, stop=stop)) == []


@pytest.mark.skipif(not model.available(), reason="OR-Tools is not installed")
def test_the_ranges_finished_next_are_gone_over_by_the_solver_and_the_plan_holds(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The list scheduling is cut short, so that the nearest weeks have something to give."""
    busy, shown = shop(14, 2, late_share=0.8), list[Plan]()
    rough = plan(busy, seconds=60, starts=1, rounds=0, workers=1)
    monkeypatch.setattr(rolling, "plan", lambda *_given, **_named: rough)
    found = rolling.plan_rolling(
        busy, seconds=60, stop=lambda: len(shown) > 0, progress=shown.append, workers=1, nearest=6
    )
    assert faults(busy, found) == []
    assert found.cost < rough.cost


def test_a_large_shop_is_planned_rolling_without_a_fault() -> None:
    busy = shop(14, 3)
    assert faults(busy, rolling.plan_rolling(busy, seconds=1.5, workers=1, nearest=5)) == []


def test_without_the_solver_the_plan_is_still_better_than_any_single_rule(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(model, "available", lambda: False)
    busy = shop(20, 1)
    found = plan(busy, seconds=60, starts=60, rounds=2, workers=1)
    assert faults(busy, found) == []
    assert found.cost.lateness < best_rule(busy)[1]


def test_a_late_piece_leaves_nearly_everyone_else_where_they_were() -> None:
    busy = shop(20, 4)
    before = plan(busy, seconds=60, starts=40, rounds=1, workers=1)
    away = next(task for task in busy.tasks if task.id == "r3/at the plater")
    later = replace(away, slots=away.slots + 9 * 16)
    today = replace(
        busy,
        tasks=tuple(later if task.id == away.id else task for task in busy.tasks),
        yesterday=before.placed,
    )
    found = plan_again(today, touched={away.id}, seconds=0.5)
    assert faults(today, found) == []
    others = [name for name in before.placed if name != away.id]
    kept = [
        name
        for name in others
        if found.placed[name].person == before.placed[name].person
        and abs(found.placed[name].start - before.placed[name].start) <= 8
    ]
    assert len(kept) >= 0.9 * len(others)


def test_of_equally_late_plans_the_one_with_fewest_changes_is_taken() -> None:
    tasks = [a_task(f"t{n}", 2) for n in range(3)]
    pair = (Person(id="ida", name="Ida"), Person(id="ole", name="Ole"))
    calm = a_shop(*tasks, due=40, people=pair)
    before = plan(calm, seconds=1, workers=1)
    swapped = {name: replace(at, start=at.start + 12, end=at.end + 12) for name, at in before.placed.items()}
    found = plan(replace(calm, yesterday=swapped), seconds=3, workers=1)
    assert found.cost.changes == 0 if model.available() else found.cost.changes <= 3
    assert found.cost.lateness == 0
