"""How lists and jackets speak of a range: its name, its owner, what it is held for, its promised day.

Text from facts; no widgets and no records.
"""

import datetime as dt

from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.domain.stage import Stage
from shopdesk.wording import Region, say, say_n

_KEPT = (Stage.GONE, Stage.SETTLED, Stage.DONOR, Stage.NOT_TAKEN, Stage.WITHDRAWN)


def name_of(maker: str, model: str, colour: str) -> str:
    """`Corvane No. 40, ivory`; what is not known is left out."""
    named = " ".join(word for word in (maker, model) if word) or say("maker not known")
    return f"{named}, {colour}" if colour else named


def owner_of(customer: str) -> str:
    return customer or say("the shop’s own")


def held_what(catalogue: Catalogue, what: str) -> str:
    """What a hold waits for, by name: a proof's code becomes its name."""
    if what in catalogue.proofs:
        return catalogue.proofs[what].name
    return say("the release lapsed") if what == "release" else what


def held_words(
    catalogue: Catalogue, region: Region, today: dt.date, reason: str, what: str, since: dt.date | None
) -> str:
    """`held for part, since Apr 4: spring clips`; "" when nothing holds it."""
    if not reason:
        return ""
    words = say("held for {reason}", reason=say(reason))
    if since is not None:
        words = say("{held}, since {day}", held=words, day=region.day_short(since, today))
    return f"{words}: {held_what(catalogue, what)}" if what else words


def days_words(on: dt.date, today: dt.date) -> str:
    """How far off a day is, by word."""
    days = (on - today).days
    if days == 0:
        return say("today")
    if days == 1:
        return say("tomorrow")
    if days < 0:
        return say_n("{count} day late", "{count} days late", -days)
    return say_n("{count} day left", "{count} days left", days)


def promise_words(promised_on: dt.date | None, stage: Stage, today: dt.date) -> str:
    """The days left or late of a promise; "" when there is none or it no longer counts."""
    if promised_on is None or stage in _KEPT:
        return ""
    return days_words(promised_on, today)


def is_late(promised_on: dt.date | None, stage: Stage, today: dt.date) -> bool:
    return promised_on is not None and stage not in _KEPT and promised_on < today
