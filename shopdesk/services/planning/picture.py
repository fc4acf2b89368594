"""The plan as it is drawn: bars in days from the first one, ranges with their promises, who is away.

Bars lie on a line of days on which an open day is 1 wide and a closed one only a strip; within a
day they stand by the share of opening hours passed.
"""

import datetime as dt
from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass

from shopdesk.domain.planning.calendar import OpeningHours
from shopdesk.services.planning import making, plans
from shopdesk.services.planning.making import LeftOut, Made
from shopdesk.services.planning.open_tasks import OpenTask
from shopdesk.services.planning.open_work import KeptPlace, OpenWork
from shopdesk.services.planning.plans import KeptPlan
from shopdesk.services.planning.public_holidays import public_holidays
from shopdesk.services.seat import Seat
from shopdesk.wording import say

CLOSED_WIDTH = 0.22
_MOST_DAYS = 1000
AWAY_ROW = "away"
"""The station row of what is outside the shop."""


@dataclass(frozen=True, slots=True)
class Bar:
    """One sitting: `begin` and `end` are places on the line; `kind`: hand, away, outside."""

    task_id: int
    sitting: str
    job_id: int
    range_id: int
    number: str
    task: str
    kind: str
    staff_id: int | None
    who: str
    station: str
    begins: tuple[dt.date, int]
    ends: tuple[dt.date, int]
    half_hours: int
    begin: float
    end: float
    pinned: bool
    started: bool
    late: bool  # it ends after the day its range is promised for

    @property
    def key(self) -> tuple[int, str]:
        return self.task_id, self.sitting


@dataclass(frozen=True, slots=True)
class RangeRow:
    """A range in the plan: `ready_on` when its last work ends, which is `late_days` after the promise."""

    job_id: int
    range_id: int
    number: str
    name: str
    customer: str
    promised_on: dt.date | None
    ready_on: dt.date | None  # None: some of its work has no place yet
    late_days: int


@dataclass(frozen=True, slots=True)
class PersonRow:
    """A person of the plan with the stretches they are away, on the line."""

    staff_id: int
    name: str
    away: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Unanswered:
    """A range whose work waits for its quote's answer and so has no place in the plan."""

    job_id: int
    range_id: int
    number: str
    name: str
    customer: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """Everything a drawn plan shows."""

    first_day: dt.date
    today: dt.date
    now: float
    days: int
    edges: tuple[float, ...]  # where each day begins on the line; one more than there are days
    closed: frozenset[int]
    holidays: dict[int, str]
    bars: tuple[Bar, ...]
    ranges: tuple[RangeRow, ...]
    people: tuple[PersonRow, ...]
    stations: tuple[tuple[str, str], ...]
    left_out: tuple[LeftOut, ...]
    assumed: tuple[str, ...]
    unanswered: tuple[Unanswered, ...]
    kept: KeptPlan | None
    stale: int  # tasks that are open and in no place of this plan
    with_solver: bool

    def day_at(self, place: float) -> dt.date:
        """The day at a place of the line."""
        number = bisect_right(self.edges, max(0.0, place)) - 1
        return self.first_day + dt.timedelta(days=min(number, self.days - 1))

    def share_at(self, place: float) -> float:
        """How much of its day's opening hours have passed at a place."""
        number = min(bisect_right(self.edges, max(0.0, place)) - 1, self.days - 1)
        return (place - self.edges[number]) / (self.edges[number + 1] - self.edges[number])

    @property
    def late(self) -> tuple[RangeRow, ...]:
        return tuple(row for row in self.ranges if row.late_days)


def picture(seat: Seat) -> Picture:
    """The plan in force over what is open now; without bars before the first plan."""
    kept = plans.kept_plan(seat)
    work = making.gather(seat)
    return _drawn(work, kept.places if kept else (), kept)


def picture_of(made: Made, kept: KeptPlan | None = None) -> Picture:
    """A plan that is not kept (yet)."""
    return _drawn(made.work, making.places_of(made), kept, made.left_out, made.work.assumed)


