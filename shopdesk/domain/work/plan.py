"""The work order of a range: what its findings and its routine make necessary, merged and in order."""

from collections.abc import Iterable, Mapping, Sequence

from shopdesk.domain.answers import Answer
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Catalogue, ProofKind, Scope, Task
from shopdesk.domain.work.arrange import After, arrange, waits_for
from shopdesk.domain.work.demand import Tally, count, tally
from shopdesk.domain.work.holds import hold_points, holds_alone, let_proofs_wait, sampling_roots, suspects
from shopdesk.domain.work.order import (
    Cause,
    CauseKind,
    Hold,
    PlannedOutwork,
    PlannedPart,
    PlannedTask,
    WorkOrder,
)
from shopdesk.domain.work.roots import Root, finding_root, finding_roots, in_walk_order, routine_roots


def order_roots(
    catalogue: Catalogue, build: Build, answers: Sequence[Answer], scope: Scope, bare: bool = False,
    asked: Sequence[Root] = (),
) -> list[Root]:  # fmt: skip
    """Everything that calls for work by itself: findings, what was asked for, routine, sampling."""
    roots = [
        *finding_roots(catalogue, answers, scope, bare),
        *asked,
        *routine_roots(catalogue, build, scope, bare),
    ]
    planned = tally(catalogue, build, roots)
    return roots + sampling_roots(catalogue, scope, suspects(catalogue, build, answers), planned)


def plan_work(
    catalogue: Catalogue, build: Build, answers: Sequence[Answer], scope: Scope, bare: bool = False,
    asked: Sequence[Root] = (),
) -> WorkOrder:  # fmt: skip
    """The work order of a scope; the same answers in any order give the same work order.

    `bare`: only what keeps the range from working, with the routine of intake, proving and
    delivery. `asked`: what is called for beside the findings, such as another gas. Raises
    Problem when tasks wait for one another in a circle.
    """
    merged = tally(catalogue, build, order_roots(catalogue, build, answers, scope, bare, asked))
    after = waits_for(catalogue, merged)
    let_proofs_wait(catalogue, after)
    zones = {code: _zone(catalogue, entry) for code, entry in merged.items()}
    places = {code: catalogue.zones[zone].order for code, zone in zones.items() if zone}
    ordered = arrange(catalogue, after, places)
    holds = hold_points(catalogue, suspects(catalogue, build, answers), answers, ordered)
    tasks = tuple(
        _planned(catalogue.tasks[code], build, merged[code], after, holds, zones[code]) for code in ordered
    )
    return WorkOrder(scope, tasks, holds, _left(catalogue, answers, scope))


def _planned(
    task: Task, build: Build, entry: Tally, after: After, holds: Iterable[Hold], zone: str
) -> PlannedTask:
    times = count(build, task, entry.routine, entry.found)
    return PlannedTask(
        code=task.code,
        name=task.name,
        because=tuple(entry.causes),
        after=tuple(after[task.code]),
        count=times,
        minutes=task.minutes.times(times),
        parts=tuple(
            PlannedPart(p.name, p.each, p.count * (times if p.per_extent else 1)) for p in task.parts
        ),
        outwork=_outwork(task, times),
        hazards=task.hazards,
        proofs=task.proofs,
        skills=task.skills,
        station=task.station,
        stage=task.stage,
        holds=tuple(hold.code for hold in holds if task.code in hold.tasks),
        group=task.group,
        zone=zone,
        supplies=task.supplies,
        advice=task.advice,
    )


def planned_alone(task: Task, build: Build, pieces: int = 1, *, suspected: bool = False) -> PlannedTask:
    """One task of the catalogue put on an order by a person, whatever was found.

    Hold points hold it like any other; `suspected`: something on the range waits for a laboratory.
    """
    entry = Tally(found=pieces, causes=[Cause(CauseKind.HAND)])
    holds = [Hold(code, (), (task.code,)) for code in holds_alone(task, suspected)]
    return _planned(task, build, entry, {task.code: []}, holds, "")


def _outwork(task: Task, times: int) -> PlannedOutwork | None:
    if task.outwork is None:
        return None
    return PlannedOutwork(task.outwork.trade, task.outwork.each, task.outwork.days, times)


def _zone(catalogue: Catalogue, entry: Tally) -> str:
    """The zone of the first finding that calls for a task itself; empty without one."""
    for cause in entry.causes:
        if cause.kind is CauseKind.FINDING:
            return catalogue.checkpoints[catalogue.findings[cause.code].checkpoint].zone
    return ""


def _left(catalogue: Catalogue, answers: Sequence[Answer], scope: Scope) -> tuple[str, ...]:
    """Findings that have a way of being put right, but not within this scope."""
    left = []
    for answer in in_walk_order(catalogue, answers):
        finding = catalogue.findings[answer.finding or ""]
        if finding.ways and finding_root(finding, scope, answer.extent, answer.way) is None:
            left.append(finding.code)
    return tuple(left)


def proofs_due(catalogue: Catalogue, build: Build, tasks: Iterable[PlannedTask]) -> list[ProofKind]:
    """The proofs a range needs before it goes: those of every range and those its work reopens."""
    reopened = {code for task in tasks for code in task.proofs}
    due = [
        proof
        for proof in catalogue.proofs.values()
        if proof.applies <= build.features and (proof.always or proof.code in reopened)
    ]
    return sorted(due, key=lambda proof: proof.order)


def causes_by_task(order: WorkOrder) -> Mapping[str, tuple[str, ...]]:
    """For each task the labels of its causes, as printed and exported."""
    return {task.code: tuple(cause.label for cause in task.because) for task in order.tasks}
