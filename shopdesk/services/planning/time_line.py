"""The shop's working half-hours from today on, as its facts have them."""

import datetime as dt
from collections.abc import Collection, Iterable

from shopdesk.domain.planning.calendar import OpeningHours
from shopdesk.domain.planning.instance import Span
from shopdesk.services.planning.facts import Facts
from shopdesk.services.planning.public_holidays import public_holidays

AHEAD_DAYS = 1100
BENCH_ROLES = ("owner", "technician")


class TimeLine:
    """`now` is the first slot that can still be used; absences are looked at up to `reach`."""

    def __init__(self, facts: Facts) -> None:
        self.today = facts.now.date()
        self.axis = OpeningHours(self.today, facts.week, _closed(facts, self.today), days=AHEAD_DAYS)
        self.now = self.axis.slot_at(self.today, facts.now.hour * 60 + facts.now.minute)
        self.reach = self._reach(facts)

    def slot(self, day: dt.date | None) -> int:
        """The first slot of a day that can still be used; without a day: now."""
        return self.now if day is None else max(self.now, self.axis.slot_at(day))

    def weekdays(
        self, wanted: Collection[int], closed: Iterable[tuple[dt.date, dt.date]] = ()
    ) -> tuple[int, ...]:
        """The first slot of each open day from now on that is one of these weekdays (Monday 1)."""
        shut, found = tuple(closed), list[int]()
        for n in range(AHEAD_DAYS):
            day = self.today + dt.timedelta(days=n)
            slot = self.axis.slot_at(day)
            if slot > self.reach:
                break
            open_then = self.axis.hours_on(day) and not any(a <= day <= b for a, b in shut)
            if day.isoweekday() in wanted and open_then and slot >= self.now:
                found.append(slot)
        return tuple(found)

    def shut(self, closed: Iterable[tuple[dt.date, dt.date]]) -> tuple[Span, ...]:
        """Whole days, first to last, as stretches of slots."""
        return joined(
            (self.axis.slot_at(first), self.axis.due_slot(last))
            for first, last in closed
            if last >= self.today
        )

    def _reach(self, facts: Facts) -> int:
        """A slot far beyond the end of any plan of this work."""
        minutes = sum(task.minutes.high * task.left for task in facts.tasks)
        hands = max(1, sum(person.role in BENCH_ROLES for person in facts.people))
        away = sum(sorted((task.away_days for task in facts.tasks), reverse=True)[:3])
        days = 200 + 2 * away + round(minutes / hands / 480 * 7 / 5 * 3)
        return self.axis.slot_at(self.today + dt.timedelta(days=min(days, AHEAD_DAYS - 1)))


def _closed(facts: Facts, today: dt.date) -> set[dt.date]:
    last = today + dt.timedelta(days=AHEAD_DAYS)
    kept = public_holidays(facts.country, facts.part, today.year, last.year)
    closed = {day for day in kept if facts.odd_days.get(day) is not True}
    return closed | {day for day, is_open in facts.odd_days.items() if not is_open}


def joined(spans: Iterable[Span]) -> tuple[Span, ...]:
    """Stretches in order, those that touch or overlap as one."""
    found: list[Span] = []
    for first, last in sorted(span for span in spans if span[0] < span[1]):
        if found and first <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], last))
        else:
            found.append((first, last))
    return tuple(found)
