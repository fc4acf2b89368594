"""What the Bench shows of a day: the ranges with their tasks, who works here, and one task in full."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.build import Build
from shopdesk.services import bench, shops
from shopdesk.services.because import causes_in_words
from shopdesk.services.seat import Seat
from shopdesk.storage.tables import work as rows
from shopdesk.storage.tables.ranges import Job, Photograph, PhotographUse
from shopdesk.storage.tables.stores import Need
from shopdesk.storage.tables.walk import Observation, WalkRound


@dataclass(frozen=True, slots=True)
class BenchRange:
    """A range as the heading over its tasks; `findings` are codes of its newest walk-round."""

    job_id: int
    range_id: int
    number: str
    maker: str
    model: str
    colour: str
    build: Build
    promised_on: dt.date | None
    findings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BenchDay:
    """`tasks` are open, `done` were ticked today; `people` are those who may work at the bench."""

    ranges: tuple[BenchRange, ...]
    tasks: tuple[bench.BenchTask, ...]
    done: tuple[bench.BenchTask, ...]
    people: tuple[tuple[int, str], ...]
    clock: bench.Clock | None


@dataclass(frozen=True, slots=True)
class TaskPart:
    """A part the task uses; `here` of `quantity` are there for it."""

    name: str
    quantity: int
    here: int
    called_off: int


@dataclass(frozen=True, slots=True)
class TaskPhotograph:
    """A picture taken of a task; `thumbnail` is JPEG bytes."""

    id: int
    caption: str
    thumbnail: bytes


@dataclass(frozen=True, slots=True)
class TaskSheet:
    """One task in full: why it is there, how it is done, its parts, hours and pictures."""

    task_id: int
    because: str
    advice: str
    proofs: tuple[str, ...]
    parts: tuple[TaskPart, ...]
    hours: tuple[bench.TimeRow, ...]
    photographs: tuple[TaskPhotograph, ...]


def bench_day(seat: Seat, staff_id: int | None = None) -> BenchDay:
    """The day across ranges; with `staff_id` only that person's tasks and those given to nobody."""
    tasks = bench.tasks_today(seat, staff_id)
    done = done_today(seat, staff_id)
    people = tuple((p.id, p.name) for p in shops.staff(seat) if p.role in ("owner", "technician"))
    clock = bench.running_clock(seat)
    jobs = {t.job_id for t in (*tasks, *done)}
    with seat.look() as session:
        ranges = _ranges(session, jobs)
    return BenchDay(ranges, tuple(tasks), tuple(done), people, clock)


def done_today(seat: Seat, staff_id: int | None = None) -> list[bench.BenchTask]:
    """Tasks ticked on the shop's business day, newest first; with `staff_id` those that person ticked."""
    start = dt.datetime.combine(seat.today, dt.time(), seat.region.local(seat.now).tzinfo)
    query = (
        sa.select(rows.Task.id, rows.WorkOrder.job_id)
        .join(rows.WorkOrder)
        .where(rows.Task.dropped == False, rows.Task.done_at >= start.astimezone(dt.UTC))
        .order_by(rows.Task.done_at.desc(), rows.Task.id.desc())
    )
    if staff_id is not None:
        query = query.where(rows.Task.done_by_id == staff_id)
    with seat.look() as session:
        found = list(session.execute(query))
    by_id = {t.id: t for job_id in {job for _, job in found} for t in bench.job_tasks(seat, job_id)}
    return [by_id[task_id] for task_id, _ in found if task_id in by_id]


def task_sheet(seat: Seat, task_id: int) -> TaskSheet:
    """Everything beside one task."""
    catalogue = seat.catalogue
    with seat.look() as session:
        task = session.get_one(rows.Task, task_id)
        entry = catalogue.tasks.get(task.code)
        job_id = task.work_order.job_id
        because = causes_in_words(catalogue, task.causes)
        proofs = tuple(catalogue.proofs[code].name for code in task.proofs if code in catalogue.proofs)
        parts = tuple(
            TaskPart(n.name, n.quantity, n.covered, n.called_off)
            for n in session.scalars(sa.select(Need).where(Need.task_id == task_id).order_by(Need.id))
        )
        photographs = tuple(_photographs(session, task_id))
    hours = tuple(row for row in bench.time_rows(seat, job_id) if row.task_id == task_id)
    return TaskSheet(task_id, because, entry.advice if entry else "", proofs, parts, hours, photographs)


def task_place(seat: Seat, task_id: int) -> tuple[int, int]:
    """The range and the job a task belongs to, by their keys."""
    with seat.look() as session:
        job = session.get_one(rows.Task, task_id).work_order.job
        return job.range_id, job.id


def found_more_task(seat: Seat, change_id: int) -> int:
    """The task that a change order brought, to hang pictures on."""
    with seat.look() as session:
        return session.scalars(sa.select(rows.Task.id).where(rows.Task.change_order_id == change_id)).one()


def _ranges(session: Session, jobs: set[int]) -> tuple[BenchRange, ...]:
    """Their ranges by promise, as the tasks are."""
    query = (
        sa.select(Job)
        .options(sa.orm.joinedload(Job.range))
        .where(Job.id.in_(jobs))
        .order_by(Job.promised_on.is_(None), Job.promised_on, Job.id)
    )
    findings = _findings(session, jobs)
    return tuple(
        BenchRange(
            job.id,
            job.range_id,
            job.range.number,
            job.range.maker,
            job.range.model,
            job.range.colour,
            Build(**job.range.build),
            job.promised_on,
            tuple(findings.get(job.id, ())),
        )
        for job in session.scalars(query)
    )


def _findings(session: Session, jobs: set[int]) -> dict[int, list[str]]:
    newest = sa.select(sa.func.max(WalkRound.id)).where(WalkRound.job_id.in_(jobs)).group_by(WalkRound.job_id)
    found: dict[int, list[str]] = {}
    for job_id, finding in session.execute(
        sa.select(WalkRound.job_id, Observation.finding)
        .join(Observation)
        .where(WalkRound.id.in_(newest), Observation.finding != "")
        .order_by(Observation.id)
    ):
        found.setdefault(job_id, []).append(finding)
    return found


def _photographs(session: Session, task_id: int) -> list[TaskPhotograph]:
    query = (
        sa.select(Photograph.id, PhotographUse.caption, Photograph.thumbnail)
        .join(PhotographUse, PhotographUse.photograph_id == Photograph.id)
        .where(PhotographUse.task_id == task_id)
        .order_by(PhotographUse.id)
    )
    return [TaskPhotograph(*row) for row in session.execute(query)]
