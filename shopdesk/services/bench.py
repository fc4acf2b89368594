"""The technician's day: what can be done now, the clock, ticks, notes, what was found more."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo

import sqlalchemy as sa

from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.stage import Stage
from shopdesk.domain.work.holds import LABORATORY
from shopdesk.services import cautions, clocks, laboratory, stages
from shopdesk.services.holding import refuse_if_waiting, refuse_start
from shopdesk.services.seat import Seat
from shopdesk.services.waiting import Wait, Waiting
from shopdesk.storage.tables import work as rows
from shopdesk.storage.tables.counter import ChangeOrder
from shopdesk.storage.tables.proving import Release
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.unit_of_work import UnitOfWork

_OPEN = ("booked in", "inspected", "quoted", "agreed", "on the bench", "proving", "ready", "gone")


@dataclass(frozen=True, slots=True)
class BenchTask:
    """A task as the bench shows it; empty `waits` can be done now."""

    id: int
    job_id: int
    range_id: int
    range_number: str
    range_name: str
    code: str
    name: str
    count: int
    minutes: Spread
    clocked: int
    done_share: int
    stage: str
    station: str
    hazards: tuple[str, ...]
    assigned_to_id: int | None
    note: str
    waits: tuple[Wait, ...]


@dataclass(frozen=True, slots=True)
class Clock:
    """A person's running clock."""

    entry_id: int
    task_id: int
    task_name: str
    job_id: int
    range_number: str
    started_at: dt.datetime


@dataclass(frozen=True, slots=True)
class TimeRow:
    """Hours on a task."""

    id: int
    task_id: int
    task_name: str
    who: str
    started_at: dt.datetime
    minutes: int | None
    note: str


def tasks_today(seat: Seat, staff_id: int | None = None) -> list[BenchTask]:
    """Open tasks across ranges: what can be done now first, then what waits and why.

    With `staff_id` those given to that person and those given to nobody.
    """
    with seat.look() as session:
        query = (
            sa.select(rows.Task, Job, Range)
            .join(rows.WorkOrder, rows.WorkOrder.id == rows.Task.work_order_id)
            .join(Job, Job.id == rows.WorkOrder.job_id)
            .join(Range, Range.id == Job.range_id)
            .where(Job.stage.in_(_OPEN), rows.Task.dropped == False, rows.Task.done_share < 100)
            .order_by(Job.promised_on.is_(None), Job.promised_on, Job.id, rows.Task.place)
        )
        if staff_id is not None:
            query = query.where(
                sa.or_(rows.Task.assigned_to_id == staff_id, rows.Task.assigned_to_id.is_(None))
            )
        found = session.execute(query).all()
        waiting = Waiting(session, {job.id for _, job, _ in found})
        listed = [_bench_task(waiting, task, job, range_) for task, job, range_ in found]
    return sorted(listed, key=lambda t: bool(t.waits))  # stable: the order of jobs stays


def job_tasks(seat: Seat, job_id: int) -> list[BenchTask]:
    """Every task of one job in order, done ones too, each with what it waits for."""
    with seat.look() as session:
        job = session.get_one(Job, job_id)
        waiting = Waiting(session, {job_id})
        return [_bench_task(waiting, t, job, job.range) for t in stages.tasks_of(session, job_id)]


def tick(seat: Seat, task_id: int, share: int = 100) -> None:
    """Ticks a task off (100), takes the tick back (0), or says how far it is.

    Refused with the reason while it waits for something. Work that opens a gas joint makes
    the proofs that speak for it due again, and lets a release lapse; so does taking its tick
    back. A tick that is there already changes nothing.
    """
    if not 0 <= share <= 100:
        raise Problem("A task is done by 0 to 100 percent.", field="share")
    with seat.change(Action.WORK) as work:
        task, job_id = _open_task(work, task_id)
        if share == task.done_share:
            return
        if share:
            refuse_if_waiting(work.session, task, job_id)
            cautions.refuse_unread(work.session, seat, task)
        if task.proofs and task.stage not in ("proving", "delivery", "intake"):
            lapse_release(work, job_id, task.name)
        _touch(task, work.now)
        task.done_share = share
        task.done_at = work.now if share == 100 else None
        task.done_by_id = seat.acting.staff_id if share == 100 else None
        if share == 100:
            task.blocked_because = ""
        work.about(task, job_id)


