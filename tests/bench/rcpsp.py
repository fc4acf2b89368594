"""The solver core on published project-scheduling instances: `python -m tests.bench.rcpsp FOLDER`.

FOLDER holds instances in Patterson format (`.rcp`: activities and resources; capacities; for
each activity its duration, demands, number of successors and successors) and `optima.csv`
(instance, optimum). One line each: instance, makespan found, proven optimum, seconds.
The library of instances: PSPLIB, Kolisch and Sprecher 1997.
"""
# ruff: noqa: T201 - a bench prints its figures

import argparse
import csv
import time
from pathlib import Path

from shopdesk.domain.planning.instance import After, Instance, Range, Station, Task
from shopdesk.domain.planning.solve import plan


def read(path: Path) -> Instance:
    """One project as an instance with no people: stations are its resources."""
    numbers = iter([int(word) for word in path.read_text().split()])
    size, resources = next(numbers), next(numbers)
    stations = tuple(
        Station(id=f"k{k}", name=f"Resource {k + 1}", capacity=next(numbers)) for k in range(resources)
    )
    slots, uses, before = [], [], [list[str]() for _ in range(size)]
    for i in range(size):
        slots.append(next(numbers))
        uses.append(tuple((f"k{k}", next(numbers)) for k in range(resources)))
        for _ in range(next(numbers)):
            before[next(numbers) - 1].append(str(i + 1))
    tasks = tuple(
        Task(
            id=str(i + 1),
            name=f"Activity {i + 1}",
            range_id="project",
            slots=slots[i],
            by_hand=False,
            uses=tuple((name, amount) for name, amount in uses[i] if amount),
            after=tuple(After(task=name) for name in before[i]),
        )
        for i in range(size)
    )
    return Instance(tasks=tasks, ranges=(Range(id="project", name="Project", due=0),), stations=stations)


def optima(folder: Path) -> dict[str, int]:
    with (folder / "optima.csv").open(newline="") as lines:
        return {row[0]: int(row[1]) for row in list(csv.reader(lines))[1:] if row}


def main() -> int:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("folder", type=Path)
    asked.add_argument("--seconds", type=float, default=10.0)
    asked.add_argument("--workers", type=int, default=2)
    said = asked.parse_args()
    known = optima(said.folder)
    reached = proven = 0
    files = sorted(said.folder.glob("*.rcp"))
    for path in files:
        began = time.monotonic()
        found = plan(read(path), seconds=said.seconds, workers=said.workers)
        spent = time.monotonic() - began
        makespan = max(placed.end for placed in found.placed.values())
        best = known.get(path.stem)
        reached += makespan == best
        proven += found.proven
        print(f"{path.stem:12} {makespan:5} {best if best is not None else '-':>5} {spent:6.2f}", flush=True)
    print(f"{reached} of {len(files)} at the published optimum, {proven} proven by this run")
    return 0 if reached == len(files) else 1


if __name__ == "__main__":
    raise SystemExit(main())
