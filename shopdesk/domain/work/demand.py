"""What roots pull onto an order, merged: each task once, with how often and because of what.

A task without `per` is done once however many call for it. A task counted by pieces sums
the extents of the findings that call for it; the routine of an order covers every piece
the build has, and findings are not added on top of that.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Catalogue, Task
from shopdesk.domain.work.order import Cause, CauseKind
from shopdesk.domain.work.roots import Root, pieces


@dataclass(slots=True)
class Call:
    """One root's call for one task: `pieces` counted by what the task is counted by, else 0."""

    pieces: int
    causes: list[Cause] = field(default_factory=list)


@dataclass(slots=True)
class Tally:
    """All calls for one task: pieces the routine covers, pieces findings ask for, and why."""

    routine: int = 0
    found: int = 0
    causes: list[Cause] = field(default_factory=list)

    def add(self, root: Root, call: Call) -> None:
        if root.routine:
            self.routine = max(self.routine, call.pieces)
        else:
            self.found += call.pieces
        self.causes += [cause for cause in call.causes if cause not in self.causes]


def calls(catalogue: Catalogue, build: Build, root: Root) -> dict[str, Call]:
    """Every task one root calls for: its own, what they need, and what must follow them."""
    called: dict[str, Call] = {}
    features = build.features
    ahead: list[tuple[str, int, Cause]] = [(code, root.extent, root.cause) for code in root.tasks]
    while ahead:
        code, extent, cause = ahead.pop(0)
        task = catalogue.tasks[code]
        amount = extent if task.per else 0
        known = called.get(code)
        if known is None or amount > known.pieces:
            ahead += _pulled(catalogue, features, task, amount)
        call = called.setdefault(code, Call(amount))
        call.pieces = max(call.pieces, amount)
        if cause not in call.causes and not _answers_itself(called, code, cause):
            call.causes.append(cause)
    return called


def _pulled(
    catalogue: Catalogue, features: frozenset[str], task: Task, amount: int
) -> list[tuple[str, int, Cause]]:
    """What a task pulls in; pieces carry over only to tasks counted by the same thing."""
    cause = Cause(CauseKind.TASK, task.code)
    pulled = []
    for code in (*task.needs, *task.then):
        other = catalogue.tasks[code]
        if other.applies <= features:
            pulled.append((code, amount if other.per == task.per else 0, cause))
    return pulled


def _answers_itself(called: dict[str, Call], code: str, cause: Cause) -> bool:
    """Taking off calls for putting back; putting back is then no reason for taking off."""
    puller = called.get(cause.code) if cause.kind is CauseKind.TASK else None
    return puller is not None and Cause(CauseKind.TASK, code) in puller.causes


def tally(catalogue: Catalogue, build: Build, roots: Iterable[Root]) -> dict[str, Tally]:
    """All roots merged, in the order in which tasks are first called for."""
    merged: dict[str, Tally] = {}
    for root in roots:
        for code, call in calls(catalogue, build, root).items():
            merged.setdefault(code, Tally()).add(root, call)
    return merged


def most(build: Build, task: Task) -> int:
    """The largest sensible count of a task on this build."""
    if not task.per:
        return 1
    return pieces(build, task.per) or 10_000


def count(build: Build, task: Task, routine: int, found: int) -> int:
    """How often a task is done: at least once, at most as often as the build has pieces."""
    return min(max(1, routine, found), most(build, task))
