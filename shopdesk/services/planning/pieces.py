"""Open tasks as the pieces that are planned: sittings of at most half a day, outwork with its time away."""

import datetime as dt
from dataclasses import replace
from fractions import Fraction

from shopdesk.domain.estimate.three_point import mean
from shopdesk.domain.money import Spread, round_half_up
from shopdesk.domain.planning.calendar import SLOT_MINUTES
from shopdesk.domain.planning.instance import After, Task
from shopdesk.domain.planning.sittings import in_sittings
from shopdesk.services.planning.facts import Facts, VanDays
from shopdesk.services.planning.open_tasks import OpenTask
from shopdesk.services.planning.people_planned import OUTSIDE_SKILL
from shopdesk.services.planning.record import ENOUGH_PIECES
from shopdesk.services.planning.suppose import NEW, Shut, Supposed, TakeIn
from shopdesk.services.planning.time_line import TimeLine
from shopdesk.wording import say

AWAY = "away"
"""The sitting that is the time away where pieces come back on set weekdays; `12` is then the way back."""


class Pieces:
    """Makes the pieces once; `spreads`, `tasks` and `assumed` fill as they are made."""

    def __init__(
        self, facts: Facts, line: TimeLine, supposed: tuple[Supposed, ...], skilled: set[str]
    ) -> None:
        self.facts, self.line, self.supposed, self.skilled = facts, line, supposed, skilled
        self.spreads: dict[str, Spread] = {}
        self.tasks: dict[str, OpenTask] = {}
        self.assumed = dict.fromkeys(facts.assumed)
        self.supposed_range = ""
        self.closures = dict(facts.closures)
        for one in supposed:
            if isinstance(one, Shut):
                mine = self.closures.get(one.trade, ())
                self.closures[one.trade] = (*mine, (one.first_day, one.last_day))

    def all(self) -> list[Task]:
        found: list[Task] = []
        answered = {one.job_id: one.on for one in self.supposed if isinstance(one, TakeIn) and not one.new}
        for job_id, tasks in self._by_job():
            since = self.line.axis.slot_at(answered[job_id]) if job_id in answered else 0
            found += self._of_job(str(job_id), tasks, "", since)
        for one in self.supposed:
            if isinstance(one, TakeIn) and one.new:
                like = self.facts.jobs[one.job_id]
                mine = list(self.facts.whole_jobs.get(like.id, ()))
                self.supposed_range = f"{NEW}{like.id}"
                found += self._of_job(self.supposed_range, mine, NEW, self.line.axis.slot_at(one.on))
            elif isinstance(one, TakeIn):
                self.supposed_range = str(one.job_id)
        return found

    def _by_job(self) -> list[tuple[int, list[OpenTask]]]:
        by_job: dict[int, list[OpenTask]] = {}
        for task in self.facts.tasks:
            by_job.setdefault(task.job_id, []).append(task)
        return list(by_job.items())

    def _of_job(self, range_id: str, tasks: list[OpenTask], mark: str, since: int = 0) -> list[Task]:
        """The pieces of one job; half-hours are rounded over the whole job, not at every task."""
        job = self.facts.jobs[tasks[0].job_id] if tasks else None
        arrives: int | None = since
        if job is not None and not mark and not job.in_shop:
            arrives = None if job.arrives is None else self.line.axis.due_slot(job.arrives)
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
        earliest: int | None = None if task.until.never else self.line.slot(task.until.day)
        waits_for = task.until.never
        if arrives is None:
            earliest, waits_for = None, say("the range itself to come in")
        elif earliest is not None:
            earliest = max(earliest, arrives)
        away = self._away(range_id, task, mark, after, earliest)
        if away is not None and task.is_out:
            return self._with_way_back(away, task)
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
            earliest=self.line.now if task.begun and earliest is not None else earliest,
            waits_for=waits_for,
        )
        pieces = list(in_sittings([hand]))
        self._spread(task, pieces)
        if away is not None:
            pieces += self._with_way_back(replace(away, after=(After(task=name),)), task)
        return pieces

    def _with_way_back(self, away: Task, task: OpenTask) -> list[Task]:
        """The time away, from a day pieces are taken in to one they are given back, where there are such."""
        days = self.facts.vans.get(task.trade, VanDays())
        closed = self.closures.get(task.trade, ())
        if days.send is not None and not task.is_out:
            away = replace(away, starts=self.line.weekdays(days.send, closed))
        if days.back is None:
            self.tasks[away.id] = task
            return [away]
        there = replace(away, id=f"{away.id}/{AWAY}")
        back = replace(
            away, slots=0, uses=(), after=(After(task=there.id),), earliest=self.line.now,
            starts=self.line.weekdays(days.back, closed), pinned_start=None, started=False,
        )  # fmt: skip
        self.spreads[there.id] = self.spreads.pop(away.id)
        self.tasks[there.id] = self.tasks[back.id] = task
        return [there, back]

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
        slots = self._out_slots(task) if task.is_out else max(1, self.line.axis.waiting(task.away_days))
        points = (round_half_up(slots * SLOT_MINUTES * share) for share in self._away_shares(task))
        self.spreads[f"{mark}{task.id}"] = Spread(*points)
        closed = task.trade in self.closures and not task.is_out
        return Task(
            id=f"{mark}{task.id}",
            name=task.name,
            range_id=range_id,
            slots=slots,
            by_hand=False,
            uses=((away_station(task.trade), 1),) if closed else (),
            after=tuple(After(task=other) for other in after),
            earliest=earliest,
            waits_for=task.until.never,
            pinned_start=self.line.now if task.is_out else None,
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
            day = self.line.today + dt.timedelta(days=task.away_days or late)
            text = say("{range}: nobody knows when {trade} is done; reckoned with in {days} days.",
                       range=number, trade=trade, days=(day - self.line.today).days)  # fmt: skip
            self.assumed[text] = None
        elif day <= self.line.today:
            text = say("{range}: {trade} is {late} days late; reckoned with in {days} days.",
                       range=number, trade=trade, late=(self.line.today - day).days, days=late)  # fmt: skip
            if day < self.line.today:
                self.assumed[text] = None
            day = self.line.today + dt.timedelta(days=late if day < self.line.today else 1)
        for first, last in self.closures.get(task.trade, ()):
            if first <= day and last >= self.line.today:
                day += dt.timedelta(days=(last - max(first, self.line.today)).days + 1)
        return max(1, self.line.axis.slot_at(day) - self.line.now)

    def _assume_outside(self, task: OpenTask) -> None:
        number = self.facts.jobs[task.job_id].number
        text = say(
            "{range}: a licensed fitter from outside comes when asked: {task}.", range=number, task=task.name
        )
        self.assumed[text] = None


def away_station(trade: str) -> str:
    """The station at which pieces are while a trade outside has them; used only where it shuts."""
    return f"away {trade}"


def _loose_ends(tasks: list[OpenTask]) -> list[int]:
    """Work before the proofs that nothing waits for (added by hand): the proofs come after it as well."""
    waited_for = {other for task in tasks for other in task.after}
    return [
        task.id
        for task in tasks
        if task.id not in waited_for and not task.code and task.stage not in ("proving", "delivery")
    ]