def _drawn(
    work: OpenWork,
    places: Iterable[KeptPlace],
    kept: KeptPlan | None,
    left_out: tuple[LeftOut, ...] | None = None,
    assumed: tuple[str, ...] | None = None,
) -> Picture:
    line = DayLine(work.axis, work.today)
    places = tuple(places)
    lasts = [place.ends_on for place in places]
    lasts += [job.promised_on for job in work.facts.jobs.values() if job.promised_on and lasts]
    days = min(_MOST_DAYS, max(((day - work.today).days for day in lasts), default=0) + 15)
    bars = _bars(work, places, line)
    unplaced = {task.id for task in work.facts.tasks} - {bar.task_id for bar in bars}
    found_left = left_out if left_out is not None else kept.left_out if kept else ()
    shown = range(days)
    named = public_holidays(
        work.facts.country, work.facts.part, work.today.year, (work.today + dt.timedelta(days)).year
    )
    calendar = {n: work.today + dt.timedelta(days=n) for n in shown}
    return Picture(
        first_day=work.today,
        today=work.today,
        now=line.at(*work.axis.begins(work.now)),
        days=days,
        edges=tuple(line.edge(n) for n in range(days + 1)),
        closed=frozenset(n for n, day in calendar.items() if not work.axis.hours_on(day)),
        holidays={n: named[day] for n, day in calendar.items() if day in named},
        bars=bars,
        ranges=_ranges(work, bars, unplaced),
        people=_people(work, line, days),
        stations=(
            *((code, say(code)) for code in work.facts.rooms),
            (AWAY_ROW, say("Outside the shop")),
        ),
        left_out=found_left,
        assumed=assumed if assumed is not None else kept.assumed if kept else (),
        unanswered=tuple(
            Unanswered(job.id, job.range_id, job.number, job.name, job.customer)
            for job in (work.facts.jobs[key] for key in work.facts.unanswered)
        ),
        kept=kept,
        stale=len(unplaced & _plannable(work)),
        with_solver=making.solver_is_here(),
    )


def _plannable(work: OpenWork) -> set[int]:
    """Open tasks that a plan made now would place."""
    rest, _ = making.plannable(work)
    return {rest.tasks[piece.id].id for piece in rest.instance.tasks}


class DayLine:
    """Days and minutes as places on the line."""

    def __init__(self, axis: OpeningHours, first_day: dt.date) -> None:
        self._axis, self._first = axis, first_day
        self._edges = [0.0]

    def edge(self, number: int) -> float:
        """Where a day begins, counted from the first one."""
        while len(self._edges) <= number:
            day = self._first + dt.timedelta(days=len(self._edges) - 1)
            self._edges.append(self._edges[-1] + (1.0 if self._axis.hours_on(day) else CLOSED_WIDTH))
        return self._edges[number]

    def at(self, day: dt.date, minute: int) -> float:
        number = (day - self._first).days
        if number < 0:
            return 0.0
        hours = self._axis.hours_on(day)
        if not hours:
            return self.edge(number)
        opens, closes = hours[0][0], hours[-1][1]
        return self.edge(number) + min(1.0, max(0.0, (minute - opens) / (closes - opens)))


def _bars(work: OpenWork, places: Iterable[KeptPlace], line: DayLine) -> tuple[Bar, ...]:
    names = {hands.id: hands.name for hands in work.facts.people}
    tasks = {task.id: task for task in work.facts.tasks}
    pinned = work.facts.pins
    found = []
    for place in places:
        task = tasks.get(place.task_id)
        if task is None or place.ends_on < work.today:
            continue
        job = work.facts.jobs[task.job_id]
        begin = line.at(place.begins_on, place.begins_minute)
        end = line.at(place.ends_on, place.ends_minute)
        late = job.promised_on is not None and place.ends_on > job.promised_on
        found.append(
            Bar(
                task.id, place.sitting, job.id, job.range_id, job.number, task.name, _kind(task, place),
                place.staff_id, names.get(place.staff_id or 0, ""), place.station,
                (place.begins_on, place.begins_minute), (place.ends_on, place.ends_minute),
                place.half_hours, max(0.0, begin), max(0.0, end), task.id in pinned,
                task.begun, late,
            )
        )  # fmt: skip
    return tuple(found)


def _kind(task: OpenTask, place: KeptPlace) -> str:
    if place.staff_id is not None:
        return "hand"
    return "away" if task.trade else "outside"


def _ranges(work: OpenWork, bars: tuple[Bar, ...], unplaced: set[int]) -> tuple[RangeRow, ...]:
    ready: dict[int, dt.date] = {}
    for bar in bars:
        ready[bar.job_id] = max(bar.ends[0], ready.get(bar.job_id, bar.ends[0]))
    open_ended = {t.job_id for t in work.facts.tasks if t.id in unplaced} | set(work.facts.unanswered)
    rows = []
    for job_id, last in ready.items():
        job = work.facts.jobs[job_id]
        day = None if job_id in open_ended else last
        late = max(0, (last - job.promised_on).days) if job.promised_on else 0
        rows.append(
            RangeRow(job.id, job.range_id, job.number, job.name, job.customer, job.promised_on, day, late)
        )
    return tuple(sorted(rows, key=lambda row: (row.promised_on or dt.date.max, row.number)))


def _people(work: OpenWork, line: DayLine, days: int) -> tuple[PersonRow, ...]:
    """Everyone who has work to do in the shop; whole days away are enough for the eye."""
    rows = []
    for person in work.instance.people:
        if not person.id.isdigit():
            continue
        away = []
        for first, last in person.off:
            if last <= work.now:
                continue
            begin = line.at(*work.axis.begins(max(first, work.now)))
            if begin > line.edge(days):
                break
            away.append((begin, line.at(*work.axis.ends(last))))
        rows.append(PersonRow(int(person.id), person.name, tuple(away)))
    return tuple(rows)
