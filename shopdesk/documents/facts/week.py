"""Facts of a person's weekly list: what the plan gives them, day by day."""

from dataclasses import dataclass
from datetime import date

from shopdesk.documents.facts.parties import ShopHead


@dataclass(frozen=True, slots=True)
class WeekEntry:
    """A sitting or an appointment: from when to when (text), on which range, where."""

    hours: str
    range: str
    what: str
    where: str = ""
    note: str = ""  # pinned, begun, or why it presses
    done: bool = False


@dataclass(frozen=True, slots=True)
class WeekDay:
    """A day with its entries; `away` says why there are none."""

    day: date
    entries: tuple[WeekEntry, ...] = ()
    away: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeeklyListFacts:
    """One person's week."""

    shop: ShopHead
    number: str
    day: date
    person: str
    first_day: date
    days: tuple[WeekDay, ...]
    promised: tuple[str, ...] = ()  # ranges promised within the week, in words
    waiting: tuple[str, ...] = ()  # what has no place in the plan, in words
