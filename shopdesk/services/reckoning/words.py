"""How the groups of a reckoning are called, in lists, charts and on paper."""

import datetime as dt

from babel.dates import format_date

from shopdesk.services.owed import AGES
from shopdesk.services.reckoning.kept_promises import OddsBand
from shopdesk.wording import Region, say


def month_name(region: Region, month: int, *, short: bool = False) -> str:
    first = dt.date(2000, month, 1)
    return str(format_date(first, "LLL" if short else "LLLL", locale=region.locale))


def age_name(age: int) -> str:
    """How long past due, as `owed.age_of` counts it."""
    first, second, third = AGES
    return (
        say("not due yet"),
        say("up to {days} days past due", days=first),
        say("{first} to {last} days past due", first=first + 1, last=second),
        say("{first} to {last} days past due", first=second + 1, last=third),
        say("longer than {days} days past due", days=third),
    )[age]


def band_name(band: OddsBand) -> str:
    """The odds a day was promised at."""
    if band.low is None or band.high is None:
        return say("odds not known")
    return say("{low} to {high} %", low=band.low, high=band.high)


def station_name(code: str) -> str:
    """Where work is done, as the work is spoken of."""
    return say(code).capitalize()
