"""Why a task is there, in words: the thread from a line back to what was found."""

from collections.abc import Iterable

from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.domain.work import CauseKind
from shopdesk.storage.tables.work import TaskCause
from shopdesk.wording import say


def because(catalogue: Catalogue, kind: str, code: str) -> str:
    """One cause as people read it; a code the catalogue no longer has stays a code."""
    if kind == CauseKind.FINDING.value and code in catalogue.findings:
        finding = catalogue.findings[code]
        return f"{catalogue.checkpoints[finding.checkpoint].name}: {finding.name}"
    if kind == CauseKind.TASK.value and code in catalogue.tasks:
        return say("for “{task}”", task=catalogue.tasks[code].name)
    if kind == CauseKind.NOT_SEEN.value and code in catalogue.checkpoints:
        return say("not seen: {checkpoint}", checkpoint=catalogue.checkpoints[code].name)
    if kind == CauseKind.ROUTINE.value:
        return say("part of the agreed scope")
    if kind == CauseKind.HAND.value:
        return say("found more: {number}", number=code) if code else say("added by hand")
    return code


def causes_in_words(catalogue: Catalogue, causes: Iterable[TaskCause]) -> str:
    """All causes of a task in one line, findings first."""
    ordered = sorted(causes, key=lambda c: (c.kind != CauseKind.FINDING.value, c.id or 0))
    return "; ".join(because(catalogue, c.kind, c.code) for c in ordered)
