"""Which letter is due by the shop's own clocks, and in which order letters go.

Letters have steps: a second one never goes before the first. A question that is open stops every
clock. Common practice, no source; local law comes first. Knows no papers and no texts.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum


class Course(StrEnum):
    """What letters are about, each with its own steps."""

    READY = "ready"  # the range is ready and stands here
    REMINDER = "reminder"  # a bill is past due


@dataclass(frozen=True, slots=True)
class Due:
    """The next letter of a course: its step from 1, the day it is due, and whether it is the last."""

    course: Course
    step: int
    on: dt.date
    last: bool


def next_letter(
    course: Course, since: dt.date, days: Sequence[int], sent: Sequence[dt.date], today: dt.date
) -> Due | None:
    """The next letter in order, if its day has come; None before that, or once all went out.

    `since` is the day the clock started, `days` when each step is due after it, `sent` the days on
    which the earlier steps went out. Between two letters there is always the distance of their
    steps, so that a late first one does not bring all of them at once.
    """
    step = len(sent) + 1
    if step > len(days):
        return None
    on = since + dt.timedelta(days=days[step - 1])
    if sent:
        gap = days[step - 1] - days[step - 2]
        on = max(on, sent[-1] + dt.timedelta(days=gap))
    return Due(course, step, on, step == len(days)) if on <= today else None


def storage_days(
    ready: dt.date, free_days: int, until: dt.date, stopped: Sequence[tuple[dt.date, dt.date]]
) -> int:
    """Days for which storage is charged: from the end of the free days, not while a question was open.

    `stopped` are stretches, first and last day, that do not count, in or out of order.

    >>> day = dt.date(2026, 11, 1)
    >>> storage_days(day, 14, dt.date(2026, 11, 25), [])
    10
    >>> storage_days(day, 14, dt.date(2026, 11, 25), [(dt.date(2026, 11, 20), dt.date(2026, 11, 22))])
    7
    """
    first = ready + dt.timedelta(days=free_days + 1)
    days = {first + dt.timedelta(days=n) for n in range(max(0, (until - first).days + 1))}
    for begin, end in stopped:
        days -= {begin + dt.timedelta(days=n) for n in range((end - begin).days + 1)}
    return len(days)
