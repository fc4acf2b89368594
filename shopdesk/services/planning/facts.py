"""The shop's facts a plan is made from, read once: open tasks with what they wait for, people, days."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.money import Spread
from shopdesk.domain.planning.calendar import Week
from shopdesk.services import settings
from shopdesk.services.planning import hours
from shopdesk.services.planning.record import Record, read_record
from shopdesk.services.planning.waits import Until, Waits
from shopdesk.services.seat import Seat
from shopdesk.storage.tables import work as rows
from shopdesk.storage.tables.plan import AppointmentPerson, Leave, OddDay, OutworkClosure, Pin
from shopdesk.storage.tables.ranges import Appointment, Job, Range
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.stores import Consignment, ConsignmentPiece

IN_SHOP = ("booked in", "inspected", "quoted", "agreed", "on the bench", "proving", "ready")


@dataclass(frozen=True, slots=True)
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
    left: float
    after: tuple[int, ...]
    until: Until
    begun: bool
    running_staff_id: int | None
    hand_staff_id: int | None
    assigned_to_id: int | None
    trade: str
    away_days: int
    out_until: dt.date | None  # pieces are out now, and expected back
    is_out: bool
    away_shares: tuple[Fraction, Fraction, Fraction] | None = None  # low, likely, high days over likely
    over: int = 0  # minutes clocked beyond what it likely takes, and it is not done


@dataclass(frozen=True, slots=True)
class OpenJob:
    id: int
    range_id: int
    number: str
    name: str
    customer: str
    customer_id: int | None
    stage: str
    promised_on: dt.date | None
    agreed: bool
    in_shop: bool
    arrives: dt.date | None  # a pick-up is arranged for a range that is not in yet


@dataclass(frozen=True, slots=True)
class Hands:
    """Someone who works here, with their own week, leave and appointments (local begin, minutes)."""

    id: int
    name: str
    role: str
    skills: frozenset[str]
    week: Week | None
    leave: tuple[tuple[dt.date, dt.date], ...]
    appointments: tuple[tuple[dt.datetime, int], ...]


@dataclass(frozen=True, slots=True)
class PinnedAt:
    staff_id: int | None
    day: dt.date | None
    minute: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """Everything read; `unanswered` are jobs whose work waits for its quote's answer."""

    now: dt.datetime  # local
    week: Week
    country: str
    part: str
    terms: settings.PlanTerms
    odd_days: dict[dt.date, bool]
    closures: dict[str, tuple[tuple[dt.date, dt.date], ...]]
    rooms: dict[str, int]
    people: tuple[Hands, ...]
    jobs: dict[int, OpenJob]
    tasks: tuple[OpenTask, ...]
    share_done: dict[int, float]
    pins: dict[int, PinnedAt]
    unanswered: tuple[int, ...] = ()
    assumed: tuple[str, ...] = ()
    causes: dict[int, dict[str, int]] = field(default_factory=dict)  # as `Waits.causes`
    record: Record = field(default_factory=Record)


def read_facts(seat: Seat, session: Session, *, as_agreed: Iterable[int] = ()) -> Facts:
    """All that is open in the shop; jobs `as_agreed` are taken as if their answer had come today."""
    terms = settings.read(session, settings.PlanTerms)
    shop = settings.read(session, settings.ShopHours)
    jobs = _jobs(seat, session)
    waits = Waits(session, set(jobs), terms, seat.today, frozenset(as_agreed))
    tasks, unanswered, done = _tasks(seat, session, jobs, waits)
    for task in tasks:
        if task.is_out and task.out_until is not None:
            mine = waits.causes.setdefault(task.job_id, {})
            mine[f"outwork|{task.trade}"] = max(0, (seat.today - task.out_until).days)
    return Facts(
        now=seat.region.local(seat.now),
        week=hours.as_week(shop.week),
        country=shop.country,
        part=shop.subdivision,
        terms=terms,
        odd_days={d.day: d.is_open for d in session.scalars(sa.select(OddDay))},
        closures=_closures(session),
        rooms=hours.rooms(session),
        people=_people(seat, session),
        jobs=jobs,
        tasks=tasks,
        share_done=done,
        pins={
            p.task_id: PinnedAt(p.staff_id, p.begins_on, p.begins_minute)
            for p in session.scalars(sa.select(Pin))
        },
        unanswered=unanswered,
        assumed=waits.assumed(),
        causes=waits.causes,
        record=read_record(session),
    )


