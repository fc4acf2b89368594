"""The condition of a range as found: overall, zone by zone, what is missing, what nobody saw.

The overall condition is the most serious single condition found, never an average, and an
entry record holds brief condition and completeness (Collections Trust, Spectrum).
"""

from collections.abc import Sequence
from dataclasses import dataclass

from shopdesk.domain.answers import Answer, Look
from shopdesk.domain.catalogue.model import Catalogue, Checkpoint, Evidence, Finding, Purpose, Severity
from shopdesk.domain.work.roots import in_walk_order

COUNTS = frozenset({"parts-count", "accessories"})
"""Checkpoints whose findings all say that something is not there."""


@dataclass(frozen=True, slots=True)
class Found:
    """One finding with its checkpoint and how serious it is for the purpose."""

    checkpoint: Checkpoint
    finding: Finding
    severity: Severity
    answer: Answer


@dataclass(frozen=True, slots=True)
class ZoneCondition:
    """A zone's findings in the order of the walk, and how much of it was looked at."""

    zone: str
    name: str
    found: tuple[Found, ...]
    answered: int
    checkpoints: int

    @property
    def overall(self) -> Severity | None:
        return overall(self.found, self.answered)


@dataclass(frozen=True, slots=True)
class Condition:
    """`overall` is None when nothing was looked at: then nothing can be said.

    `claimed` are checkpoints known only by somebody's word. `missing` are findings that
    say a piece is not there.
    """

    overall: Severity | None
    worst: tuple[Found, ...]
    zones: tuple[ZoneCondition, ...]
    not_seen: tuple[Checkpoint, ...]
    claimed: tuple[Checkpoint, ...]
    missing: tuple[Found, ...]

    @property
    def complete(self) -> bool | None:
        """Whether nothing is missing; None while checkpoints are not seen and nothing is known missing."""
        if self.missing:
            return False
        return None if self.not_seen else True


def condition(catalogue: Catalogue, look: Look) -> Condition:
    """The condition of one look for its purpose."""
    found = findings_of(catalogue, look.answers, look.purpose)
    zones = tuple(_zones(catalogue, look, found))
    worst = overall(found, sum(zone.answered for zone in zones))
    return Condition(
        overall=worst,
        worst=tuple(f for f in found if f.severity is worst),
        zones=zones,
        not_seen=look.not_seen(catalogue),
        claimed=tuple(c for c in catalogue.walk(look.build) if look.evidence(c.code) is Evidence.CLAIMED),
        missing=tuple(f for f in found if is_missing(f.checkpoint, f.finding)),
    )


def findings_of(catalogue: Catalogue, answers: Sequence[Answer], purpose: Purpose) -> tuple[Found, ...]:
    """The findings among the answers in the order of the walk."""
    found = []
    for answer in in_walk_order(catalogue, answers):
        finding = catalogue.findings[answer.finding or ""]
        severity = finding.severity.get(purpose, Severity.NONE)
        found.append(Found(catalogue.checkpoints[finding.checkpoint], finding, severity, answer))
    return tuple(found)


def overall(found: Sequence[Found], answered: int) -> Severity | None:
    """The most serious individual condition; none when nothing is wrong; None when nothing was seen."""
    if not answered:
        return None
    return max((f.severity for f in found), key=lambda s: s.rank, default=Severity.NONE)


def is_missing(checkpoint: Checkpoint, finding: Finding) -> bool:
    """Whether a finding says that a piece is not there: by its code, or from the count of parts."""
    return "missing" in finding.code.rpartition(".")[2].split("-") or checkpoint.code in COUNTS


def _zones(catalogue: Catalogue, look: Look, found: Sequence[Found]) -> list[ZoneCondition]:
    not_seen = {c.code for c in look.not_seen(catalogue)}
    zones = []
    for zone in sorted(catalogue.zones.values(), key=lambda z: z.order):
        here = [c for c in look.walk(catalogue) if c.zone == zone.code]
        mine = tuple(f for f in found if f.checkpoint.zone == zone.code)
        if here or mine:
            outside = {f.checkpoint.code for f in mine} - {c.code for c in here}
            answered = sum(c.code not in not_seen for c in here) + len(outside)
            zones.append(ZoneCondition(zone.code, zone.name, mine, answered, len(here) + len(outside)))
    return zones
