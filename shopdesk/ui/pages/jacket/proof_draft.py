"""One test being written down, without widgets: what its form asks, and what is then kept."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.domain.proving import Result
from shopdesk.services.proofs import ProofDue, ReleaseState, record_proof
from shopdesk.services.seat import Seat
from shopdesk.wording import Region, say, say_n

READING = "reading/"  # a reading's field is this and its name
SEEN = "what was seen"  # the reading of a proof that names none


@dataclass(frozen=True, slots=True)
class Caution:
    """The usual caution of a hazard, and whom to defer to."""

    name: str
    text: str
    defer_to: str


def cautions(catalogue: Catalogue, due: ProofDue) -> list[Caution]:
    found = (catalogue.cautions[code] for code in due.hazards if code in catalogue.cautions)
    return [Caution(c.name, c.text, c.defer_to) for c in found]


def reading_names(due: ProofDue) -> tuple[str, ...]:
    return due.readings or (SEEN,)


def is_at_home(catalogue: Catalogue, due: ProofDue) -> bool:
    return catalogue.proofs[due.code].at_home


def standing_words(region: Region, due: ProofDue) -> str:
    """Where a proof stands, by word: what it showed and when, or that it is not done."""
    if not due.last_result or due.last_at is None:
        return say("not done yet")
    words = say("{result}, {when}", result=say(due.last_result), when=region.instant(due.last_at))
    if due.last_result == Result.MEETS.value and not due.stands:
        return say("{words}; work was done since, so it is due again", words=words)
    return words


def results() -> list[tuple[Result | None, str]]:
    """The three words, and none yet."""
    return [(None, say("choose")), *((result, say(result.value)) for result in Result)]


def next_due(due: list[ProofDue]) -> str:
    """The first proof that does not stand, in the order of proving; else the first."""
    return next((p.code for p in due if not p.stands), due[0].code if due else "")


def keep(seat: Seat, job_id: int, due: ProofDue, values: Mapping[str, Any]) -> int:
    """Writes the test down with its readings; returns its key."""
    readings = {name: values[READING + name] for name in reading_names(due)}
    return record_proof(
        seat,
        job_id,
        due.code,
        values["result"],
        readings,
        instrument=values["instrument"],
        signed_by=values.get("signed_by", ""),
        note=values["note"],
    )


def release_words(region: Region, state: ReleaseState) -> str:
    """Whether the owner's word stands, in one sentence."""
    if state.given and state.at is not None:
        return say("Released by {name}, {when}.", name=state.by, when=region.instant(state.at))
    if state.lapsed_because:
        return say("The release lapsed: {why}. It is given anew once the proofs stand.",
                   why=state.lapsed_because)  # fmt: skip
    if state.missing:
        return say_n(
            "Not released. {count} proof does not stand yet.",
            "Not released. {count} proofs do not stand yet.",
            len(state.missing),
        )
    return say("Not released. Every proof stands.")
