"""Open tasks of the jobs in the shop, with what is done on them, by whom, and what is out."""

import datetime as dt
from dataclasses import dataclass, replace
from fractions import Fraction

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.money import Spread
from shopdesk.services.planning.waits import NOW, Until, Waits
from shopdesk.services.seat import Seat
from shopdesk.storage.tables import work as rows
from shopdesk.storage.tables.stores import Consignment, ConsignmentPiece


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenTask:
    """One open task; minutes of the whole, `left` the share (0 to 1) still to do by hand."""

    id: int
    job_id: int
    code: str
    name: str
    stage: str
    station: str
    skills: frozenset[str]
    minutes: Spread
    after: tuple[int, ...]
    left: float = 1.0
    until: Until = NOW
    begun: bool = False
    running_staff_id: int | None = None
    hand_staff_id: int | None = None
    assigned_to_id: int | None = None
    trade: str = ""
    away_days: int = 0
    out_until: dt.date | None = None  # pieces are out now, and expected back
    is_out: bool = False
    away_shares: tuple[Fraction, Fraction, Fraction] | None = None  # low, likely, high days over likely
    over: int = 0  # minutes clocked beyond what it likely takes, and it is not done


@dataclass(frozen=True, slots=True)
class Work:
    """Open tasks that may be planned, all tasks of their jobs, jobs that wait for their answer, and the
    share of each job's handwork that is done."""

    tasks: tuple[OpenTask, ...]
    whole_jobs: dict[int, tuple[OpenTask, ...]]
    unanswered: tuple[int, ...]
    share_done: dict[int, float]


def read_work(seat: Seat, session: Session, numbers: dict[int, str], waits: Waits) -> Work:
    found = session.execute(
        sa.select(rows.Task, rows.WorkOrder.job_id)
        .join(rows.WorkOrder)
        .where(rows.WorkOrder.job_id.in_(numbers), rows.Task.dropped == False)
        .order_by(rows.WorkOrder.job_id, rows.Task.place, rows.Task.id)
    ).all()
    after: dict[int, list[int]] = {}
    for task_id, earlier in session.execute(
        sa.select(rows.TaskAfter.task_id, rows.TaskAfter.after_task_id)
        .join(rows.Task, rows.Task.id == rows.TaskAfter.task_id)
        .join(rows.WorkOrder)
        .where(rows.WorkOrder.job_id.in_(numbers))
    ):
        after.setdefault(task_id, []).append(earlier)
    clocks = _clocks(session, set(numbers))
    out, returned = _pieces_out(session, set(numbers))
    left_home = _after_leaving([task for task, _ in found], after)
    tasks: list[OpenTask] = []
    whole: dict[int, list[OpenTask]] = {}
    unanswered: dict[int, None] = {}
    total: dict[int, int] = {}
    open_minutes: dict[int, float] = {}
    for task, job_id in found:
        if task.id in left_home:
            continue
        fresh = _fresh(seat, task, job_id, tuple(after.get(task.id, ())))
        whole.setdefault(job_id, []).append(fresh)
        total[job_id] = total.get(job_id, 0) + task.minutes_likely
        is_out = task.id in out
        if task.done_share == 100 and not is_out:
            continue
        minutes, hand, running = clocks.get(task.id, (0, None, None))
        left = 0.0 if task.done_share == 100 or is_out else _left(task, minutes)
        open_minutes[job_id] = open_minutes.get(job_id, 0.0) + left * task.minutes_likely
        if waits.for_the_answer(task, job_id):
            unanswered[job_id] = None
            continue
        tasks.append(
            replace(
                fresh,
                left=left,
                until=waits.until(task, job_id, numbers[job_id]),
                begun=is_out or running is not None or task.done_share > 0 or minutes > 0,
                running_staff_id=running,
                hand_staff_id=hand,
                assigned_to_id=task.assigned_to_id,
                away_days=0 if task.id in returned else task.outwork_days,
                out_until=out.get(task.id),
                is_out=is_out,
                over=max(0, minutes - task.minutes_likely),
            )
        )
    done = {job: 1.0 - open_minutes.get(job, 0.0) / of if of else 0.0 for job, of in total.items()}
    return Work(tuple(tasks), {job: tuple(of) for job, of in whole.items()}, tuple(unanswered), done)