def _jobs(seat: Seat, session: Session) -> dict[int, OpenJob]:
    query = (
        sa.select(Job)
        .join(Range)
        .options(sa.orm.joinedload(Job.range), sa.orm.joinedload(Job.customer))
        .where(Job.stage.in_(IN_SHOP), Job.ended_as == "", Job.gone_on.is_(None))
        .order_by(Job.id)
    )
    arrivals = {
        job_id: seat.region.local_day(at)
        for job_id, at in session.execute(
            sa.select(Appointment.job_id, Appointment.starts_at)
            .where(Appointment.kind == "pick-up", Appointment.called_off == False)
            .order_by(Appointment.starts_at)
        )
    }
    return {
        job.id: OpenJob(
            job.id,
            job.range_id,
            job.range.number,
            " ".join(word for word in (job.range.maker, job.range.model) if word),
            job.customer.name if job.customer else "",
            job.customer_id,
            job.stage,
            job.promised_on,
            True,
            job.booked_in_on is not None,
            arrivals.get(job.id),
        )
        for job in session.scalars(query)
    }


def _tasks(
    seat: Seat, session: Session, jobs: dict[int, OpenJob], waits: Waits
) -> tuple[tuple[OpenTask, ...], tuple[int, ...], dict[int, float]]:
    """Open tasks that may be planned, jobs that wait for their answer, share of handwork done a job."""
    found = session.execute(
        sa.select(rows.Task, rows.WorkOrder.job_id)
        .join(rows.WorkOrder)
        .where(rows.WorkOrder.job_id.in_(jobs), rows.Task.dropped == False)
        .order_by(rows.WorkOrder.job_id, rows.Task.place, rows.Task.id)
    ).all()
    after: dict[int, list[int]] = {}
    for task_id, earlier in session.execute(
        sa.select(rows.TaskAfter.task_id, rows.TaskAfter.after_task_id)
        .join(rows.Task, rows.Task.id == rows.TaskAfter.task_id)
        .join(rows.WorkOrder)
        .where(rows.WorkOrder.job_id.in_(jobs))
    ):
        after.setdefault(task_id, []).append(earlier)
    clocks = _clocks(session, set(jobs))
    out, returned = _pieces_out(session, set(jobs))
    left_home = _after_leaving([task for task, _ in found], after)
    tasks: list[OpenTask] = []
    unanswered: dict[int, None] = {}
    total: dict[int, int] = {}
    open_minutes: dict[int, float] = {}
    for task, job_id in found:
        total[job_id] = total.get(job_id, 0) + task.minutes_likely
        is_out = task.id in out
        if (task.done_share == 100 and not is_out) or task.id in left_home:
            continue
        minutes, hand, running = clocks.get(task.id, (0, None, None))
        left = 0.0 if task.done_share == 100 or is_out else _left(task, minutes)
        open_minutes[job_id] = open_minutes.get(job_id, 0.0) + left * task.minutes_likely
        if waits.for_the_answer(task, job_id):
            unanswered[job_id] = None
            continue
        begun = is_out or running is not None or task.done_share > 0 or minutes > 0
        tasks.append(
            OpenTask(
                task.id,
                job_id,
                task.code,
                task.name,
                task.stage,
                task.station,
                frozenset(task.skills),
                Spread(task.minutes_low, task.minutes_likely, task.minutes_high),
                left,
                tuple(after.get(task.id, ())),
                waits.until(task, job_id, jobs[job_id].number),
                begun,
                running,
                hand,
                task.assigned_to_id,
                task.outwork_trade,
                0 if task.id in returned else task.outwork_days,
                out.get(task.id),
                is_out,
                _away_shares(seat, task.code),
                max(0, minutes - task.minutes_likely),
            )
        )
    done = {job: 1.0 - open_minutes.get(job, 0.0) / whole if whole else 0.0 for job, whole in total.items()}
    return tuple(tasks), tuple(unanswered), done


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


def _people(seat: Seat, session: Session) -> tuple[Hands, ...]:
    own = hours.own_weeks(session)
    leave: dict[int, list[tuple[dt.date, dt.date]]] = {}
    for row in session.scalars(sa.select(Leave).where(Leave.called_off == False)):
        leave.setdefault(row.staff_id, []).append((row.first_day, row.last_day))
    going: dict[int, list[tuple[dt.datetime, int]]] = {}
    for staff_id, at, minutes in session.execute(
        sa.select(AppointmentPerson.staff_id, Appointment.starts_at, Appointment.minutes)
        .join(Appointment)
        .where(Appointment.called_off == False)
    ):
        going.setdefault(staff_id, []).append((seat.region.local(at), minutes))
    people = session.scalars(sa.select(Staff).where(Staff.active == True).order_by(Staff.id))
    return tuple(
        Hands(
            p.id,
            p.name,
            p.role,
            frozenset(p.skills),
            own.get(p.id),
            tuple(leave.get(p.id, ())),
            tuple(going.get(p.id, ())),
        )
        for p in people
    )


def _closures(session: Session) -> dict[str, tuple[tuple[dt.date, dt.date], ...]]:
    found: dict[str, tuple[tuple[dt.date, dt.date], ...]] = {}
    for row in session.scalars(sa.select(OutworkClosure).where(OutworkClosure.called_off == False)):
        found[row.trade] = (*found.get(row.trade, ()), (row.first_day, row.last_day))
    return found
