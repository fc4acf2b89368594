"""Working half-hours: slot 0 is the first half-hour the shop is open, nights do not exist.

The shop's own opening hours make the axis; a person's shorter hours, leave and holidays are
stretches of slots in which they are off.
"""

from bisect import bisect_right
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import accumulate

from shopdesk.domain.planning.instance import Span
from shopdesk.domain.problem import Problem

SLOT_MINUTES = 30
Hours = tuple[tuple[int, int], ...]
"""Stretches of a day, in minutes after midnight: ((480, 720), (780, 1020)) is 8-12 and 13-17."""
Week = tuple[Hours, Hours, Hours, Hours, Hours, Hours, Hours]
"""Monday to Sunday."""


def slots_for(minutes: int) -> int:
    """Whole slots that hold so many minutes of work, at least one."""
    return max(1, -(-minutes // SLOT_MINUTES))


@dataclass(frozen=True, slots=True)
class _Day:
    day: date
    first: int
    hours: Hours


class OpeningHours:
    """The axis of a plan: from the first day on, the shop's week less its closed days."""

    def __init__(self, first: date, week: Week, closed: Collection[date] = (), days: int = 1100) -> None:
        for hours in week:
            for begin, end in hours:
                if begin % SLOT_MINUTES or end % SLOT_MINUTES or not 0 <= begin < end <= 24 * 60:
                    raise Problem(
                        "Opening hours go in half-hours, from earlier to later: {begin} to {end} minutes "
                        "after midnight do not.",
                        begin=begin,
                        end=end,
                    )
        if not any(week):
            raise Problem("The shop has no opening hours. Enter them before planning.")
        self._first = first
        dates = [first + timedelta(days=n) for n in range(days)]
        open_at = [() if day in closed else week[day.weekday()] for day in dates]
        counts = [sum(end - begin for begin, end in hours) // SLOT_MINUTES for hours in open_at]
        begins = [0, *accumulate(counts)]
        self.end = begins[-1]
        """The slot after the last one this axis knows."""
        self._by_date = [_Day(*row) for row in zip(dates, begins, open_at, strict=False)]
        self._open = [day for day in self._by_date if day.hours]
        self._begins = [day.first for day in self._open]

    def slot_at(self, day: date, minute: int = 0) -> int:
        """The first slot that begins at this time or later; days before the first give 0."""
        number = (day - self._first).days
        if number < 0:
            return 0
        if number >= len(self._by_date):
            raise Problem("The plan does not reach as far as {day}.", day=day)
        found = self._by_date[number]
        slot = found.first
        for begin, end in found.hours:
            slot += max(0, min(minute + SLOT_MINUTES - 1, end) - begin) // SLOT_MINUTES
        return slot

    def hours_on(self, day: date) -> Hours:
        """The stretches in which the shop is open on a day; none when it is closed."""
        number = (day - self._first).days
        return self._by_date[number].hours if 0 <= number < len(self._by_date) else ()

    def ends(self, slot: int) -> tuple[date, int]:
        """The day and the minute at which what lasts up to `slot` is over: at closing time, not next day."""
        if slot == 0:
            return self.begins(0)
        day, minute = self.begins(slot - 1)
        return day, minute + SLOT_MINUTES

    def due_slot(self, day: date) -> int:
        """The slot by which work must have ended to be finished on that day: its closing time."""
        return self.slot_at(day, 24 * 60)

    def begins(self, slot: int) -> tuple[date, int]:
        """The day and the minute after midnight at which a slot begins."""
        if not 0 <= slot < self.end:
            raise Problem("The plan runs past the days the calendar knows ({days}).", days=len(self._by_date))
        day = self._open[bisect_right(self._begins, slot) - 1]
        left = (slot - day.first) * SLOT_MINUTES
        for begin, end in day.hours:
            if left < end - begin:
                return day.day, begin + left
            left -= end - begin
        raise AssertionError("a slot lies within its day")

    def done_on(self, end: int) -> date:
        """The day on which work that stands up to slot `end` is finished."""
        return self.begins(max(0, end - 1))[0]

    def waiting(self, days: int, sent: date | None = None) -> int:
        """Slots in so many calendar days from `sent` (the first day if not said): outwork, curing.

        A wait planned for another week than `sent` may be some slots off where closed days fall.
        """
        begin = sent or self._first
        return self.due_slot(begin + timedelta(days=days)) - self.due_slot(begin)

    def off(
        self,
        week: Week | None,
        leave: Sequence[tuple[date, date]] = (),
        extra: Mapping[date, Hours] | None = None,
    ) -> tuple[Span, ...]:
        """The slots someone is not there: outside their week, on leave (first to last day).

        `week` None means the shop's hours; `extra` replaces the hours of single days.
        """
        spans: list[Span] = []
        for day in self._open:
            away = any(first <= day.day <= last for first, last in leave)
            own: Hours = day.hours if week is None else week[day.day.weekday()]
            if extra is not None and day.day in extra:
                own = extra[day.day]
            spans += _missing(day, () if away else own)
        return _joined(spans)


def _missing(day: _Day, own: Hours) -> list[Span]:
    """The slots of a day that do not lie wholly within someone's own hours."""
    spans, slot = [], day.first
    for begin, end in day.hours:
        for minute in range(begin, end, SLOT_MINUTES):
            if not any(first <= minute and minute + SLOT_MINUTES <= last for first, last in own):
                spans.append((slot, slot + 1))
            slot += 1
    return spans


def _joined(spans: list[Span]) -> tuple[Span, ...]:
    result: list[Span] = []
    for first, last in spans:
        if result and result[-1][1] == first:
            result[-1] = (result[-1][0], last)
        else:
            result.append((first, last))
    return tuple(result)
