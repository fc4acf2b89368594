"""Business days and instants as text, and typed days back.

A business day is a plain date and never moves with a time zone; an instant is UTC and is
shown in the shop's own zone.
"""

import re
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from babel import Locale
from babel.dates import format_date, format_skeleton, format_time, get_datetime_format, get_month_names

from shopdesk.domain.problem import Problem

FIRST_YEAR, LAST_YEAR = 1970, 2199


def day(value: date, locale: str) -> str:
    """Short and unmistakable, the month in letters: `Nov 25, 2026`."""
    return format_date(value, format="medium", locale=locale)


def day_short(value: date, today: date, locale: str) -> str:
    """For lists: `Nov 25`; with its year when that is not this one."""
    return format_skeleton("MMMd" if value.year == today.year else "yMMMd", value, locale=locale)


def day_long(value: date, locale: str) -> str:
    """For papers: `November 25, 2026`."""
    return format_date(value, format="long", locale=locale)


def local(value: datetime, zone: str) -> datetime:
    """An aware instant in the shop's zone; a naive one is a bug and raises TypeError."""
    if value.tzinfo is None:
        raise TypeError("an instant needs its zone")
    return value.astimezone(UTC).astimezone(ZoneInfo(zone))


def instant(value: datetime, zone: str, locale: str) -> str:
    """An instant on the shop's clock: `Nov 25, 2026, 9:05 AM`."""
    here = local(value, zone)
    clock = format_time(here, format="short", locale=locale, tzinfo=ZoneInfo(zone))
    return (
        str(get_datetime_format("medium", locale))
        .replace("{0}", clock)
        .replace("{1}", day(here.date(), locale))
    )


def parse_day(text: str, locale: str, *, field: str = "") -> date:
    """A typed day: `2026-11-25`, the locale's own order (`11/25/2026`, `25.11.26`), `25 Nov 2026`.

    Raises Problem for no day, a day the month does not have, or a year outside 1970 to 2199.
    """
    typed = text.strip()
    parts = _iso(typed) or _numeric(typed, locale) or _with_month_name(typed, locale)
    if parts is None:
        raise Problem(
            "“{typed}” is not a date. Write it like {sample}.",
            field=field,
            typed=typed,
            sample=day(date(2026, 11, 25), locale),
        )
    year, month, number = parts
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise Problem(
            "The year {year} cannot be right. Write a date from {first} on.",
            field=field,
            year=year,
            first=FIRST_YEAR,
        )
    try:
        return date(year, month, number)
    except ValueError:
        raise Problem("There is no such day as {typed}.", field=field, typed=typed) from None


def _iso(typed: str) -> tuple[int, int, int] | None:
    found = re.fullmatch(r"(\d{4})-(\d{1,2})-(\d{1,2})", typed, flags=re.ASCII)
    return (int(found[1]), int(found[2]), int(found[3])) if found else None


def _numeric(typed: str, locale: str) -> tuple[int, int, int] | None:
    found = re.fullmatch(r"(\d{1,4})[./\- ]+(\d{1,2})[./\- ]+(\d{1,4})\.?", typed, flags=re.ASCII)
    if not found:
        return None
    pattern = Locale.parse(locale).date_formats["short"].pattern
    order = sorted("yMd", key=lambda letter: pattern.lower().find(letter.lower()))
    by_letter = dict(zip(order, found.groups(), strict=True))
    return _year(by_letter["y"]), int(by_letter["M"]), int(by_letter["d"])


def _with_month_name(typed: str, locale: str) -> tuple[int, int, int] | None:
    words = re.findall(r"[^\W\d_]+|\d+", typed.casefold())
    numbers = [word for word in words if word.isdigit()]
    months = [m for word in words if not word.isdigit() and (m := _month(word, locale))]
    if len(numbers) != 2 or len(months) != 1:
        return None
    return _year(numbers[1]), months[0], int(numbers[0])


def _month(word: str, locale: str) -> int:
    if len(word) < 3:
        return 0
    for number, name in get_month_names("wide", locale=locale).items():
        if name.casefold().startswith(word):
            return int(number)
    return 0


def _year(digits: str) -> int:
    return 2000 + int(digits) if len(digits) <= 2 else int(digits)