def _fresh(seat: Seat, task: rows.Task, job_id: int, after: tuple[int, ...]) -> OpenTask:
    """A task as if nothing were done on it and nothing waited for."""
    return OpenTask(
        id=task.id,
        job_id=job_id,
        code=task.code,
        name=task.name,
        stage=task.stage,
        station=task.station,
        skills=frozenset(task.skills),
        minutes=Spread(task.minutes_low, task.minutes_likely, task.minutes_high),
        after=after,
        trade=task.outwork_trade,
        away_days=task.outwork_days,
        away_shares=_away_shares(seat, task.code),
    )


def _away_shares(seat: Seat, code: str) -> tuple[Fraction, Fraction, Fraction] | None:
    """The catalogue's spread of days away, for pieces not sent yet."""
    known = seat.catalogue.tasks.get(code)
    if known is None or known.outwork is None or not known.outwork.days.likely:
        return None
    days = known.outwork.days
    return Fraction(days.low, days.likely), Fraction(1), Fraction(days.high, days.likely)


def _left(task: rows.Task, clocked: int) -> float:
    """The share still to do: as ticked, or by the clock; never less than a quarter before the tick."""
    if task.done_share or not clocked:
        return (100 - task.done_share) / 100
    return max(0.25, 1.0 - clocked / max(1, task.minutes_likely))


def _after_leaving(tasks: list[rows.Task], after: dict[int, list[int]]) -> set[int]:
    """Tasks done once the range has left (at the customer's), and all that follow them."""
    away = {t.id for t in tasks if t.stage == "delivery" and t.station == "site"}
    away |= {t.id for t in tasks if t.code == "follow-up"}
    grown = True
    while grown:
        more = {t.id for t in tasks if t.id not in away and away & set(after.get(t.id, ()))}
        grown, away = bool(more), away | more
    return away


def _clocks(session: Session, jobs: set[int]) -> dict[int, tuple[int, int | None, int | None]]:
    """Task -> minutes clocked, who worked on it last, whose clock runs on it."""
    found: dict[int, tuple[int, int | None, int | None]] = {}
    for task_id, staff_id, minutes in session.execute(
        sa.select(rows.TimeEntry.task_id, rows.TimeEntry.staff_id, rows.TimeEntry.minutes)
        .join(rows.Task)
        .join(rows.WorkOrder)
        .where(rows.WorkOrder.job_id.in_(jobs))
        .order_by(rows.TimeEntry.started_at, rows.TimeEntry.id)
    ):
        before = found.get(task_id, (0, None, None))
        running = staff_id if minutes is None else before[2]
        found[task_id] = (before[0] + (minutes or 0), staff_id, running)
    return found


def _pieces_out(session: Session, jobs: set[int]) -> tuple[dict[int, dt.date | None], set[int]]:
    """Tasks with pieces out now and when the last is expected; tasks whose pieces are all back."""
    out: dict[int, dt.date | None] = {}
    back: set[int] = set()
    for task_id, back_on, expected in session.execute(
        sa.select(ConsignmentPiece.task_id, ConsignmentPiece.back_on, Consignment.expected_on)
        .join(Consignment)
        .join(rows.Task, rows.Task.id == ConsignmentPiece.task_id)
        .join(rows.WorkOrder)
        .where(rows.WorkOrder.job_id.in_(jobs))
        .order_by(Consignment.id)
    ):
        if back_on is not None:
            back.add(task_id)
            continue
        known = out.get(task_id)
        out[task_id] = max(known, expected) if known and expected else expected or known
    return out, back - set(out)
