"""Why a task is there, in words: the thread from a line back to what was found."""

from collections.abc import Iterable

from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.domain.work import CauseKind
from shopdesk.storage.tables.work import TaskCause
from shopdesk.wording import say

_MOST = 3  # causes that anyone reads in one line


def because(catalogue: Catalogue, kind: str, code: str) -> str:
    """One cause as people read it; a code the catalogue no longer has stays a code."""
    if kind == CauseKind.FINDING.value and code in catalogue.findings:
        finding = catalogue.findings[code]
        return f"{catalogue.checkpoints[finding.checkpoint].name}: {finding.name}"
    if kind == CauseKind.TASK.value and code in catalogue.tasks:
        return say("needed for “{task}”", task=catalogue.tasks[code].name)
    if kind == CauseKind.NOT_SEEN.value and code in catalogue.checkpoints:
        return say("not seen: {checkpoint}", checkpoint=catalogue.checkpoints[code].name)
    if kind == CauseKind.ROUTINE.value:
        return say("part of the agreed scope")
    if kind == CauseKind.HAND.value and not code:
        return say("added by hand")
    told = {
        CauseKind.HAND.value: say("found more: {number}", number=code),
        CauseKind.CONVERSION.value: say("conversion: {gases}", gases=code),
    }
    return told.get(kind, code)


def causes_in_words(catalogue: Catalogue, causes: Iterable[TaskCause]) -> str:
    """The causes of a task in one line: findings before tasks, the usual work only by itself."""
    ordered = telling(causes)
    most = len(ordered) if len(ordered) <= _MOST + 1 else _MOST
    pulling = [c.code for c in ordered[:most] if _is_task(catalogue, c)]
    told = [because(catalogue, c.kind, c.code) for c in ordered[:most] if not _is_task(catalogue, c)]
    if pulling:
        names = ", ".join(f"“{catalogue.tasks[code].name}”" for code in pulling)
        told.append(say("needed for {tasks}", tasks=names))
    if most < len(ordered):
        told.append(say("and {count} more", count=len(ordered) - most))
    return "; ".join(told)


def _is_task(catalogue: Catalogue, cause: TaskCause) -> bool:
    return cause.kind == CauseKind.TASK.value and cause.code in catalogue.tasks


def telling(causes: Iterable[TaskCause]) -> list[TaskCause]:
    """Causes worth reading, findings first; the usual work of a scope says nothing beside another."""
    ordered = sorted(causes, key=lambda c: (c.kind != CauseKind.FINDING.value, c.id or 0))
    return [c for c in ordered if c.kind != CauseKind.ROUTINE.value] or ordered
