"""The shop's facts turned into the values that are planned, with the way back to tasks and days.

A task of the shop becomes one or several pieces: sittings of at most half a day (`12/1`, `12`),
and for outwork the handwork before it (`12/out`) and the time away (`12`).
"""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from shopdesk.domain.estimate.three_point import mean
from shopdesk.domain.money import Spread, round_half_up
from shopdesk.domain.planning.calendar import SLOT_MINUTES, OpeningHours
from shopdesk.domain.planning.instance import (
    After,
    Instance,
    Person,
    Placed,
    Range,
    Span,
    Station,
    Task,
)
from shopdesk.domain.planning.sittings import in_sittings
from shopdesk.services.planning.facts import Facts, Hands, OpenJob, OpenTask
from shopdesk.services.planning.public_holidays import public_holidays
from shopdesk.services.planning.record import ENOUGH_PIECES
from shopdesk.services.planning.suppose import Hire, HoldTask, MovePromise, Shut, Supposed, TakeIn
from shopdesk.wording import say

OUTSIDE_SKILL = "licensed"  # a licensed fitter comes from outside when nobody here has the skill
_BENCH_ROLES = ("owner", "technician")
_AHEAD_DAYS = 1100
NEW = "n"  # marks the pieces of a range that is only supposed


@dataclass(frozen=True, slots=True)
class KeptPlace:
    """A sitting as a kept plan has it, in days and minutes."""

    task_id: int
    sitting: str
    staff_id: int | None
    station: str
    half_hours: int
    begins_on: dt.date
    begins_minute: int
    ends_on: dt.date
    ends_minute: int


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenWork:
    """What is planned, and what its names mean. `now` is the first slot that can still be used."""

    facts: Facts
    axis: OpeningHours
    now: int
    instance: Instance
    spreads: Mapping[str, Spread]
    work_done: Mapping[str, float]
    tasks: Mapping[str, OpenTask]  # piece -> its task
    assumed: tuple[str, ...]
    supposed_range: str = ""  # the range taken in by a supposition

    def job_of(self, range_id: str) -> OpenJob | None:
        return self.facts.jobs.get(int(range_id)) if not range_id.startswith(NEW) else None

    @property
    def today(self) -> dt.date:
        return self.facts.now.date()


def key_of(piece: str) -> tuple[int, str]:
    """The task and the sitting a piece stands for."""
    task, _, sitting = piece.partition("/")
    return int(task), sitting


def open_work(facts: Facts, kept: Iterable[KeptPlace] = (), supposed: Iterable[Supposed] = ()) -> OpenWork:
    """The instance of these facts, with what is supposed already in it."""
    return _Builder(facts, tuple(supposed)).build(tuple(kept))


