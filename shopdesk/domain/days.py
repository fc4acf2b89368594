"""Days nobody means: typed in haste, or come in from a file with a wrong century."""

import datetime as dt

from shopdesk.domain.problem import Problem

FIRST = dt.date(1970, 1, 1)
LAST = dt.date(2199, 12, 31)


def refuse_odd_day(day: dt.date, *, field: str = "") -> None:
    """Refuses a day before 1970 or after 2199 with a sentence."""
    if not FIRST <= day <= LAST:
        raise Problem(
            "The year {year} cannot be right. Write a date from {first} on.",
            field=field,
            year=day.year,
            first=FIRST.year,
        )
