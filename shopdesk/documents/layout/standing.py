"""What papers say about a range's proofs and about whom to defer to. Never a word that it is safe."""

from collections.abc import Sequence

from reportlab.platypus import Flowable

from shopdesk.documents.facts.proving import Standing
from shopdesk.documents.layout.blocks import notice, section
from shopdesk.documents.layout.look import NOTE
from shopdesk.documents.layout.text import listed, marked, markup, para, paras, strong
from shopdesk.wording import Region, say


def deferral() -> str:
    """Whom every paper about gas, fire and mains defers to."""
    return say(
        "The local code, the gas supplier and licensed trades decide whether and how this range is "
        "connected and used. This paper says what was seen and measured on the day it names; it does "
        "not replace their word."
    )


def standing_notice(standing: Standing, region: Region, width: float) -> list[Flowable]:
    """Disconnected and red-tagged, or released by whom, and what was signed away with its reason."""
    signed = [
        _signed(entry.proof, entry.reason, entry.by, region.day(entry.day))
        for entry in standing.signed_without
    ]
    if standing.red_tagged:
        content = [
            para(_until(standing.missing)),
            *listed(standing.missing),
            *paras((standing.not_released,)),
            *signed,
        ]
        return red_tag_notice(content, width)
    released = say(
        "Released by {name}, {at}. The release lapses when the range is moved or a gas joint is opened.",
        name=standing.released_by,
        at=standing.released_at,
    )
    lacking = say("These proofs do not stand. It must not be connected or lit before they do.")
    content = [
        *paras((released,) if standing.released_by else ()),
        *paras((standing.not_released,)),
        *([para(lacking), *listed(standing.missing)] if standing.missing else []),
        *signed,
    ]
    return section(say("Release"), content)


def red_tag_notice(content: list[Flowable], width: float) -> list[Flowable]:
    return notice(say("This range leaves disconnected and red-tagged."), content, width)


def _until(missing: Sequence[str]) -> str:
    if missing:
        return say(
            "It must not be connected or lit before the proofs named here have been made by a "
            "licensed fitter and stand."
        )
    return say(
        "It must not be connected or lit before a licensed fitter has made the proofs at home and they stand."
    )


def _signed(proof: str, reason: str, by: str, day: str) -> Flowable:
    return markup(
        strong(say("Released without: {proof}.", proof=proof))
        + " "
        + marked(
            say("Reason: {reason}. Signed for by {name}, {day}.", reason=reason.rstrip("."), name=by, day=day)
        )
    )


def cautions_section(cautions: Sequence[tuple[str, str, str]]) -> list[Flowable]:
    """Each hazard with its caution and whom to defer to."""
    content = [
        markup(strong(name + ". ") + marked(text) + (" " + marked(defer_to(to)) if to else ""))
        for name, text, to in cautions
    ]
    return section(say("Cautions"), content)


def defer_to(to: str) -> str:
    return say("Defer to: {whom}", whom=to if to.endswith(".") else to + ".")


def closing_deferral() -> Flowable:
    return para(deferral(), NOTE.clone("closing", spaceBefore=8))
