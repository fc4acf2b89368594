"""Which copies of a shop are kept as they grow old: many of today, one a day, one a week, one a month."""

import datetime as dt
from collections.abc import Iterable

ALL_WITHIN = dt.timedelta(days=2)
DAILY_WITHIN = dt.timedelta(days=30)
WEEKLY_WITHIN = dt.timedelta(days=180)
LEAST = 5  # the newest so many stay, however old


def superfluous(taken: Iterable[dt.datetime], now: dt.datetime) -> frozenset[dt.datetime]:
    """The instants whose copies may go.

    All of the last two days stay; of the last 30 days the newest of each day, of the last 180 the newest of
    each week, before that the newest of each month. The newest five stay in any case, and so does a copy
    from the future: a clock set back must cost nothing.
    """
    newest_first = sorted(set(taken), reverse=True)
    going: set[dt.datetime] = set()
    seen: set[tuple[int, ...]] = set()
    for place, at in enumerate(newest_first):
        bucket = _bucket(at, now - at)
        if bucket is None:
            continue
        if bucket in seen and place >= LEAST:
            going.add(at)
        seen.add(bucket)
    return frozenset(going)


def _bucket(at: dt.datetime, age: dt.timedelta) -> tuple[int, ...] | None:
    if age <= ALL_WITHIN:
        return None
    if age <= DAILY_WITHIN:
        return (1, at.year, at.month, at.day)
    if age <= WEEKLY_WITHIN:
        return (2, *at.isocalendar()[:2])
    return (3, at.year, at.month)
