"""Are promises kept? `python -m tests.bench.odds --shops 6 --worlds 60`.

Plans invented shops, makes promises at 50, 80 and 95 % from the program's own odds, then
lives through worlds that are not the program's: hours lognormal, tasks of a range hanging
together otherwise, surprises counted and sized otherwise, platers that are sometimes very
late, people who take whatever stands first in the plan. A world's code is its own.
"""
# ruff: noqa: T201 - a bench prints its figures

import argparse
import heapq
import math
import random
import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass, replace

from shopdesk.domain.money import Spread
from shopdesk.domain.planning.calendar import SLOT_MINUTES
from shopdesk.domain.planning.instance import Instance, Plan, Task
from shopdesk.domain.planning.odds import Assumptions, outlook
from shopdesk.domain.planning.solve import plan
from tests.bench.generate import DAY, shop

DOUBT = (0.1, 0.15, 0.8)
"""The program's own terms for a shop without a record: hours, waits, surprises."""
ODDS = (0.5, 0.8, 0.95)


@dataclass(frozen=True)
class World:
    """How things really go. Hours are a task's likely ones times exp(normal)."""

    name: str
    median: float = 1.07
    spread: float = 0.35
    correlation: float = 0.5
    surprises: float = 1.2
    plater_late: float = 0.2
    """Share of outwork that comes back one to three weeks after it should."""


WORLDS = (
    World("as the three points say"),
    World("hours hang together more", correlation=0.8),
    World("hours hang together not at all", correlation=0.0),
    World("hours 15 % over the estimates", median=1.07 * 1.15),
    World("half of the platers late", plater_late=0.5),
    World("three surprises a range", surprises=3.0),
)


def three_points(instance: Instance) -> dict[str, Spread]:
    """What the shop believes: minutes of each task around its planned length."""
    believed = {}
    for task in instance.tasks:
        minutes = task.slots * SLOT_MINUTES
        low, high = (0.6, 2.2) if task.by_hand else (0.85, 1.7)
        believed[task.id] = Spread(round(low * minutes), minutes, round(high * minutes))
    return believed


def really(instance: Instance, world: World, luck: random.Random) -> dict[str, float]:
    """Slots each task takes in one world."""
    common = {each.id: luck.gauss(0, 1) for each in instance.ranges}
    lengths = {}
    for task in instance.tasks:
        if task.by_hand:
            own = luck.gauss(0, 1)
            score = (
                math.sqrt(world.correlation) * common[task.range_id] + math.sqrt(1 - world.correlation) * own
            )
            lengths[task.id] = task.slots * world.median * math.exp(world.spread * score)
        else:
            late = luck.uniform(5, 15) * DAY if luck.random() < world.plater_late else 0.0
            lengths[task.id] = task.slots * math.exp(luck.gauss(0.0, 0.1)) + late
    for each in instance.ranges:
        mine = [task.id for task in instance.tasks if task.range_id == each.id and task.by_hand]
        left = luck.expovariate(world.surprises) if world.surprises else 2.0
        while left < 1.0:
            lengths[luck.choice(mine)] += luck.lognormvariate(math.log(5.5), 0.8)
            left += luck.expovariate(world.surprises)
    return lengths


def lived(instance: Instance, found: Plan, lengths: dict[str, float]) -> dict[str, float]:
    """When each range is finished if everyone takes the first task in the plan's order they may do."""
    ends = _Life(instance, found, lengths).run()
    return {
        each.id: max(ends[task.id] for task in instance.tasks if task.range_id == each.id)
        for each in instance.ranges
    }


class _Life:
    """One world's shop: at every moment at which something may change, look at the whole list."""

    def __init__(self, instance: Instance, found: Plan, lengths: dict[str, float]) -> None:
        self.lengths = lengths
        self.people = {each.id: each for each in instance.people}
        self.free_at = dict.fromkeys(self.people, 0.0)
        self.bays = [0.0] * instance.stations[0].capacity
        self.turn = sorted(instance.tasks, key=lambda task: (found.placed[task.id].start, task.id))
        self.ends: dict[str, float] = {}
        self.lags: dict[str, set[int]] = {}
        for task in instance.tasks:
            for link in task.after:
                self.lags.setdefault(link.task, {0}).add(link.lag)
        back = {float(last) for each in instance.people for _, last in each.off}
        self.moments = sorted({0.0, *back, *(float(task.earliest or 0) for task in instance.tasks)})
        self.seen = set(self.moments)

    def run(self) -> dict[str, float]:
        while self.moments:
            now = heapq.heappop(self.moments)
            self.turn = [task for task in self.turn if not self._begins(task, now)]
        assert not self.turn
        return self.ends

    def _begins(self, task: Task, now: float) -> bool:
        if (task.earliest or 0) > now:
            return False
        if any(self.ends.get(link.task, math.inf) + link.lag > now for link in task.after):
            return False
        end = now + self.lengths[task.id]
        if task.by_hand:
            who = self._someone(task, now)
            if who is None or (task.uses and min(self.bays) > now):
                return False
            for first, last in sorted(self.people[who].off):
                if now <= first < end:
                    end += last - first
            self.free_at[who] = end
            if task.uses:
                self.bays[self.bays.index(min(self.bays))] = end
        self.ends[task.id] = end
        for lag in self.lags.get(task.id, {0}):
            if end + lag not in self.seen:
                self.seen.add(end + lag)
                heapq.heappush(self.moments, end + lag)
        return True

    def _someone(self, task: Task, now: float) -> str | None:
        for who, each in self.people.items():
            away = any(first <= now < last for first, last in each.off)
            if self.free_at[who] <= now and not away and task.skills <= each.skills:
                return who
        return None


