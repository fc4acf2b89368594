"""Where a proof and a release stand, in words and shapes, as jacket and proving both say it."""

from collections.abc import Sequence

from shopdesk.domain.proving import Result
from shopdesk.services.proofs import ProofDue, ReleaseState
from shopdesk.wording import Region, say, say_n

MARKS = {"meets": "○", "does not meet": "■", "cannot tell": "△", "": "·"}


def standing_words(region: Region, due: ProofDue) -> str:
    """Where a proof stands, by word: what it showed and when, or that it is not done."""
    if not due.last_result or due.last_at is None:
        return say("not done yet")
    words = say("{result}, {when}", result=say(due.last_result), when=region.instant(due.last_at))
    if due.last_result == Result.MEETS.value and not due.stands:
        return say("{words}; due again for what was done or learned since", words=words)
    return words


def mark_of(due: ProofDue) -> str:
    """A shape for where it stands; one that is due again is not met."""
    if due.last_result == Result.MEETS.value and not due.stands:
        return MARKS["cannot tell"]
    return MARKS[due.last_result]


def next_due(due: Sequence[ProofDue]) -> str:
    """The first proof that does not stand, in the order of proving; else the first."""
    return next((p.code for p in due if not p.stands), due[0].code if due else "")


def release_words(region: Region, state: ReleaseState) -> str:
    """Whether the owner's word stands, in one sentence."""
    if state.given and state.at is not None:
        told = [say("Released by {name}, {when}.", name=state.by, when=region.instant(state.at))]
        told += [
            say("Without “{proof}”, because: {why}.", proof=p, why=w.rstrip(".")) for p, w in state.without
        ]
        return " ".join(told)
    if state.lapsed_because:
        text = "The release lapsed: {why}. It is given anew once the proofs stand."
        return say(text, why=state.lapsed_because)
    if state.missing:
        return say_n(
            "Not released. {count} proof does not stand yet.",
            "Not released. {count} proofs do not stand yet.",
            len(state.missing),
        )
    return say("Not released. Every proof stands.")
