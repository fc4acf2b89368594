"""Hold points: what must wait for a laboratory, an agreement, proven tightness, or gas off and capped.

Only a laboratory tells what old insulation, rope, board and cloth-covered wire are made of;
no person judges them by eye, and what was not looked at is held like what was found. Drills and
heat stay away from a gas train that is not off and capped; what is seized on it is freed on the
bench, after it is out (common practice, no source; local code and licensed practice decide).
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
HOT_WORK = "hot-work"
"""Hazard of drilling, grinding, brazing and welding."""
GAS_OFF = "gas-off"
"""Hold point: the range's gas is isolated and capped."""
TRAIN_OUT = "gas-train-out"
"""Hold point: the gas train lies on the bench, off the range."""
CAPPING, TAKING_OUT, PUTTING_BACK = "isolate-and-cap", "take-out-manifold", "refit-gas-train"
"""The tasks that cap the gas, take the gas train out, and put it back."""
ASSEMBLED, AT_HOME = "tightness-assembled", "at-home"
"""The proofs that speak for the tightness of a whole range: in the shop, and where it stands then."""


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


def gas_holds(task: Task) -> tuple[str, ...]:
    """Whether a task waits for gas off and capped (drills and heat), and for the gas train to be out."""
    own = set(task.holds) | ({GAS_OFF} if HOT_WORK in task.hazards else set())
    return tuple(code for code in (GAS_OFF, TRAIN_OUT) if code in own)


def holds_alone(task: Task, suspected: bool) -> tuple[str, ...]:
    """The hold points of one task put on an order by a person; `suspected`: something waits for a
    laboratory."""
    met = (
        (AGREEMENT, stage_rank(task) > 0),
        (LABORATORY, suspected and held_for_laboratory(task)),
        *((code, True) for code in gas_holds(task)),
        (TIGHTNESS, lights(task)),
    )
    return tuple(code for code, holds in met if holds)


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
    if code in (GAS_OFF, TRAIN_OUT):
        return [task.code for task in tasks if code in gas_holds(task)]
    own = {t for c in causes for way in catalogue.findings[c.code].ways for t in way.tasks}
    return [task.code for task in tasks if task.code in own]


def hold_points(
    catalogue: Catalogue, suspected: Sequence[Cause], answers: Sequence[Answer], ordered: Sequence[str]
) -> tuple[Hold, ...]:
    """The hold points of an order in the order in which they are met."""
    raised: dict[str, tuple[Cause, ...]] = {
        AGREEMENT: (), LABORATORY: tuple(suspected), GAS_OFF: (), TRAIN_OUT: (), TIGHTNESS: (),
    }  # fmt: skip
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
