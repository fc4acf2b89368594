"""How figures are written in lists: money that may be nothing yet, spans, hours. No widgets."""

from shopdesk.domain.money import Spread
from shopdesk.wording import Region, say

NOTHING = "–"


def money(region: Region, cents: int | None) -> str:
    """An amount; a dash where there is none yet."""
    return region.money(cents) if cents is not None else NOTHING


def money_or_dash(region: Region, cents: int) -> str:
    return region.money(cents) if cents else NOTHING


def spread(region: Region, span: Spread | None) -> str:
    """A range of money stays a range."""
    return region.money_range(span) if span is not None else NOTHING


def hours_of(region: Region, minutes: int, thought: Spread) -> str:
    """Hours clocked beside what was thought."""
    if not minutes and not thought.high:
        return NOTHING
    return say("{clocked} of {thought}", clocked=region.hours(minutes), thought=region.hours_range(thought))
