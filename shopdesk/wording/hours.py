"""Work time as text and back. Time is whole minutes; a bare number that people type is hours."""

import re
from decimal import Decimal
from fractions import Fraction

from babel.numbers import format_decimal

from shopdesk.domain.money import Spread, round_half_up
from shopdesk.domain.problem import Problem
from shopdesk.wording.speech import say

_MOST_MINUTES = 10_000 * 60
_NUMBER = r"(\d+(?:[.,]\d+)?|[.,]\d+)"
_HOURS = r"(?:h|hr|hrs|hours?)"
_MINUTES = r"(?:m|min|mins|minutes?)"


def hours(minutes: int) -> str:
    """`90` -> `1 h 30 min`; below an hour only minutes, whole hours only hours."""
    if minutes < 0:
        return "−" + hours(-minutes)
    whole, rest = divmod(minutes, 60)
    if not whole:
        return say("{minutes} min", minutes=rest)
    if not rest:
        return say("{hours} h", hours=whole)
    return say("{hours} h {minutes} min", hours=whole, minutes=rest)


def hours_range(span: Spread, locale: str) -> str:
    """A three-point estimate of minutes: `28 h (15–45)`; below an hour likely in minutes."""
    if span.likely < 60:
        figures = [str(value) for value in (span.low, span.likely, span.high)]
        unit = "{likely} min ({low}–{high})"
        bare = "{likely} min"
    else:
        figures = [_rounded_hours(value, locale) for value in (span.low, span.likely, span.high)]
        unit = "{likely} h ({low}–{high})"
        bare = "{likely} h"
    low, likely, high = figures
    if low == high:
        return say(bare, likely=likely)
    return say(unit, low=low, likely=likely, high=high)


def _rounded_hours(minutes: int, locale: str) -> str:
    """Whole hours from ten up, else to a tenth."""
    if minutes >= 600:
        return format_decimal(round_half_up(Fraction(minutes, 60)), locale=locale)
    tenths = round_half_up(Fraction(minutes, 6))
    return format_decimal(Decimal(tenths) / 10, format="#,##0.#", locale=locale)


def parse_minutes(text: str, *, field: str = "") -> int:
    """What people type as whole minutes: `1:30`, `1.5h`, `1,5`, `90m`, `1 h 30 min`, `2`.

    Rounds half up to a minute; raises Problem for anything else.
    """
    typed = text.strip().lower()
    minutes = _minutes_of(typed)
    if minutes is None:
        raise Problem(
            "“{typed}” is not a time. Write it like 1:30, 1.5 or 90m.", field=field, typed=text.strip()
        )
    if minutes > _MOST_MINUTES:
        raise Problem("{typed} is too long a time. Look at it again.", field=field, typed=text.strip())
    return round_half_up(minutes)


def _minutes_of(typed: str) -> Fraction | None:
    if clock := re.fullmatch(r"(\d+):([0-5]\d)", typed, flags=re.ASCII):
        return Fraction(int(clock[1]) * 60 + int(clock[2]))
    if both := re.fullmatch(rf"(\d+)\s*{_HOURS}\s*(\d+)\s*{_MINUTES}?", typed, flags=re.ASCII):
        return Fraction(int(both[1]) * 60 + int(both[2])) if int(both[2]) < 60 else None
    if alone := re.fullmatch(rf"{_NUMBER}\s*{_MINUTES}", typed, flags=re.ASCII):
        return _fraction(alone[1])
    if alone := re.fullmatch(rf"{_NUMBER}\s*{_HOURS}?", typed, flags=re.ASCII):
        return _fraction(alone[1]) * 60
    return None


def _fraction(typed: str) -> Fraction:
    number = typed.replace(",", ".")
    return Fraction("0" + number if number.startswith(".") else number)
