"""Times of day and stretches of hours as text and back: `9:30 AM`, `8:00-12:00, 12:30-16:30`."""

import re
from datetime import date, time

from babel.dates import format_date, format_skeleton, format_time

from shopdesk.domain.problem import Problem

_TIME = re.compile(r"(\d{1,2})(?:[:.h](\d{2}))?\s*([ap])?\.?m?\.?", re.IGNORECASE)
Stretches = tuple[tuple[int, int], ...]


def time_of_day(minute: int, locale: str) -> str:
    """Minutes after midnight as the locale writes a time; midnight at the day's end is its first."""
    return str(format_time(time(minute // 60 % 24, minute % 60), format="short", locale=locale))


def weekday_long(value: date, locale: str) -> str:
    """For papers: `Tuesday, March 17, 2026`."""
    return str(format_date(value, format="full", locale=locale))


def weekday_short(value: date, locale: str) -> str:
    """For a line of days: `Tue 17`."""
    return str(format_skeleton("Ed", value, locale=locale))


def parse_time_of_day(text: str, *, field: str = "") -> int:
    """A typed time (`9`, `9:30`, `2 pm`, `14.15`) in minutes after midnight; Problem otherwise."""
    found = _TIME.fullmatch(text.strip())
    if found is not None:
        hour, minute = int(found[1]), int(found[2] or 0)
        if found[3]:
            hour = hour % 12 + (12 if found[3].lower() == "p" else 0)
        if hour < 24 and minute < 60:
            return hour * 60 + minute
    raise Problem("{typed} is no time of day. Write it as 9:30.", field=field, typed=text.strip())


def stretches(hours: Stretches) -> str:
    """`8:00-12:00, 12:30-16:30`, on the clock of 24 hours, as it is typed; empty: not there."""
    return ", ".join(f"{_plain(begin)}-{_plain(end)}" for begin, end in hours)


def parse_stretches(text: str, *, field: str = "") -> Stretches:
    """Typed hours of a day back; empty text is a day off. Half-hours, from earlier to later."""
    found: list[tuple[int, int]] = []
    for part in filter(None, (piece.strip() for piece in re.split(r"[,;]", text))):
        ends = re.split(r"\s*[-–—]\s*", part)
        if len(ends) != 2:
            raise Problem(
                "{typed} is no stretch of hours. Write it as 8:00-12:00.", field=field, typed=part
            )  # fmt: skip
        begin, end = (parse_time_of_day(each, field=field) for each in ends)
        end = 24 * 60 if end == 0 else end
        if begin % 30 or end % 30 or begin >= end or (found and begin < found[-1][1]):
            raise Problem(
                "{typed} cannot be planned. Hours go in half-hours, from earlier to later.",
                field=field,
                typed=part,
            )
        found.append((begin, end))
    return tuple(found)


def _plain(minute: int) -> str:
    return f"{minute // 60}:{minute % 60:02d}"
