"""Which proofs a job still lacks: a proof stands while nothing it speaks for was touched since."""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from shopdesk.domain.catalogue.model import ProofKind


class Result(StrEnum):
    """What a test showed; there is no fourth word."""

    MEETS = "meets"
    DOES_NOT_MEET = "does not meet"
    CANNOT_TELL = "cannot tell"


@dataclass(frozen=True, slots=True)
class Reading:
    """One recorded proof of a kind."""

    kind: str
    at: dt.datetime
    result: Result


def latest(proofs: Iterable[Reading]) -> dict[str, Reading]:
    """The last reading of each kind; an earlier one stays on record but no longer speaks."""
    last: dict[str, Reading] = {}
    for proof in proofs:
        if proof.kind not in last or proof.at >= last[proof.kind].at:
            last[proof.kind] = proof
    return last


def missing(
    due: Iterable[ProofKind], proofs: Iterable[Reading], touched: Mapping[str, dt.datetime]
) -> list[ProofKind]:
    """The due proofs that do not stand, in the order of proving.

    `touched`: when work that reopens a kind of proof was last ticked; a reading from before
    that no longer stands.
    """
    last = latest(proofs)

    def stands(kind: ProofKind) -> bool:
        reading = last.get(kind.code)
        if reading is None or reading.result is not Result.MEETS:
            return False
        return kind.code not in touched or reading.at >= touched[kind.code]

    return sorted((k for k in due if not stands(k)), key=lambda k: k.order)


def unsigned(lacking: Iterable[ProofKind], signed: Iterable[str]) -> list[ProofKind]:
    """What still stands in the way of a release once the owner signed for the lesser ones.

    A signature for tightness, carbon monoxide, safety shut-off, gas identity or the
    electrical proof counts for nothing.
    """
    signed = set(signed)
    return [k for k in lacking if not (k.signable and k.code in signed)]
