"""Why something cannot be planned at all, as sentences that name the tasks concerned."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from shopdesk.domain.planning.instance import Instance, Task
from shopdesk.domain.planning.net import Net, eligible
from shopdesk.domain.problem import Problem


class NoPlace(Problem):
    """The sentence of an obstacle, which it carries for those who plan on without its tasks."""

    def __init__(self, obstacle: "Obstacle") -> None:
        super().__init__(obstacle.text, **obstacle.facts)
        self.obstacle = obstacle


@dataclass(frozen=True, slots=True)
class Obstacle:
    """A template with its facts, and the ids of the tasks that cannot be placed because of it."""

    text: str
    facts: Mapping[str, Any]
    tasks: tuple[str, ...]

    def problem(self) -> "NoPlace":
        return NoPlace(self)


def obstacles(instance: Instance) -> tuple[Obstacle, ...]:
    """Everything that keeps a plan from being made; empty when nothing is seen to."""
    unknown = tuple(_unknown_names(instance))
    if unknown:
        return unknown
    return (
        *_circles(instance),
        *_nobody(instance),
        *_never(instance),
        *_too_much(instance),
        *_no_place(instance),
    )


def without_blocked(instance: Instance, found: Iterable[Obstacle]) -> Instance:
    """What can still be planned: the blocked tasks and all that comes after them left out."""
    blocked = {name for each in found for name in each.tasks}
    grown = True
    while grown:
        more = {
            task.id
            for task in instance.tasks
            if task.id not in blocked
            and (any(link.task in blocked for link in task.after) or task.same_hand in blocked)
            and not task.started
        }
        grown = bool(more)
        blocked |= more
    left = tuple(task for task in instance.tasks if task.id not in blocked)
    known = {task.id for task in left}
    return replace(
        instance,
        tasks=tuple(
            replace(task, after=tuple(link for link in task.after if link.task in known)) for task in left
        ),
    )


def _named(instance: Instance, tasks: Iterable[Task]) -> str:
    """Up to three tasks by name with their ranges, and how many more."""
    ranges = {each.id: each.name for each in instance.ranges}
    names = [f"{task.name} ({ranges.get(task.range_id, task.range_id)})" for task in tasks]
    shown = ", ".join(names[:3])
    return shown if len(names) <= 3 else f"{shown} +{len(names) - 3}"


def _unknown_names(instance: Instance) -> Iterator[Obstacle]:
    tasks = {task.id for task in instance.tasks}
    ranges = {each.id for each in instance.ranges}
    stations = {each.id for each in instance.stations}
    for task in instance.tasks:
        asked = [link.task for link in task.after if link.task not in tasks]
        asked += [name for name, _ in task.uses if name not in stations]
        asked += [name for name in (task.same_hand,) if name is not None and name not in tasks]
        asked += [name for name in (task.range_id,) if name not in ranges]
        if asked:
            yield Obstacle(
                "{tasks} needs {missing}, which is not in the plan. Take it in or remove the need.",
                {"tasks": _named(instance, (task,)), "missing": asked[0]},
                (task.id,),
            )


def _circles(instance: Instance) -> Iterator[Obstacle]:
    order = set(Net(instance).order)
    inside = _on_circle([task for i, task in enumerate(instance.tasks) if i not in order])
    if inside:
        yield Obstacle(
            "These tasks wait for each other in a circle: {tasks}. Take one of the steps out of the order.",
            {"tasks": _named(instance, inside)},
            tuple(task.id for task in inside),
        )


def _on_circle(left: list[Task]) -> list[Task]:
    """Of the tasks that never come free, those that others among them wait for."""
    while True:
        asked = {link.task for task in left for link in task.after}
        inside = [task for task in left if task.id in asked]
        if len(inside) == len(left):
            return inside
        left = inside


def _nobody(instance: Instance) -> Iterator[Obstacle]:
    without: dict[tuple[str, ...], list[Task]] = {}
    for task in instance.tasks:
        if task.by_hand and not eligible(instance, task):
            without.setdefault(tuple(sorted(task.skills)), []).append(task)
    for skills, tasks in without.items():
        facts = {"tasks": _named(instance, tasks), "skills": ", ".join(skills)}
        text = "Nobody may do {tasks}. Name someone for it."
        if skills:
            text = (
                "Nobody who may do {tasks} has the skill asked for: {skills}. "
                "Give someone the skill or send the work out."
            )
        yield Obstacle(text, facts, tuple(task.id for task in tasks))


def _never(instance: Instance) -> Iterator[Obstacle]:
    for task in instance.tasks:
        if task.earliest is None and not task.started and task.pinned_start is None:
            yield Obstacle(
                "{tasks} waits for {what}, and nobody knows when that comes. Enter the day it is expected.",
                {"tasks": _named(instance, (task,)), "what": task.waits_for or "something"},
                (task.id,),
            )
        elif task.starts is not None and not [day for day in task.starts if day >= (task.earliest or 0)]:
            yield Obstacle(
                "{tasks} may only begin on days that are past or before it can. Enter more days for it.",
                {"tasks": _named(instance, (task,))},
                (task.id,),
            )


def _too_much(instance: Instance) -> Iterator[Obstacle]:
    stations = {each.id: each for each in instance.stations}
    for task in instance.tasks:
        for name, amount in task.uses:
            station = stations[name]
            if amount > station.capacity:
                yield Obstacle(
                    "{tasks} needs room for {amount} at {station}, which has room for {capacity}.",
                    {
                        "tasks": _named(instance, (task,)),
                        "amount": amount,
                        "station": station.name,
                        "capacity": station.capacity,
                    },
                    (task.id,),
                )


def _no_place(instance: Instance) -> Iterator[Obstacle]:
    """Pins outside the working time of the person or station they are pinned to."""
    people = {each.id: each for each in instance.people}
    for task in instance.tasks:
        person = people.get(task.pinned_person or "")
        start = task.pinned_start if task.pinned_start is not None else (0 if task.started else None)
        if start is None or person is None:
            continue
        if start < 0 or any(first < start + task.slots and start < last for first, last in person.off):
            yield Obstacle(
                "{tasks} is pinned to a time at which {person} is not there. "
                "Move the pin or give it to another.",
                {"tasks": _named(instance, (task,)), "person": person.name},
                (task.id,),
            )


def no_place_for(instance: Instance, task: Task) -> Obstacle:
    """A task for which list scheduling found no place."""
    named = _named(instance, (task,))
    if task.pinned_start is not None or task.started:
        before = [other for other in instance.tasks if other.id in {link.task for link in task.after}]
        if before:
            text = (
                "{tasks} cannot keep its pinned time: what comes before it ({before}) is not finished by "
                "then, or its person or station is taken. Move the pin."
            )
            return Obstacle(text, {"tasks": named, "before": _named(instance, before)}, (task.id,))
        text = "{tasks} cannot keep its pinned time: its person or station is taken. Move the pin."
        return Obstacle(text, {"tasks": named}, (task.id,))
    text = (
        "No working time is long enough for {tasks}. Cut the task into sittings, or give its people "
        "or station longer hours."
    )
    return Obstacle(text, {"tasks": named}, (task.id,))
