"""Two looks side by side: what was found at one and not at the other, checkpoint by checkpoint.

Two walk-rounds of one range show what changed, two ranges show where they differ. Knows no shop.
"""

from dataclasses import dataclass
from enum import StrEnum

from shopdesk.domain.answers import Answer, Look
from shopdesk.domain.catalogue.model import Catalogue, Checkpoint, Evidence, Severity
from shopdesk.domain.condition import Found, findings_of


class Differs(StrEnum):
    """How the second look differs from the first at a checkpoint."""

    GONE = "found before, not now"
    NEW = "found now, not before"
    OTHER = "found otherwise"
    SEEN_NOW = "not seen before, sound now"
    UNSEEN_NOW = "seen before, not seen now"
    ONLY_FIRST = "only the first has it"
    ONLY_SECOND = "only the second has it"


@dataclass(frozen=True, slots=True)
class Side:
    """What one look says at a checkpoint; `asked` False: the build has no such thing."""

    asked: bool
    evidence: Evidence
    found: tuple[Found, ...]

    @property
    def severity(self) -> Severity | None:
        """The gravest finding; none when looked at and sound, None when not seen."""
        if self.found:
            return max((f.severity for f in self.found), key=lambda s: s.rank)
        return None if self.evidence is Evidence.NOT_SEEN else Severity.NONE


@dataclass(frozen=True, slots=True)
class Difference:
    """One checkpoint at which two looks differ."""

    checkpoint: Checkpoint
    how: Differs
    first: Side
    second: Side


def differences(catalogue: Catalogue, first: Look, second: Look) -> tuple[Difference, ...]:
    """In the order of the walk; checkpoints that say the same on both sides are left out.

    How something is known alone (seen, then tested) is no difference.
    """
    found = []
    for checkpoint in catalogue.checkpoints.values():
        one, other = _side(catalogue, first, checkpoint), _side(catalogue, second, checkpoint)
        how = _differs(one, other)
        if how is not None:
            found.append(Difference(checkpoint, how, one, other))
    return tuple(found)


def _side(catalogue: Catalogue, look: Look, checkpoint: Checkpoint) -> Side:
    here: tuple[Answer, ...] = tuple(a for a in look.answers if a.checkpoint == checkpoint.code)
    return Side(
        checkpoint.fits(look.build),
        look.evidence(checkpoint.code),
        findings_of(catalogue, here, look.purpose),
    )


def _differs(first: Side, second: Side) -> Differs | None:
    one, other = _told(first), _told(second)
    if one == other and first.asked == second.asked:
        return None
    if first.asked != second.asked:
        if not one and not other:
            return None
        return Differs.ONLY_FIRST if first.asked else Differs.ONLY_SECOND
    if first.found or second.found:
        return Differs.OTHER if first.found and second.found else Differs.GONE if first.found else Differs.NEW
    return Differs.SEEN_NOW if first.evidence is Evidence.NOT_SEEN else Differs.UNSEEN_NOW


def _told(side: Side) -> tuple[object, ...]:
    """What a side says, without how it is known."""
    if side.found:
        return tuple(sorted((f.finding.code, f.answer.extent) for f in side.found))
    return () if side.evidence is Evidence.NOT_SEEN else ("sound",)
