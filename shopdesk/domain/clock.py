"""The one clock: a callable that gives the present instant, aware and in UTC."""

import datetime as dt
from collections.abc import Callable
from zoneinfo import ZoneInfo

Clock = Callable[[], dt.datetime]


def now() -> dt.datetime:
    """The machine's clock; only `cli` and `app` hand it in."""
    return dt.datetime.now(dt.UTC)


def standing_still(at: dt.datetime) -> Clock:
    """A clock that shows one instant for ever (the sample shop's calendar)."""
    if at.tzinfo is None:
        raise TypeError("an instant carries its time zone")
    return lambda: at


def day_at(clock: Clock, timezone: str) -> dt.date:
    """The business day it is now in the shop's time zone."""
    return clock().astimezone(ZoneInfo(timezone)).date()


class SteppedClock:
    """A clock that moves only when told to: the tour's, and the sample's while it is made."""

    def __init__(self, at: dt.datetime) -> None:
        if at.tzinfo is None:
            raise TypeError("an instant carries its time zone")
        self._at = at

    def __call__(self) -> dt.datetime:
        return self._at

    def go_on(self, *, days: int = 0, minutes: int = 0) -> None:
        self._at += dt.timedelta(days=days, minutes=minutes)