def learned(instance: Instance, world: World, seed: int) -> tuple[Assumptions, dict[str, Spread]]:
    """What the shop would believe after thirty ranges in that world: hours, surprises, outwork.

    Its records: handwork without surprises over estimate, surprises a range, outwork over
    what was agreed (the three points moved so that low, middle and mean are those seen).
    """
    luck, believed = random.Random(f"record {seed} {world.name}"), three_points(instance)
    calm = replace(world, surprises=0.0)
    by_hand = [task for task in instance.tasks if task.by_hand]
    waits = [task for task in instance.tasks if not task.by_hand]
    actual = expected = 0.0
    ratios: list[float] = []
    for _ in range(max(1, 30 // len(instance.ranges))):
        lengths = really(instance, calm, luck)
        actual += sum(lengths[task.id] * SLOT_MINUTES for task in by_hand)
        expected += sum(_mean(believed[task.id]) for task in by_hand)
        ratios += [lengths[task.id] / task.slots for task in waits]
    low, middle = min(ratios), statistics.median(ratios)
    high = max(6 * statistics.mean(ratios) - 4 * middle - low, middle, statistics.quantiles(ratios, n=20)[-1])
    for task in waits:
        minutes = task.slots * SLOT_MINUTES
        believed[task.id] = Spread(round(low * minutes), round(middle * minutes), round(high * minutes))
    return Assumptions(
        seed=seed, hours_factor=actual / expected, surprises_per_range=world.surprises
    ), believed


def _mean(spread: Spread) -> float:
    return (spread.low + 4 * spread.likely + spread.high) / 6


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--shops", type=int, default=6)
    asked.add_argument("--ranges", type=int, default=12)
    asked.add_argument("--worlds", type=int, default=60)
    asked.add_argument("--draws", type=int, default=400)
    asked.add_argument("--no-record", action="store_true", help="only the odds of a shop that learns nothing")
    asked.add_argument("--doubt", type=float, nargs=3, default=DOUBT, metavar=("HOURS", "WAITS", "SURPRISES"),
                       help="how unsure a shop without a record is of its figures")  # fmt: skip
    said = asked.parse_args()
    unsure = Assumptions(
        draws=said.draws, hours_doubt=said.doubt[0], wait_doubt=said.doubt[1], surprises_doubt=said.doubt[2]
    )
    kept: dict[str, list[list[bool]]] = {}
    for seed in range(1, said.shops + 1):
        instance = shop(said.ranges, 100 + seed)
        found = plan(instance, seconds=60, starts=100, rounds=0, workers=1, stop=_after(3.0))
        began = time.monotonic()
        blind = _promises(instance, found, three_points(instance), replace(unsure, seed=seed))
        print(
            f"shop {seed}: odds of {len(instance.tasks)} tasks in {time.monotonic() - began:.2f} s",
            flush=True,
        )
        for world in WORLDS:
            known, believed = learned(instance, world, seed)
            promised = {"": blind}
            if not said.no_record:
                promised[", after 30 ranges"] = _promises(
                    instance, found, believed, replace(known, draws=said.draws)
                )
            luck = random.Random(f"{seed} {world.name}")
            for _ in range(said.worlds):
                ends = lived(instance, found, really(instance, world, luck))
                for label, promises in promised.items():
                    rows = kept.setdefault(world.name + label, [[] for _ in ODDS])
                    for row, odds in zip(rows, ODDS, strict=True):
                        row += [ends[each.id] <= promises[each.id, odds] for each in instance.ranges]
    print(f"{'promises kept of those made at':50} " + " ".join(f"{odds:6.0%}" for odds in ODDS))
    for name, rows in kept.items():
        shares = [statistics.mean(row) for row in rows]
        mark = "" if 0.75 <= shares[1] <= 0.85 else "   outside 75-85 % at 80 %"
        print(f"{name:50} " + " ".join(f"{share:6.1%}" for share in shares) + mark, flush=True)


def _promises(
    instance: Instance, found: Plan, believed: dict[str, Spread], assumptions: Assumptions
) -> dict[tuple[str, float], int]:
    """The slot promised for each range at each odds: the end of a day, as a customer is told."""
    seen = outlook(instance, found, believed, assumptions)
    return {
        (each.id, odds): -(-seen.ready_by(each.id, odds) // DAY) * DAY
        for each in instance.ranges
        for odds in ODDS
    }


def _after(seconds: float) -> Callable[[], bool]:
    until = time.monotonic() + seconds
    return lambda: time.monotonic() > until


if __name__ == "__main__":
    main()
