"""The clock in words, and the hour at which a forgotten one is to stop. Knows no widgets."""

import datetime as dt
import re

from shopdesk.domain.problem import Problem
from shopdesk.wording import Region, say

FORGOTTEN = dt.timedelta(hours=12)  # nobody works so long in one go
GAP = dt.timedelta(minutes=30)  # the program was closed so long while a clock ran


def is_doubtful(started_at: dt.datetime, now: dt.datetime, region: Region, seen: dt.datetime | None) -> bool:
    """Whether to ask until when a clock ran: it began on another day or long ago, or nobody was here.

    `seen` is when the program was last open with this clock running.
    """
    if region.local_day(started_at) != region.local_day(now) or now - started_at > FORGOTTEN:
        return True
    return seen is not None and now - max(seen, started_at) > GAP


def elapsed(started_at: dt.datetime, now: dt.datetime) -> int:
    """Whole minutes gone by."""
    return max(0, int((now - started_at).total_seconds()) // 60)


def since_words(started_at: dt.datetime, now: dt.datetime, region: Region) -> str:
    """`16:40`, `16:40 yesterday`, `16:40 on Sep 12`."""
    local = region.local(started_at)
    hour = f"{local:%H:%M}"
    days = (region.local_day(now) - local.date()).days
    if days == 0:
        return hour
    if days == 1:
        return say("{hour} yesterday", hour=hour)
    return say("{hour} on {day}", hour=hour, day=region.day_short(local.date(), region.local_day(now)))


def hour_of(instant: dt.datetime, region: Region) -> str:
    return f"{region.local(instant):%H:%M}"


def until(typed: str, started_at: dt.datetime, region: Region) -> dt.datetime:
    """The first such hour after the start (`17:05`, `5:05 pm`, `17.05`, `1705`), as an instant."""
    hour, minute = _hour(typed)
    begun = region.local(started_at)
    end = begun.replace(hour=hour, minute=minute, second=0, microsecond=0)
    if end <= begun:
        end += dt.timedelta(days=1)
    return end.astimezone(dt.UTC)


def _hour(typed: str) -> tuple[int, int]:
    text = typed.strip().lower().replace(" ", "")
    found = re.fullmatch(r"(\d{1,2})(?:[:.h]?([0-5]\d))?(am|pm|a|p)?", text, flags=re.ASCII)
    if found:
        hour, minute, half = int(found[1]), int(found[2] or 0), (found[3] or "")[:1]
        if half and 1 <= hour <= 12:
            hour = hour % 12 + (12 if half == "p" else 0)
        if hour <= 23:
            return hour, minute
    raise Problem(
        "“{typed}” is not an hour of the day. Write it like 17:05.", field="until", typed=typed.strip()
    )