class _Builder:
    """Builds one instance; the order of its steps is the order of the methods."""

    def __init__(self, facts: Facts, supposed: tuple[Supposed, ...]) -> None:
        self.facts, self.supposed = facts, supposed
        self.today = facts.now.date()
        self.axis = OpeningHours(self.today, facts.week, self._closed(), days=_AHEAD_DAYS)
        self.now = self.axis.slot_at(self.today, facts.now.hour * 60 + facts.now.minute)
        self.spreads: dict[str, Spread] = {}
        self.tasks: dict[str, OpenTask] = {}
        self.assumed = dict.fromkeys(facts.assumed)
        self.supposed_range = ""
        self.reach = self._reach()
        self.people = self._people()
        self.skilled = {skill for person in self.people for skill in person.skills}
        self.closures = dict(facts.closures)
        for one in supposed:
            if isinstance(one, Shut):
                mine = self.closures.get(one.trade, ())
                self.closures[one.trade] = (*mine, (one.first_day, one.last_day))

    def build(self, kept: tuple[KeptPlace, ...]) -> OpenWork:
        pieces = self._held(self._pieces())
        instance = Instance(
            tasks=tuple(pieces),
            ranges=self._ranges(pieces),
            people=self.people,
            stations=self._stations(pieces),
            yesterday=self._yesterday(kept, pieces),
        )
        return OpenWork(
            facts=self.facts,
            axis=self.axis,
            now=self.now,
            instance=instance,
            spreads=self.spreads,
            work_done={str(job): share for job, share in self.facts.share_done.items()},
            tasks=self.tasks,
            assumed=tuple(self.assumed),
            supposed_range=self.supposed_range,
        )

    # Days

    def _closed(self) -> set[dt.date]:
        last = self.today + dt.timedelta(days=_AHEAD_DAYS)
        kept = public_holidays(self.facts.country, self.facts.part, self.today.year, last.year)
        closed = {day for day in kept if self.facts.odd_days.get(day) is not True}
        return closed | {day for day, is_open in self.facts.odd_days.items() if not is_open}

    def _reach(self) -> int:
        """The slot up to which absences are looked at: far beyond the end of any plan of this work."""
        minutes = sum(task.minutes.high * task.left for task in self.facts.tasks)
        hands = max(1, sum(person.role in _BENCH_ROLES for person in self.facts.people))
        away = sum(sorted((task.away_days for task in self.facts.tasks), reverse=True)[:3])
        days = 200 + 2 * away + round(minutes / hands / 480 * 7 / 5 * 3)
        return self.axis.slot_at(self.today + dt.timedelta(days=min(days, _AHEAD_DAYS - 1)))

    def _slot(self, day: dt.date | None) -> int:
        return self.now if day is None else max(self.now, self.axis.slot_at(day))

    # People and stations

    def _people(self) -> tuple[Person, ...]:
        found = [self._person(hands) for hands in self.facts.people]
        found += [self._hired(one) for one in self.supposed if isinstance(one, Hire)]
        return tuple(person for person in found if person.skills)

    def _person(self, hands: Hands) -> Person:
        return Person(
            id=str(hands.id),
            name=hands.name,
            skills=self._skills(hands),
            off=self._off(hands),
        )

    def _skills(self, hands: Hands) -> frozenset[str]:
        """What is written down; someone of the bench without a word about it may do all bench work."""
        every = {skill for task in self.facts.tasks for skill in task.skills}
        own = set(hands.skills)
        if not own and hands.role in _BENCH_ROLES:
            own = every - {"owner", "desk"}
        roles = {"owner": {"owner", "desk"}, "desk": {"desk"}, "technician": {"helper"}}
        return frozenset(own | roles[hands.role])

    def _off(self, hands: Hands) -> tuple[Span, ...]:
        spans = [
            (first, min(last, self.reach))
            for first, last in self.axis.off(hands.week, hands.leave)
            if first < self.reach
        ]
        for at, minutes in hands.appointments:
            if at.date() >= self.today:
                begin = at.hour * 60 + at.minute
                first = self.axis.slot_at(at.date(), begin - begin % SLOT_MINUTES)
                spans.append((first, self.axis.slot_at(at.date(), begin + minutes)))
        spans.append((0, self.now))
        return _joined(spans)

    def _hired(self, one: Hire) -> Person:
        every = {skill for task in self.facts.tasks for skill in task.skills} - {
            "owner",
            "desk",
            OUTSIDE_SKILL,
        }
        first = max(self.now, self.axis.slot_at(one.first_day))
        last = self.axis.due_slot(one.last_day)
        end = max(self.reach, last)
        return Person(
            id=f"{NEW}hand",
            name=one.name,
            skills=frozenset(one.skills) or frozenset(every) | {"helper"},
            off=_joined([(0, first), (last, end + 4000)]),
        )

    def _stations(self, pieces: list[Task]) -> tuple[Station, ...]:
        found = [Station(id=code, name=say(code), capacity=room) for code, room in self.facts.rooms.items()]
        for trade, closed in self.closures.items():
            uses = sum(1 for piece in pieces if piece.uses == ((_away(trade), 1),))
            if uses:
                found.append(Station(id=_away(trade), name=say(trade), capacity=uses, off=self._shut(closed)))
        return tuple(found)

    def _shut(self, closed: Iterable[tuple[dt.date, dt.date]]) -> tuple[Span, ...]:
        return _joined(
            [
                (self.axis.slot_at(first), self.axis.due_slot(last))
                for first, last in closed
                if last >= self.today
            ]
        )

    # Work

    def _pieces(self) -> list[Task]:
        found: list[Task] = []
        answered = {one.job_id: one.on for one in self.supposed if isinstance(one, TakeIn) and not one.new}
        for job_id, tasks in self._by_job():
            since = self.axis.slot_at(answered[job_id]) if job_id in answered else 0
            found += self._of_job(str(job_id), tasks, "", since)
        for one in self.supposed:
            if isinstance(one, TakeIn) and one.new:
                like = self.facts.jobs[one.job_id]
                mine = [self._as_new(task) for task in self.facts.tasks if task.job_id == like.id]
                self.supposed_range = f"{NEW}{like.id}"
                found += self._of_job(self.supposed_range, mine, NEW, self.axis.slot_at(one.on))
            elif isinstance(one, TakeIn):
                self.supposed_range = str(one.job_id)
        return found

    def _by_job(self) -> list[tuple[int, list[OpenTask]]]:
        by_job: dict[int, list[OpenTask]] = {}
        for task in self.facts.tasks:
            by_job.setdefault(task.job_id, []).append(task)
        return list(by_job.items())

    def _as_new(self, task: OpenTask) -> OpenTask:
        """The same task on another range of its kind, nothing done on it yet."""
        return replace(
            task, left=1.0, begun=False, running_staff_id=None, hand_staff_id=None, assigned_to_id=None,
            until=replace(task.until, day=None, never=""), out_until=None, is_out=False,
        )  # fmt: skip

    def _of_job(self, range_id: str, tasks: list[OpenTask], mark: str, since: int = 0) -> list[Task]:
        """The pieces of one job; half-hours are rounded over the whole job, not at every task."""
        job = self.facts.jobs[tasks[0].job_id] if tasks else None
        arrives: int | None = since
        if job is not None and not mark and not job.in_shop:
            arrives = None if job.arrives is None else self.axis.due_slot(job.arrives)
        known = {task.id for task in tasks}
        loose = _loose_ends(tasks)
        worked = Fraction(0)
        found: list[Task] = []
        for task in tasks:
            minutes = mean(task.minutes) * Fraction(task.left).limit_denominator(1000)
            before, worked = worked, worked + minutes
            slots = round_half_up(worked / SLOT_MINUTES) - round_half_up(before / SLOT_MINUTES)
            after = [f"{mark}{other}" for other in task.after if other in known]
            if task.stage in ("proving", "delivery"):
                after += [f"{mark}{other}" for other in loose if other != task.id]
            found += self._of_task(range_id, task, mark, slots, tuple(dict.fromkeys(after)), arrives)
        return found

    def _of_task(
        self,
        range_id: str,
        task: OpenTask,
        mark: str,
        slots: int,
        after: tuple[str, ...],
        arrives: int | None,
    ) -> list[Task]:
        earliest: int | None = None if task.until.never else self._slot(task.until.day)
        waits_for = task.until.never
        if arrives is None:
            earliest, waits_for = None, say("the range itself to come in")
        elif earliest is not None:
            earliest = max(earliest, arrives)
        away = self._away(range_id, task, mark, after, earliest)
        if away is not None and task.is_out:
            self.tasks[away.id] = task
            return [away]
        name = f"{mark}{task.id}" if away is None else f"{mark}{task.id}/out"
        outside = OUTSIDE_SKILL in task.skills and OUTSIDE_SKILL not in self.skilled
        if outside:
            self._assume_outside(task)
        station = ((task.station, 1),) if task.station in self.facts.rooms and not outside else ()
        hand = Task(
            id=name,
            name=task.name,
            range_id=range_id,
            slots=slots,
            by_hand=not outside,
            skills=frozenset() if outside or task.assigned_to_id else task.skills,
            people=frozenset({str(task.assigned_to_id)}) if task.assigned_to_id and not outside else None,
            uses=station,
            after=() if task.begun else tuple(After(task=other) for other in after),
            earliest=self.now if task.begun and earliest is not None else earliest,
            waits_for=waits_for,
        )
        pieces = list(in_sittings([hand]))
        self._spread(task, pieces)
        if away is not None:
            pieces.append(replace(away, after=(After(task=name),)))
            self.tasks[away.id] = task
        return pieces

    def _spread(self, task: OpenTask, pieces: list[Task]) -> None:
        """The three points of the work left, over its sittings by their length."""
        whole = sum(piece.slots for piece in pieces)
        for piece in pieces:
            share = Fraction(task.left).limit_denominator(1000)
            share *= Fraction(piece.slots, whole) if whole else Fraction(1, len(pieces))
            self.spreads[piece.id] = Spread(
                *(round_half_up(Fraction(m) * share) for m in (task.minutes.low, task.minutes.likely,
                                                               task.minutes.high))
            )  # fmt: skip
            self.tasks[piece.id] = task

    def _away(
        self, range_id: str, task: OpenTask, mark: str, after: tuple[str, ...], earliest: int | None
    ) -> Task | None:
        """The time away of outwork: what is out now stays so until it is back."""
        if not task.is_out and not task.away_days:
            return None
        slots = self._out_slots(task) if task.is_out else max(1, self.axis.waiting(task.away_days))
        points = (round_half_up(slots * SLOT_MINUTES * share) for share in self._away_shares(task))
        self.spreads[f"{mark}{task.id}"] = Spread(*points)
        closed = task.trade in self.closures and not task.is_out
        return Task(
            id=f"{mark}{task.id}",
            name=task.name,
            range_id=range_id,
            slots=slots,
            by_hand=False,
            uses=((_away(task.trade), 1),) if closed else (),
            after=tuple(After(task=other) for other in after),
            earliest=earliest,
            waits_for=task.until.never,
            pinned_start=self.now if task.is_out else None,
            started=task.is_out,
        )

    def _away_shares(self, task: OpenTask) -> tuple[Fraction, Fraction, Fraction]:
        """The shop's own record once it is long enough, else the catalogue's spread, else judgement."""
        record = self.facts.record
        known = None if task.is_out or record.pieces >= ENOUGH_PIECES else task.away_shares
        return known or record.outwork

    def _out_slots(self, task: OpenTask) -> int:
        number = self.facts.jobs[task.job_id].number
        trade = say("the {trade}", trade=say(task.trade)) if task.trade else say("the firm outside")
        day, late = task.out_until, self.facts.terms.late_days
        if day is None:
            day = self.today + dt.timedelta(days=task.away_days or late)
            text = say("{range}: nobody knows when {trade} is done; taken as {days} days from now.",
                       range=number, trade=trade, days=(day - self.today).days)  # fmt: skip
            self.assumed[text] = None
        elif day <= self.today:
            text = say("{range}: {trade} is {late} days late; taken as {days} days from now.",
                       range=number, trade=trade, late=(self.today - day).days, days=late)  # fmt: skip
            if day < self.today:
                self.assumed[text] = None
            day = self.today + dt.timedelta(days=late if day < self.today else 1)
        for first, last in self.closures.get(task.trade, ()):
            if first <= day and last >= self.today:
                day += dt.timedelta(days=(last - max(first, self.today)).days + 1)
        return max(1, self.axis.slot_at(day) - self.now)

    def _assume_outside(self, task: OpenTask) -> None:
        number = self.facts.jobs[task.job_id].number
        text = say(
            "{range}: a licensed fitter from outside comes when asked: {task}.", range=number, task=task.name
        )
        self.assumed[text] = None

    # What is held in place

    def _held(self, pieces: list[Task]) -> list[Task]:
        """Clocks that run, work begun, pins: the first sitting where it is, all with their person."""
        first: dict[str, int] = {}
        for place, piece in enumerate(pieces):
            if piece.by_hand:
                first.setdefault(piece.id.partition("/")[0], place)
        pins = {str(task): (pin.staff_id, pin.day, pin.minute) for task, pin in self.facts.pins.items()}
        for one in self.supposed:
            if isinstance(one, HoldTask):
                pins[str(one.task_id)] = (one.staff_id, one.day, one.minute)
        running: set[str] = set()
        held = list(pieces)
        for place, piece in enumerate(pieces):
            root = piece.id.partition("/")[0]
            task = self.tasks[piece.id]
            if not piece.by_hand or root.startswith(NEW):
                continue
            who, day, minute = pins.get(root, (None, None, None))
            leads = first[root] == place
            clock = str(task.running_staff_id) if task.running_staff_id else None
            if clock and leads and clock not in running and self._may(clock):
                running.add(clock)
                start = self._free_from(clock, piece.slots)
                held[place] = replace(piece, started=True, pinned_start=start, pinned_person=clock)
                continue
            kept = str(who) if who else str(task.hand_staff_id) if task.begun and task.hand_staff_id else None
            if kept and not self._may(kept):
                kept = None
            start_at = self.axis.slot_at(day, minute or 0) if day is not None and leads else None
            if start_at is not None and start_at < self.now:
                start_at = None
            skills = piece.skills if kept is None or who is None else frozenset[str]()
            people = piece.people if who is None else None
            held[place] = replace(
                piece, pinned_person=self._able(kept, piece, who is not None), pinned_start=start_at,
                skills=skills, people=people,
            )  # fmt: skip
        return held

    def _may(self, person: str) -> bool:
        return any(each.id == person for each in self.people)

    def _able(self, kept: str | None, piece: Task, by_pin: bool) -> str | None:
        """Who began keeps the work if they still may; the owner's pin holds whatever is on paper."""
        if kept is None or by_pin:
            return kept
        person = next(each for each in self.people if each.id == kept)
        allowed = piece.people is None or kept in piece.people
        return kept if allowed and piece.skills <= person.skills else None

    def _free_from(self, person: str, slots: int) -> int:
        """The first slot from now in which this person can go on."""
        off = next(each.off for each in self.people if each.id == person)
        start = self.now
        for first, last in off:
            if first < start + slots and last > start:
                start = last
        return start

    # Promises and yesterday

    def _ranges(self, pieces: list[Task]) -> tuple[Range, ...]:
        moved = {one.job_id: one.on for one in self.supposed if isinstance(one, MovePromise)}
        found = []
        for range_id in dict.fromkeys(piece.range_id for piece in pieces):
            if range_id.startswith(NEW):
                found.append(Range(id=range_id, name=say("the new range")))
                continue
            job = self.facts.jobs[int(range_id)]
            day = moved.get(job.id, job.promised_on)
            due = None if day is None else self.axis.due_slot(day)
            found.append(Range(id=range_id, name=job.number, due=due))
        return tuple(found)

    def _yesterday(self, kept: tuple[KeptPlace, ...], pieces: list[Task]) -> dict[str, Placed]:
        known = {piece.id: piece for piece in pieces}
        found = {}
        for place in kept:
            name = f"{place.task_id}/{place.sitting}" if place.sitting else str(place.task_id)
            if name in known and place.begins_on >= self.today:
                start = self.axis.slot_at(place.begins_on, place.begins_minute)
                person = str(place.staff_id) if place.staff_id else None
                found[name] = Placed(start=start, end=start + known[name].slots, person=person)
        return found


def _away(trade: str) -> str:
    return f"away {trade}"


def _loose_ends(tasks: list[OpenTask]) -> list[int]:
    """Work before the proofs that nothing waits for (added by hand): the proofs come after it as well."""
    waited_for = {other for task in tasks for other in task.after}
    return [
        task.id
        for task in tasks
        if task.id not in waited_for and not task.code and task.stage not in ("proving", "delivery")
    ]


def _joined(spans: list[Span]) -> tuple[Span, ...]:
    """Stretches in order, those that touch or overlap as one."""
    found: list[Span] = []
    for first, last in sorted(span for span in spans if span[0] < span[1]):
        if found and first <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], last))
        else:
            found.append((first, last))
    return tuple(found)
