"""The planner on invented shops: `python -m tests.bench.shops --seeds 1-5 --seconds 20`.

For each shop: seconds to the first plan, weighted lateness of the best single rule, of many
starts alone and of the whole search in the same time; then, asked for by name, a dozen
ranges to the proof (`--part dozen`), planning anew after one change (`--part again`) and how
cost grows with the number of ranges (`--part growth`).
"""
# ruff: noqa: T201 - a bench prints its figures

import argparse
import random
import statistics
import time
from dataclasses import replace

from shopdesk.domain.planning.again import plan_again
from shopdesk.domain.planning.instance import Instance, Plan, Range, Task
from shopdesk.domain.planning.net import Net
from shopdesk.domain.planning.rolling import LARGE_TASKS, NEAREST, next_finished, plan_rolling
from shopdesk.domain.planning.serial import Scheduler
from shopdesk.domain.planning.solve import plan
from shopdesk.domain.planning.starts import Best, by_single_rules, many_starts
from tests.bench.generate import DAY, LATE_SHARE, WEEK, best_rule, shop

# The checker's own reading of the rules, not the planner's, says whether a plan holds.
from tests.plan_checker import faults


def starts_alone(instance: Instance, seconds: float, seed: int) -> int:
    """Weighted lateness that many starts reach with all the time to themselves."""
    until = time.monotonic() + seconds
    best = Best(Scheduler(Net(instance)))
    by_single_rules(best, lambda: None)
    many_starts(best, random.Random(seed), lambda _: time.monotonic() < until, lambda: None)
    assert best.cost is not None
    return best.cost.lateness


def timed(instance: Instance, seconds: float, seed: int) -> tuple[Plan, float, float]:
    """The plan, seconds to the first plan shown, seconds in all."""
    began, first = time.monotonic(), list[float]()

    def shown(_: Plan) -> None:
        if not first:
            first.append(time.monotonic() - began)

    found = plan(instance, seconds=seconds, seed=seed, progress=shown)
    wrong = faults(instance, found)
    assert not wrong, wrong[:3]
    return found, first[0], time.monotonic() - began


def compare(seeds: range, seconds: float) -> None:
    print("seed  first s  best rule (late of 40)        many starts   search   /starts   /rule")
    shares = []
    for seed in seeds:
        instance = shop(40, seed)
        name, rule, late = best_rule(instance)
        alone = starts_alone(instance, seconds, seed)
        found, first, _ = timed(instance, seconds, seed)
        now = found.cost.lateness
        shares.append((now / max(1, alone), now / max(1, rule)))
        print(
            f"{seed:4} {first:8.3f} {rule:6} {name:13} ({late:2})  {alone:16} {now:8} "
            f"{shares[-1][0]:9.3f} {shares[-1][1]:7.3f}   found by {found.found_by}",
            flush=True,
        )
    print(
        f"mean {statistics.mean(s for s, _ in shares):.3f} of many starts, "
        f"{statistics.mean(r for _, r in shares):.3f} of the best rule"
    )


def dozen(seeds: range, seconds: float, late_share: float) -> None:
    print("seed  lateness  proven  seconds   (12 ranges, 360 tasks)")
    for seed in seeds:
        found, _, spent = timed(shop(12, seed, late_share=late_share), seconds, seed)
        print(
            f"{seed:4} {found.cost.lateness:9} {found.proven!s:>7} {spent:8.2f} "
            f"(at least {found.least_lateness})",
            flush=True,
        )


def growth(seconds: float) -> None:
    print("ranges  tasks  first s  best rule  search  seconds (beyond 130 ranges: whole, then rolling)")
    for count in (10, 40, 160):
        instance = shop(count, 1)
        _, rule, _ = best_rule(instance)
        found, first, spent = timed(instance, seconds, 1)
        print(
            f"{count:6} {len(instance.tasks):6} {first:8.3f} {rule:10} {found.cost.lateness:7} {spent:8.2f}"
            f" proven {found.proven}",
            flush=True,
        )
        if len(instance.tasks) > LARGE_TASKS:
            rolled = plan_rolling(instance, seconds=seconds)
            wrong = faults(instance, rolled)
            assert not wrong, wrong[:3]
            print(f"{count:6} rolling {rolled.cost.lateness:34}  {rolled.found_by}")
            print(f"       of the ranges finished next: {_of_next(instance, found)} whole, "
                  f"{_of_next(instance, rolled)} rolling", flush=True)  # fmt: skip


