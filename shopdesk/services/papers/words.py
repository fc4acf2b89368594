"""The records' codes as papers say them, and sentences with their facts as text. Knows no papers."""

import datetime as dt
from collections.abc import Iterable

from sqlalchemy.orm import Session

from shopdesk.domain.catalogue.model import Catalogue, Caution, Evidence, Purpose
from shopdesk.domain.worth import Amount, Fact, Inches, Length, RouteKind, Sentence
from shopdesk.storage.tables.shop import Staff
from shopdesk.wording import Region, say


def purpose_name(purpose: Purpose) -> str:
    return {
        Purpose.COOK: say("To cook on it now"),
        Purpose.FULL: say("Full restoration"),
        Purpose.RESALE: say("Restoration for resale"),
        Purpose.DONOR: say("Donor, for its parts"),
    }[purpose]


def evidence_word(evidence: Evidence) -> str:
    return {
        Evidence.NOT_SEEN: say("not seen"),
        Evidence.CLAIMED: say("claimed"),
        Evidence.SEEN: say("seen"),
        Evidence.TESTED: say("tested"),
    }[evidence]


def route_name(route: RouteKind) -> str:
    return {
        RouteKind.RESTORE: say("restore"),
        RouteKind.WORK_ONLY: say("make it work only"),
        RouteKind.DONOR: say("keep as donor"),
        RouteKind.LEAVE: say("leave it"),
        RouteKind.SELL: say("sell it as it stands"),
    }[route]


def stage_name(stage: str) -> str:
    """The heading over the tasks of one stage of the work."""
    return {
        "intake": say("Intake"),
        "teardown": say("Teardown"),
        "repair": say("Repair"),
        "refit": say("Refit"),
        "proving": say("Proving"),
        "delivery": say("Delivery"),
    }.get(stage, stage)


def method_name(method: str) -> str:
    """How money came or went."""
    return {
        "cash": say("cash"),
        "card": say("card"),
        "transfer": say("transfer"),
        "cheque": say("check"),
    }.get(method, method)


def consent_way(how: str) -> str:
    return {
        "signed": say("signed"),
        "e-mail": say("by e-mail"),
        "telephone": say("by telephone"),
    }.get(how, how)


def counted(count: int, what: str) -> str:
    """How many of what, without bending the word: `3 × valve`."""
    return say("{count} × {what}", count=count, what=say(what))


def shortened(texts: Iterable[str], most: int) -> tuple[str, ...]:
    """The first `most` texts, with a word on how many more there are."""
    kept = tuple(texts)
    if len(kept) <= most:
        return kept
    return (*kept[: most - 1], say("and {count} more", count=len(kept) - most + 1))


def in_words(told: Sentence, region: Region) -> str:
    """A sentence of the domain in the shop's language, money and hours."""

    def show(fact: Fact) -> str:
        if isinstance(fact, Amount):
            return region.money_whole(fact.cents)
        if isinstance(fact, Length):
            return region.hours(fact.minutes)
        if isinstance(fact, Inches):
            return region.length(fact.inches)
        if isinstance(fact, dt.date):
            return region.day(fact)
        return say(fact) if isinstance(fact, str) else region.number(fact)

    text = say(told.text, **told.shown(show))
    return text[:1].upper() + text[1:]


def cautions_for(catalogue: Catalogue, codes: Iterable[str]) -> list[Caution]:
    """The cautions of some hazards, each once, in the catalogue's order."""
    wanted = set(codes)
    return [caution for code, caution in catalogue.cautions.items() if code in wanted]


def staff_name(session: Session, staff_id: int | None) -> str:
    row = session.get(Staff, staff_id) if staff_id else None
    return row.name if row else ""