def note(seat: Seat, task_id: int, text: str) -> None:
    with seat.change(Action.WORK) as work:
        task, job_id = _task(work, task_id)
        task.note = text.strip()
        work.about(task, job_id)


def block(seat: Seat, task_id: int, because: str) -> None:
    """Says why a task cannot go on; an empty reason frees it."""
    with seat.change(Action.WORK) as work:
        task, job_id = _task(work, task_id)
        task.blocked_because = because.strip()
        work.about(task, job_id)


def assign(seat: Seat, task_id: int, staff_id: int | None) -> None:
    with seat.change(Action.WORK) as work:
        task, job_id = _task(work, task_id)
        if staff_id is not None:
            work.get(Staff, staff_id, "person")
        task.assigned_to_id = staff_id
        work.about(task, job_id)


def answer_hold(
    seat: Seat,
    job_id: int,
    answer: str,
    reference: str,
    hold: str = LABORATORY,
    *,
    places: Sequence[str] = (),
) -> None:
    """The laboratory's answer: `negative` or `positive`, with its name and report number.

    For the suspect `places` it names (`laboratory.suspect_places`), or for all that are suspected
    now; what a later walk-round finds suspect waits for an answer of its own.
    """
    if not reference.strip():
        raise Problem(
            "Write the laboratory's name and report number; nobody judges this by eye.", field="reference"
        )
    if answer not in ("negative", "positive"):
        raise Problem("The laboratory's answer is negative or positive.", field="answer")
    with seat.change(Action.WORK) as work:
        laboratory.record(seat, work, job_id, hold, answer, reference.strip(), places)


def clock_on(seat: Seat, task_id: int) -> int:
    """Starts this person's clock on a task; a clock running elsewhere stops first.

    One that was left running since another day asks until when (`clocks.StillRunning`).
    Refused at a hold point. Whatever else the task waits for, the clock runs: hours nobody
    consented to are kept, and not billable until consent stands.
    """
    with seat.change(Action.CLOCK) as work:
        task, job_id = _open_task(work, task_id)
        refuse_start(work.session, task, job_id)
        _touch(task, work.now)
        running = clocks.running(work.session, seat.acting.staff_id)
        if running is not None:
            clocks.stop_for_another(seat, running, work.now)
            work.session.flush()
        entry = work.add(rows.TimeEntry(task_id=task.id, staff_id=seat.acting.staff_id, started_at=work.now))
        work.session.flush()
        work.about(entry, job_id)
        return entry.id


def clock_off(seat: Seat, *, until: dt.datetime | None = None, note: str = "") -> int:
    """Stops this person's clock, now or at an earlier instant; returns the minutes.

    Where the computer's own clock was put back behind the start, `until` has to be said.
    """
    with seat.change(Action.CLOCK) as work:
        entry = clocks.running(work.session, seat.acting.staff_id)
        if entry is None:
            raise Problem("No clock of {name} is running.", name=seat.acting.name)
        end = clocks.stop(seat, entry, until, work.now)
        if entry.task.done_share < 100:
            _touch(entry.task, end)
        entry.note = note.strip()
        work.about(entry, _task(work, entry.task_id)[1])
        return entry.minutes or 0


def log_minutes(
    seat: Seat,
    task_id: int,
    minutes: int,
    *,
    on: dt.date | None = None,
    staff_id: int | None = None,
    note: str = "",
) -> int:
    """Hours written down afterwards."""
    if not 0 < minutes <= 24 * 60:
        raise Problem("Hours of one entry lie between a minute and a day.", field="minutes")
    with seat.change(Action.CLOCK) as work:
        task, job_id = _task(work, task_id)
        if on is not None and on > seat.today:
            raise Problem("Hours cannot be written down for a day to come.", field="on")
        if staff_id is not None:
            work.get(Staff, staff_id, "person")
        noon = dt.datetime.combine(on or seat.today, dt.time(12), ZoneInfo(seat.region.timezone))
        started = work.now if on is None else min(noon, work.now)
        entry = work.add(
            rows.TimeEntry(
                task_id=task.id,
                staff_id=staff_id or seat.acting.staff_id,
                started_at=started,
                minutes=minutes,
                note=note.strip(),
            )
        )
        work.session.flush()
        work.about(entry, job_id)
        return entry.id


