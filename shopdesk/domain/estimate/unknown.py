"""What nobody looked at, or somebody only claimed: in which draws it turns out to be a finding.

At one checkpoint at most one finding turns up in a draw, the gravest at the bad end of the
checkpoint's own score, which shares the common factor: where much is wrong, more is wrong.
A claim removes the share `claimed_trust` of each chance; what was seen or tested has none.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np

from shopdesk.domain.answers import Answer, Look
from shopdesk.domain.catalogue.model import (
    Catalogue,
    Checkpoint,
    Evidence,
    Figures,
    Finding,
    Purpose,
    Severity,
)
from shopdesk.domain.estimate.streams import Places, Streams

_NORMAL = NormalDist()
_MOST = 0.98  # chances at one checkpoint never add up to certainty


@dataclass(frozen=True, slots=True, eq=False)
class Unknown:
    """A finding that may be there: `at` are the draws in which it is."""

    finding: Finding
    chance: float
    at: Places


def unknowns(catalogue: Catalogue, look: Look, figures: Figures, streams: Streams) -> list[Unknown]:
    """All findings that may turn up, in the order of the walk."""
    return [
        unknown
        for checkpoint, doubt in doubted(catalogue, look, figures)
        for unknown in _at(catalogue.offered(checkpoint), checkpoint.code, doubt, streams)
    ]


def doubted(catalogue: Catalogue, look: Look, figures: Figures) -> Iterator[tuple[Checkpoint, float]]:
    """Checkpoints not seen (doubt 1) or only claimed to be sound (what the claim leaves)."""
    given: dict[str, Answer] = {a.checkpoint: a for a in look.answers}
    for checkpoint in look.walk(catalogue):
        answer = given.get(checkpoint.code)
        if answer is None or answer.evidence is Evidence.NOT_SEEN:
            yield checkpoint, 1.0
        elif answer.sound and answer.evidence is Evidence.CLAIMED:
            yield checkpoint, 1.0 - figures.claimed_trust


def _at(findings: Sequence[Finding], code: str, doubt: float, streams: Streams) -> Iterator[Unknown]:
    likely = [f for f in findings if f.chance > 0]
    if not likely or doubt <= 0:
        return
    whole = sum(f.chance for f in likely)
    scale = doubt * min(1.0, _MOST / whole)
    scores = streams.scores(f"checkpoint {code}")
    taken, ceiling = 0.0, np.inf
    for finding in sorted(likely, key=_gravity, reverse=True):
        taken += finding.chance * scale
        floor = _NORMAL.inv_cdf(1.0 - taken)
        places = np.flatnonzero((scores > floor) & (scores <= ceiling))
        yield Unknown(finding, finding.chance * scale, places)
        ceiling = floor


def _gravity(finding: Finding) -> int:
    return finding.severity.get(Purpose.RESALE, Severity.NONE).rank + (10 if finding.decides else 0)
