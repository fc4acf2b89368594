"""What calls for work by itself: findings, the routine of a scope, and what a laboratory must see."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shopdesk.domain.answers import Answer
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Catalogue, Checkpoint, Finding, Purpose, Scope, Severity, Task
from shopdesk.domain.work.order import ROUTINE, Cause, CauseKind

BARE_STAGES = ("intake", "proving", "delivery")
"""Stages whose routine is done even when a range is only made to work."""


@dataclass(frozen=True, slots=True)
class Root:
    """Tasks called for by one cause, for `extent` pieces."""

    cause: Cause
    tasks: tuple[str, ...]
    extent: int = 1

    @property
    def routine(self) -> bool:
        return self.cause.kind is CauseKind.ROUTINE


def pieces(build: Build, per: str) -> int | None:
    """How many of what a task is counted by this build has; None when the build does not say."""
    counts = {
        "valve": build.valves,
        "burner": build.burners,
        "oven": build.ovens,
        "oven door": build.ovens,
        "door": build.ovens + build.broiler,
        "burner bowl": build.burners,
        "grate": build.burners,
    }
    return counts.get(per)


def in_walk_order(catalogue: Catalogue, answers: Iterable[Answer]) -> list[Answer]:
    """Answers in the catalogue's order, whatever the order they were given in."""
    place = {code: n for n, code in enumerate(catalogue.findings)}
    given = {a.finding: a for a in answers if a.finding is not None}
    return sorted(given.values(), key=lambda a: place[a.finding or ""])


def finding_root(finding: Finding, scope: Scope, extent: int = 1, way: str = "") -> Root | None:
    """The one way taken for a finding; None when this scope leaves it as it is."""
    taken = finding.way(scope, way)
    if taken is None or not taken.tasks:
        return None
    return Root(Cause(CauseKind.FINDING, finding.code), taken.tasks, extent)


def stops_work(catalogue: Catalogue, finding: Finding) -> bool:
    """Whether a range cannot be made to work without putting this right."""
    grave = finding.severity.get(Purpose.COOK, Severity.NONE).rank >= Severity.SERIOUS.rank
    return grave or catalogue.checkpoints[finding.checkpoint].safety >= 2


def finding_roots(
    catalogue: Catalogue, answers: Sequence[Answer], scope: Scope, bare: bool = False
) -> list[Root]:
    """A root for each finding this scope puts right; `bare`: only what keeps it from working."""
    roots = []
    for answer in in_walk_order(catalogue, answers):
        finding = catalogue.findings[answer.finding or ""]
        root = finding_root(finding, scope, answer.extent, answer.way)
        if root and (not bare or stops_work(catalogue, finding)):
            roots.append(root)
    return roots


def routine_roots(catalogue: Catalogue, build: Build, scope: Scope, bare: bool = False) -> list[Root]:
    """A root for each task that is part of every order of this scope and build."""
    return [
        Root(ROUTINE, (task.code,), pieces(build, task.per) or 1)
        for task in catalogue.tasks.values()
        if is_routine(task, build, scope) and (not bare or task.stage in BARE_STAGES)
    ]


def is_routine(task: Task, build: Build, scope: Scope) -> bool:
    return task.routine is not None and task.routine.rank <= scope.rank and task.applies <= build.features


def hold_at(checkpoint: Checkpoint, code: str) -> bool:
    """Whether a checkpoint has a finding that raises this hold point."""
    return any(f.holds == code for f in checkpoint.findings)