def _of_next(instance: Instance, found: Plan) -> int:
    """Weighted lateness of the ranges that a plan finishes next."""
    net = Net(instance)
    draft = net.draft(found)
    finish = net.finishes(draft)
    return sum(net.late(r, finish[r]) for r in next_finished(net, draft, NEAREST))


def changes(instance: Instance, draw: random.Random) -> dict[str, tuple[Instance, set[str]]]:
    """One change each: the instance after it, and the tasks the change itself is about."""
    tasks = {task.id: task for task in instance.tasks}
    away = draw.choice([name for name in tasks if name.endswith("at the plater")])
    slow = draw.choice([name for name in tasks if "mend" in name])
    ill = draw.choice(instance.people)
    late = replace(tasks[away], slots=tasks[away].slots + 9 * DAY)
    grown = replace(tasks[slow], slots=tasks[slow].slots * 2)
    there = min(placed.start for placed in instance.yesterday.values())
    week = replace(ill, off=tuple(sorted((*ill.off, (there, there + 5 * DAY)))))
    new = shop(1, draw.randrange(10**6)).tasks
    taken_in = tuple(
        replace(
            task,
            id=f"new/{task.id}",
            range_id="new",
            after=tuple(replace(link, task=f"new/{link.task}") for link in task.after),
        )
        for task in new
    )
    return {
        "plater nine days late": (_with_task(instance, late), {away}),
        "a task takes twice as long": (_with_task(instance, grown), {slow}),
        "someone away for a week": (
            replace(instance, people=tuple(week if p.id == ill.id else p for p in instance.people)),
            {n for n, at in instance.yesterday.items() if at.person == ill.id and at.start < there + 5 * DAY},
        ),
        "a range taken in": (
            replace(
                instance,
                tasks=instance.tasks + taken_in,
                ranges=(*instance.ranges, Range(id="new", name="New range", due=12 * WEEK)),
            ),
            set(),
        ),
    }


def _with_task(instance: Instance, changed: Task) -> Instance:
    return replace(instance, tasks=tuple(changed if t.id == changed.id else t for t in instance.tasks))


def again(seeds: range, seconds: float) -> None:
    print(
        "seed  change                        seconds  kept of others  not after it"
        "  lateness before  repair   after"
    )
    for seed in seeds:
        base = shop(40, seed)
        before = plan(base, seconds=seconds, seed=seed)
        base = replace(base, yesterday=before.placed)
        for name, (instance, touched) in changes(base, random.Random(seed)).items():
            shown: list[Plan] = []
            began = time.monotonic()
            after = plan_again(instance, touched=touched, progress=shown.append)
            spent = time.monotonic() - began
            wrong = faults(instance, after)
            assert not wrong, wrong[:3]
            kept = kept_share(instance, after, touched)
            apart = kept_share(instance, after, with_all_after(instance, touched))
            print(
                f"{seed:4}  {name:28} {spent:8.2f} {kept:15.3f} {apart:13.3f} {before.cost.lateness:16} "
                f"{shown[0].cost.lateness:7} {after.cost.lateness:7}",
                flush=True,
            )


def with_all_after(instance: Instance, touched: set[str]) -> set[str]:
    """The tasks touched and all that wait for them, which a delay moves whatever the planner does."""
    reached, grown = set(touched), True
    while grown:
        more = {t.id for t in instance.tasks if any(link.task in reached for link in t.after)} - reached
        grown = bool(more)
        reached |= more
    return reached


def kept_share(instance: Instance, after: Plan, touched: set[str]) -> float:
    """Of all tasks planned before and not touched, the share with the same person and half-day."""
    others = {name: at for name, at in instance.yesterday.items() if name not in touched}
    kept = [
        after.placed[name].person == at.person and abs(after.placed[name].start - at.start) <= DAY // 2
        for name, at in others.items()
    ]
    return statistics.mean(kept)


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--seeds", default="1-5")
    asked.add_argument("--seconds", type=float, default=20.0)
    asked.add_argument(
        "--late-share", type=float, default=LATE_SHARE, help="of the dozen, under the best rule"
    )
    asked.add_argument("--part", choices=("forty", "dozen", "again", "growth"), default="forty")
    said = asked.parse_args()
    first, _, last = said.seeds.partition("-")
    seeds = range(int(first), int(last or first) + 1)
    if said.part == "forty":
        compare(seeds, said.seconds)
    elif said.part == "dozen":
        dozen(seeds, said.seconds, said.late_share)
    elif said.part == "again":
        again(seeds, said.seconds)
    elif said.part == "growth":
        growth(said.seconds)


if __name__ == "__main__":
    main()
