"""The line of days: how many pixels a day has, and how days and weeks are named at that width. No records."""

import datetime as dt
from dataclasses import dataclass

from shopdesk.wording import Region, say

WIDEST, NARROWEST = 1400.0, 4.5  # pixels a day: about a day, and about half a year, in a usual window
STEP = 1.35


@dataclass(frozen=True, slots=True)
class Mark:
    """A line of the calendar with its words; `strong` begins a week or a month."""

    day: int
    words: str
    strong: bool


def stepped(pixels: float, steps: int) -> float:
    """The zoom some steps in (or out), within its ends."""
    return min(WIDEST, max(NARROWEST, pixels * STEP**steps))


def marks(first_day: dt.date, first: int, last: int, pixels: float, region: Region) -> list[Mark]:
    """The marks from day `first` to day `last`: every day where there is room, else weeks, else months."""
    days = [(n, first_day + dt.timedelta(days=n)) for n in range(max(0, first), last + 1)]
    if pixels >= 58:
        return [Mark(n, region.weekday_short(day), day.weekday() == 0) for n, day in days]
    if pixels >= 12:
        return [
            Mark(n, region.day_short(day, first_day), day.weekday() == 0)
            for n, day in days
            if day.weekday() == 0
        ]
    return [Mark(n, region.day_short(day, first_day), True) for n, day in days if day.day in (1, 15)]


def zoom_words(across: float) -> str:
    """How much time the window shows, from the days across it."""
    days = max(1, round(across))
    if days < 14:
        return say("{count} days across", count=days) if days > 1 else say("one day across")
    if days < 70:
        return say("{count} weeks across", count=round(days / 7))
    return say("{count} months across", count=round(days / 30.4))
