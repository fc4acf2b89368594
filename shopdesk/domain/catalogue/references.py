"""Whether everything a catalogue names is there, and whether its order of work has an end.

Knows the values only; the complaints name the file that holds the entry, the entry and the fix.
"""

import difflib
from collections.abc import Iterable, Mapping
from graphlib import CycleError, TopologicalSorter
from itertools import product
from typing import get_args

from shopdesk.domain.build import Back, Base, Build
from shopdesk.domain.catalogue.entry import Complaints
from shopdesk.domain.catalogue.model import Catalogue, Checkpoint, Task

# The parts of the range drawing.
PARTS = frozenset({
    "back", "shelf", "lamp", "clock", "outlet", "top", "fold-top", "burners", "grates", "griddle",
    "deep-well", "manifold", "valves", "knobs", "regulator", "inlet", "pilot", "broiler", "broiler-door",
    "broiler-box", "oven", "oven-door", "oven-window", "oven-floor", "oven-burner", "oven-pilot",
    "thermostat", "bulb", "racks", "liner", "flue", "damper", "insulation", "handles", "trim", "badge",
    "plate", "side-left", "side-right", "front", "frame", "legs", "drawers", "cord", "room",
    *(f"burner-{number}" for number in range(1, 9)),
})  # fmt: skip
HOLDS = frozenset({"laboratory"})
TASK_HOLDS = frozenset({"gas-off", "gas-train-out"})
STAGES = frozenset({"intake", "teardown", "repair", "refit", "proving", "delivery"})

_BACKS: tuple[Back, ...] = get_args(Back)
_BASES: tuple[Base, ...] = get_args(Base)
_FULL = [
    Build(back=back, base=base, ovens=2, griddle=True, deep_well=True, lamp=True, clock=True, outlet=True,
          shelf=True, fold_top=True, window=True)
    for back, base in product(_BACKS, _BASES)
]  # fmt: skip
FEATURES = frozenset[str]().union(*(build.features for build in _FULL))

Files = Mapping[str, str]  # "task oven-floor" -> file that holds it


def check_applies(words: frozenset[str]) -> str:
    """What is wrong with feature words that no build can have together; empty when one can."""
    strange = sorted(words - FEATURES)
    if strange:
        return f"applies “{strange[0]}” is a word no build has."
    if not any(words <= build.features for build in _FULL):
        return f"applies {', '.join(sorted(words))} together fit no build."
    return ""


def check_references(catalogue: Catalogue, files: Files, complaints: Complaints) -> None:
    """Every reference by code, and circles in the order of the tasks."""
    for checkpoint in catalogue.checkpoints.values():
        _check_checkpoint(catalogue, checkpoint, files, complaints)
    for task in catalogue.tasks.values():
        entry = f"task {task.code}"
        file = files.get(entry, "tasks")
        for field, names in (("after", task.after), ("needs", task.needs), ("then", task.then)):
            _check_names(field, names, catalogue.tasks, file, entry, complaints)
        _check_names("proofs", task.proofs, catalogue.proofs, file, entry, complaints)
        _check_names("hazards", task.hazards, catalogue.cautions, file, entry, complaints)
        _check_names("holds", task.holds, TASK_HOLDS, file, entry, complaints)
    for proof in catalogue.proofs.values():
        entry = f"proof {proof.code}"
        _check_names("hazards", proof.hazards, catalogue.cautions, "proofs.toml", entry, complaints)
    circle = find_circle(catalogue.tasks)
    if circle:
        complaints.add(
            files[f"task {circle[0]}"],
            f"task {circle[0]}",
            f"the order goes in a circle: {' before '.join(circle)}.",
            "Take one of these out of after, needs or then.",
        )


def _check_checkpoint(
    catalogue: Catalogue, checkpoint: Checkpoint, files: Files, complaints: Complaints
) -> None:
    entry = f"checkpoint {checkpoint.code}"
    file = files.get(entry, "checkpoints")
    _check_names("zone", [checkpoint.zone], catalogue.zones, file, entry, complaints)
    if sum(finding.chance for finding in checkpoint.findings) >= 1:
        what = "the chances of its findings add up to one or more."
        complaints.add(file, entry, what, "Lower them: some ranges are sound here.")
    for finding in checkpoint.findings:
        for way in finding.ways:
            called = f"finding {finding.code}, way {way.key}"
            _check_names("tasks", way.tasks, catalogue.tasks, file, called, complaints)


def _check_names(
    field: str, names: Iterable[str], known: Iterable[str], file: str, entry: str, complaints: Complaints
) -> None:
    there = set(known)
    for name in names:
        if name not in there:
            near = difflib.get_close_matches(name, sorted(there), n=1)
            fix = f"Perhaps “{near[0]}” is meant." if near else "Write a code that is there, or take it out."
            complaints.add(file, entry, f"{field} names “{name}”, which is not there.", fix)


def earlier_tasks(tasks: Mapping[str, Task]) -> dict[str, set[str]]:
    """For every task those that stand before it: `after`, `needs`, and what has it as `then`."""
    earlier = {code: {*task.after, *task.needs} & tasks.keys() for code, task in tasks.items()}
    for code, task in tasks.items():
        for later in task.then:
            if later in earlier:
                earlier[later].add(code)
    return earlier


def find_circle(tasks: Mapping[str, Task]) -> list[str]:
    """A circle in the order of the tasks, each before the next and the first again at the end; or empty."""
    try:
        TopologicalSorter(earlier_tasks(tasks)).prepare()
    except CycleError as error:
        return list(error.args[1])
    return []
