"""Hold points: what must wait for a laboratory, for an agreement, or for proven tightness.

Only a laboratory tells what old insulation, rope, board and cloth-covered wire are made of;
no person judges them by eye, and what was not looked at is held like what was found.
"""

from collections.abc import Iterable, Sequence

from shopdesk.domain.answers import Answer
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Catalogue, Evidence, Scope, Task
from shopdesk.domain.work.arrange import After, stage_rank, wait_if_open
from shopdesk.domain.work.order import Cause, CauseKind, Hold
from shopdesk.domain.work.roots import Root, finding_root, hold_at, in_walk_order

LABORATORY = "laboratory"
AGREEMENT = "agreement"
TIGHTNESS = "tightness"

FIBRE = "asbestos"
"""Hazard of the tasks that a laboratory hold stops."""
FLAME = "flame"
"""Hazard of tasks that light something."""


def suspects(catalogue: Catalogue, build: Build, answers: Sequence[Answer]) -> list[Cause]:
    """What raises the laboratory hold: findings, and suspect places not seen or only told of."""
    causes = [
        Cause(CauseKind.FINDING, answer.finding or "")
        for answer in in_walk_order(catalogue, answers)
        if catalogue.findings[answer.finding or ""].holds == LABORATORY
    ]
    known = {a.checkpoint for a in answers if a.evidence in (Evidence.SEEN, Evidence.TESTED) or a.finding}
    for checkpoint in catalogue.walk(build):
        if checkpoint.code not in known and hold_at(checkpoint, LABORATORY):
            causes.append(Cause(CauseKind.NOT_SEEN, checkpoint.code))
    return causes


def samples(task: Task) -> bool:
    """Whether a task is the taking of samples for the laboratory."""
    return task.outwork is not None and task.outwork.trade == LABORATORY


def held_for_laboratory(task: Task) -> bool:
    return FIBRE in task.hazards and not samples(task) and task.stage != "intake"


def sampling_roots(
    catalogue: Catalogue, scope: Scope, suspected: Iterable[Cause], planned: Iterable[str]
) -> list[Root]:
    """Sampling for suspect places nobody saw, when something on the order would disturb them."""
    if not any(held_for_laboratory(catalogue.tasks[code]) for code in planned):
        return []
    roots = []
    for cause in suspected:
        if cause.kind is CauseKind.NOT_SEEN:
            tasks = _sampling_at(catalogue, cause.code, scope)
            if tasks:
                roots.append(Root(cause, tasks))
    return roots


def _sampling_at(catalogue: Catalogue, checkpoint: str, scope: Scope) -> tuple[str, ...]:
    for finding in catalogue.checkpoints[checkpoint].findings:
        root = finding_root(finding, scope) if finding.holds == LABORATORY else None
        tasks = tuple(t for t in root.tasks if samples(catalogue.tasks[t])) if root else ()
        if tasks:
            return tasks
    return ()


def lights(task: Task) -> bool:
    """Whether a task lights something in the shop (what is lit at a seller's comes before all this)."""
    return FLAME in task.hazards and task.stage != "intake"


def proves_tightness(task: Task) -> bool:
    """Whether a task is the cold proof of the assembled range, before anything is lit."""
    return task.stage == "proving" and not lights(task) and any(TIGHTNESS in code for code in task.proofs)


def let_proofs_wait(catalogue: Catalogue, after: After) -> None:
    """A proof is taken after all work that made it due; nothing is lit before tightness is proven."""
    tasks = [catalogue.tasks[code] for code in after]
    for proving in (task for task in tasks if task.stage == "proving"):
        for task in tasks:
            if stage_rank(task) < stage_rank(proving) and set(task.proofs) & set(proving.proofs):
                wait_if_open(after, proving.code, task.code)
            if lights(task) and proves_tightness(proving):
                wait_if_open(after, task.code, proving.code)


def held_tasks(catalogue: Catalogue, code: str, causes: Iterable[Cause], ordered: Sequence[str]) -> list[str]:
    """The tasks of an order that wait for a hold point, in order."""
    tasks = [catalogue.tasks[c] for c in ordered]
    if code == LABORATORY:
        return [task.code for task in tasks if held_for_laboratory(task)]
    if code == AGREEMENT:
        return [task.code for task in tasks if stage_rank(task) > 0]
    if code == TIGHTNESS:
        return [task.code for task in tasks if lights(task)]
    own = {t for c in causes for way in catalogue.findings[c.code].ways for t in way.tasks}
    return [task.code for task in tasks if task.code in own]


def hold_points(
    catalogue: Catalogue, suspected: Sequence[Cause], answers: Sequence[Answer], ordered: Sequence[str]
) -> tuple[Hold, ...]:
    """The hold points of an order in the order in which they are met."""
    raised: dict[str, tuple[Cause, ...]] = {AGREEMENT: (), LABORATORY: tuple(suspected), TIGHTNESS: ()}
    for answer in in_walk_order(catalogue, answers):
        finding = catalogue.findings[answer.finding or ""]
        if finding.holds and finding.holds != LABORATORY:
            cause = Cause(CauseKind.FINDING, finding.code)
            raised[finding.holds] = (*raised.get(finding.holds, ()), cause)
    holds = []
    for code, causes in raised.items():
        tasks = tuple(held_tasks(catalogue, code, causes, ordered))
        if causes or (tasks and code != LABORATORY):
            holds.append(Hold(code, causes, tasks))
    return tuple(holds)
