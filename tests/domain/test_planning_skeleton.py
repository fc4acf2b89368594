"""The skeleton of a shop: what it leaves out, what it proves, and that the rest fits around its plan."""

import pytest
from plan_checker import faults

from shopdesk.domain.planning import model
from shopdesk.domain.planning.instance import After, Instance, Person, Range, Station, Task
from shopdesk.domain.planning.net import Draft, Net
from shopdesk.domain.planning.serial import Scheduler
from shopdesk.domain.planning.skeleton import bones, fleshed_out, skeleton
from shopdesk.domain.planning.solve import plan

AWAY = 200


def a_shop(ranges: int = 5) -> Instance:
    """Ranges that all want the one bay before and after the plater; two small jobs each have weeks."""
    tasks: list[Task] = []
    for r in range(ranges):
        bay, name = (("bay", 1),), f"r{r}"
        strip = Task(id=f"{name}/strip", name="strip down", range_id=name, slots=6 + r, uses=bay)
        away = Task(
            id=f"{name}/away", name="at the plater", range_id=name, slots=AWAY, by_hand=False,
            after=(After(task=strip.id),),
        )  # fmt: skip
        clean = Task(id=f"{name}/clean", name="clean", range_id=name, slots=5, after=(After(task=strip.id),))
        mend = Task(
            id=f"{name}/mend", name="mend", range_id=name, slots=3, after=(After(task=clean.id, lag=4),)
        )
        built = Task(
            id=f"{name}/build", name="assemble", range_id=name, slots=8, uses=bay,
            after=(After(task=away.id), After(task=mend.id)),
        )  # fmt: skip
        tasks += [strip, away, clean, mend, built]
    return Instance(
        tasks=tuple(tasks),
        ranges=tuple(Range(id=f"r{r}", name=f"Range {r}", due=AWAY, weight=1 + r % 3) for r in range(ranges)),
        people=(Person(id="anna", name="Anna"), Person(id="bela", name="Bela")),
        stations=(Station(id="bay", name="Bay"),),
    )


def test_handwork_with_weeks_to_spare_is_left_out_and_stays_as_a_wait() -> None:
    frame = skeleton(Net(a_shop()))
    assert frame is not None
    assert {task.id.partition("/")[2] for task in frame.tasks} == {"strip", "away", "build"}
    built = next(task for task in frame.tasks if task.id == "r0/build")
    assert After(task="r0/strip", lag=5 + 4 + 3) in built.after
    assert sum(task.slots for task in frame.tasks) == sum(
        task.slots for task in a_shop().tasks if "/clean" not in task.id and "/mend" not in task.id
    )


def test_a_shop_in_which_nothing_has_time_to_spare_has_no_skeleton_of_its_own() -> None:
    shop = a_shop()
    tight = [task for task in shop.tasks if task.id.endswith(("strip", "build"))]
    tight = [
        Task(id=t.id, name=t.name, range_id=t.range_id, slots=t.slots, uses=t.uses) for t in tight
    ]  # fmt: skip
    assert skeleton(Net(Instance(tasks=tuple(tight), ranges=shop.ranges, people=shop.people,
                                 stations=shop.stations))) is None  # fmt: skip


def test_what_was_left_out_finds_room_around_a_plan_of_the_skeleton() -> None:
    shop = a_shop()
    net, scheduler = Net(shop), Scheduler(Net(shop))
    draft = scheduler.run([float(i) for i in range(net.size)])
    frame = bones(net, draft)
    whole = fleshed_out(scheduler, frame)
    assert whole is not None
    assert bones(net, whole[0]) == Draft(frame.start, frame.person)
    assert faults(shop, net.plan(whole[0], "", 0)) == []


@pytest.mark.skipif(not model.available(), reason="OR-Tools is not installed")
def test_the_least_lateness_of_a_shop_is_proven_by_its_skeleton() -> None:
    shop = a_shop()
    found = plan(shop, seconds=20, workers=1)
    assert faults(shop, found) == []
    assert found.proven
    assert found.least_lateness == found.cost.lateness > Net(shop).least