def running_clock(seat: Seat, staff_id: int | None = None) -> Clock | None:
    """The clock a person has running, after a restart too."""
    with seat.look() as session:
        entry = clocks.running(session, staff_id or seat.acting.staff_id)
        if entry is None:
            return None
        job = entry.task.work_order.job
        return Clock(entry.id, entry.task_id, entry.task.name, job.id, job.range.number, entry.started_at)


def time_rows(seat: Seat, job_id: int) -> list[TimeRow]:
    with seat.look() as session:
        found = session.scalars(
            sa.select(rows.TimeEntry)
            .join(rows.Task)
            .join(rows.WorkOrder)
            .where(rows.WorkOrder.job_id == job_id)
            .order_by(rows.TimeEntry.started_at, rows.TimeEntry.id)
        )
        return [
            TimeRow(e.id, e.task_id, e.task.name, e.staff.name, e.started_at, e.minutes, e.note)
            for e in found
        ]


def find_more(seat: Seat, job_id: int, what: str, minutes: Spread, *, name: str = "") -> int:
    """A surprise at the bench: a change order for the counter with a task that waits for consent."""
    if not what.strip():
        raise Problem("Say in a few words what was found.", field="what")
    with seat.change(Action.FIND_MORE) as work:
        order = work.session.scalar(sa.select(rows.WorkOrder).where(rows.WorkOrder.job_id == job_id))
        if order is None:
            raise Problem("There is no work order yet; add the finding on the walk-round.")
        change = work.add(
            ChangeOrder(
                job_id=job_id,
                number=work.take_number("change order"),
                found_on=seat.today,
                found_by_id=seat.acting.staff_id,
                what=what.strip(),
            )
        )
        work.session.flush()
        task = rows.Task(
            work_order_id=order.id,
            name=name.strip() or what.strip(),
            place=max((t.place for t in order.tasks), default=0) + 1,
            note="",
            minutes_low=minutes.low,
            minutes_likely=minutes.likely,
            minutes_high=minutes.high,
            skills=[],
            hazards=[],
            proofs=[],
            holds=[],
            change_order_id=change.id,
        )
        task.causes.append(rows.TaskCause(kind="hand", code=change.number))
        order.tasks.append(task)
        work.session.flush()
        work.about(change, job_id)
        return change.id


def lapse_release(work: UnitOfWork, job_id: int, because: str) -> None:
    """A gas joint was opened or the range was moved: the release no longer stands."""
    release: Release | None = stages.last_release(work.session, job_id)
    if release is not None and release.lapsed_at is None:
        release.lapsed_at, release.lapsed_because = work.now, because


def _bench_task(waiting: Waiting, task: rows.Task, job: Job, range_: Range) -> BenchTask:
    return BenchTask(
        id=task.id,
        job_id=job.id,
        range_id=range_.id,
        range_number=range_.number,
        range_name=" ".join(w for w in (range_.maker, range_.model) if w),
        code=task.code,
        name=task.name,
        count=task.count,
        minutes=Spread(task.minutes_low, task.minutes_likely, task.minutes_high),
        clocked=waiting.minutes.get(task.id, 0),
        done_share=task.done_share,
        stage=task.stage,
        station=task.station,
        hazards=tuple(task.hazards),
        assigned_to_id=task.assigned_to_id,
        note=task.note,
        waits=waiting.of(task, job.id),
    )


def _task(work: UnitOfWork, task_id: int) -> tuple[rows.Task, int]:
    task = work.get(rows.Task, task_id, "task")
    return task, task.work_order.job_id


def _open_task(work: UnitOfWork, task_id: int) -> tuple[rows.Task, int]:
    """A task that can be worked on: still on its order, its job not ended."""
    task, job_id = _task(work, task_id)
    if task.dropped:
        raise Problem("“{name}” is no longer on the work order.", name=task.name)
    job = task.work_order.job
    if job.ended_as:
        raise Problem(
            "The job on {number} has ended ({how}); nothing more is done on it.",
            number=job.range.number,
            how=Stage(job.ended_as),
        )
    return task, job_id


def _touch(task: rows.Task, at: dt.datetime) -> None:
    """Work that makes proofs due again is remembered with its instant."""
    if task.proofs and stages.reopens(task.stage):
        task.touched_at = max(at, task.touched_at or at)
