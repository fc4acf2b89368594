"""What speaks against cooking on a range as it stands.

The answer is never that a range may be lit: that is for the proofs, the licensed fitter and
the local code. The most this room says is that nothing on the walk-round speaks against
going on to the proofs.
"""

from dataclasses import dataclass

from shopdesk.domain.answers import Look
from shopdesk.domain.catalogue.model import Catalogue, Evidence, Purpose, Severity
from shopdesk.domain.work.roots import in_walk_order
from shopdesk.domain.worth.sentence import Sentence, sentence

_GAS_OR_HARM = 2  # safety of checkpoints to be cleared before release


@dataclass(frozen=True, slots=True)
class Readiness:
    """`ready` False: do not cook on it. True: nothing seen here speaks against proving it."""

    ready: bool
    against: tuple[Sentence, ...]


def readiness(catalogue: Catalogue, look: Look) -> Readiness:
    """Serious findings for cooking, and gas and harm checkpoints that nobody tested, speak against it."""
    against = [*_found(catalogue, look), *_untested(catalogue, look)]
    note = sentence(
        "Nothing on this walk-round speaks against going on to the proofs. "
        "It is not to be lit before the proofs and the licensed fitter's connection."
    )
    return Readiness(not against, tuple(against) or (note,))


def _found(catalogue: Catalogue, look: Look) -> list[Sentence]:
    against = []
    for answer in in_walk_order(catalogue, look.answers):
        finding = catalogue.findings[answer.finding or ""]
        severity = finding.severity.get(Purpose.COOK, Severity.NONE)
        if severity.rank >= Severity.SERIOUS.rank:
            against.append(
                sentence(
                    "{checkpoint}: {finding}. That is put right before anyone cooks on it.",
                    checkpoint=catalogue.checkpoints[finding.checkpoint].name,
                    finding=finding.name,
                )
            )
    return against


def _untested(catalogue: Catalogue, look: Look) -> list[Sentence]:
    names = [
        checkpoint.name
        for checkpoint in look.walk(catalogue)
        if checkpoint.safety >= _GAS_OR_HARM and look.evidence(checkpoint.code) is not Evidence.TESTED
    ]
    if not names:
        return []
    return [
        sentence(
            "{count} checkpoints of gas, fire, fumes or mains were not tested, first: {names}.",
            count=len(names),
            names="; ".join(names[:3]),
        )
    ]
