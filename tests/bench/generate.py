"""Invented shops for the benches: ranges with thirty tasks each, four people, two bays."""

import random
from collections.abc import Callable

from shopdesk.domain.planning.instance import After, Instance, Person, Range, Span, Station, Task
from shopdesk.domain.planning.net import Net
from shopdesk.domain.planning.rules import SINGLE_RULES
from shopdesk.domain.planning.serial import Scheduler

DAY, WEEK = 16, 80
SKILLS = {
    "anna": frozenset({"mechanical", "gas"}),
    "bela": frozenset({"mechanical", "electrical"}),
    "cleo": frozenset({"mechanical", "finish"}),
    "dora": frozenset({"finish", "gas", "electrical"}),
}
GROUPS = ("valves", "oven", "brightwork", "burners", "lamp and clock")
LATE_SHARE = 0.55
"""Due dates are drawn so that the best single rule is late on about this share of ranges."""


def shop(ranges: int, seed: int, *, late_share: float = LATE_SHARE) -> Instance:
    """A shop with so many ranges; the same seed gives the same shop."""
    draw = random.Random(seed)
    people = tuple(
        Person(id=name, name=name.title(), skills=skills, off=_days_off(draw, ranges))
        for name, skills in SKILLS.items()
    )
    tasks: list[Task] = []
    spans: list[tuple[int, int]] = []
    for r in range(ranges):
        arrives = 0 if r < 12 else draw.randrange(0, max(1, ranges // 10) * WEEK)
        tasks += _work(draw, f"r{r}", arrives)
        spans.append((arrives, draw.randint(5 * WEEK, 10 * WEEK)))
    weights = [draw.choice((1, 1, 2, 3)) for _ in range(ranges)]
    stations = (Station(id="bay", name="Bay", capacity=2),)

    def due_at(scale: float) -> Instance:
        return Instance(
            tasks=tuple(tasks),
            people=people,
            stations=stations,
            ranges=tuple(
                Range(id=f"r{r}", name=f"Range {r}", due=arrives + round(scale * allowed), weight=weights[r])
                for r, (arrives, allowed) in enumerate(spans)
            ),
        )

    return _tightened(due_at, late_share)


def best_rule(instance: Instance) -> tuple[str, int, int]:
    """The single rule with the least weighted lateness: its name, that lateness, ranges late."""
    net = Net(instance)
    scheduler = Scheduler(net)
    found = []
    for name, rule in SINGLE_RULES.items():
        draft = scheduler.run(rule(net))
        late = sum(net.late(r, f) > 0 for r, f in enumerate(net.finishes(draft)))
        found.append((net.cost(draft).lateness, late, name))
    lateness, late, name = min(found)
    return name, lateness, late


def _tightened(due_at: Callable[[float], Instance], share: float) -> Instance:
    """Promises scaled until the best single rule is late on about `share` of the ranges."""
    low, high = 0.05, 8.0
    for _ in range(18):
        middle = (low + high) / 2
        instance = due_at(middle)
        late = best_rule(instance)[2] / len(instance.ranges)
        if abs(late - share) < 0.02:
            return instance
        low, high = (middle, high) if late > share else (low, middle)
    return due_at((low + high) / 2)


def _days_off(draw: random.Random, ranges: int) -> tuple[Span, ...]:
    days = sorted(draw.sample(range(max(60, 4 * ranges)), 8))
    return tuple((day * DAY, (day + 1) * DAY) for day in days)


def _work(draw: random.Random, name: str, arrives: int) -> list[Task]:
    tasks: list[Task] = []

    def add(what: str, slots: int, skill: str, after: list[After], *, bay: bool = False) -> str:
        task = Task(
            id=f"{name}/{what}",
            name=what,
            range_id=name,
            slots=slots,
            by_hand=bool(skill),
            skills=frozenset({skill}) if skill else frozenset(),
            uses=(("bay", 1),) if bay else (),
            after=tuple(after),
            earliest=arrives,
        )
        tasks.append(task)
        return task.id

    test = add("test as it came", draw.randint(1, 2), "mechanical", [], bay=True)
    strip = add("strip down", draw.randint(4, 10), "mechanical", [After(task=test)], bay=True)
    pack = add("pack for the plater", draw.randint(1, 2), "mechanical", [After(task=strip)])
    away = add("at the plater", draw.randint(3 * WEEK, 6 * WEEK), "", [After(task=pack)])
    ends = [After(task=add("unpack and check", 1, "finish", [After(task=away)]))]
    for group in GROUPS:
        last = strip
        for step in ("clean", "mend", "finish", "fit together"):
            lag = draw.choice((0, 0, 0, DAY))
            skill = draw.choice(("mechanical", "finish", "gas", "electrical"))
            last = add(f"{step} {group}", draw.randint(1, 6), skill, [After(task=last, lag=lag)])
        ends.append(After(task=last))
    built = add("assemble", draw.randint(4, 10), "mechanical", ends, bay=True)
    gas = add("fit the gas train", draw.randint(2, 4), "gas", [After(task=built)], bay=True)
    wired = add("fit the wiring", draw.randint(1, 4), "electrical", [After(task=gas)], bay=True)
    proved = add("prove it", draw.randint(1, 3), "gas", [After(task=wired)], bay=True)
    add("clean and photograph", 1, "finish", [After(task=proved)])
    return tasks
