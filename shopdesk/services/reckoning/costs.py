"""What work cost the shop: hours at each person's wage of the day, parts, outwork, outlays.

An entry's cost is rounded half up once, by itself; so sums over tasks, jobs, people and months agree. Parts
count by their movements to a task's need, outwork once a piece is back.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from zoneinfo import ZoneInfo

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.margin import Cost
from shopdesk.storage.tables.counter import Outlay
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.shop import Wage
from shopdesk.storage.tables.stores import ConsignmentPiece, Need, PartMovement
from shopdesk.storage.tables.work import Task, TimeEntry, WorkOrder
from shopdesk.wording import Region

Jobs = sa.Select[int]
Figure = sa.ColumnElement[int]


@dataclass(frozen=True, slots=True)
class Spent:
    """What stands behind one key: minutes clocked, and cents of hours, parts and outwork."""

    minutes: int = 0
    hours: int = 0
    parts: int = 0
    outwork: int = 0

    @property
    def cents(self) -> int:
        return self.hours + self.parts + self.outwork


NOTHING = Spent()


def wages(session: Session) -> dict[int, list[tuple[dt.date, int]]]:
    """By person: from which day what an hour costs, in order."""
    found: dict[int, list[tuple[dt.date, int]]] = {}
    for wage in session.scalars(sa.select(Wage).order_by(Wage.staff_id, Wage.from_day)):
        found.setdefault(wage.staff_id, []).append((wage.from_day, wage.cost_cents_per_hour))
    return found


def entry_cost(session: Session, region: Region) -> Figure:
    """Cents of one time entry at the wage in force on its day; nothing before the first wage was set."""
    zone = ZoneInfo(region.timezone)
    by_person = {
        staff_id: sa.case(
            *((TimeEntry.started_at >= midnight(day, zone), cents) for day, cents in reversed(steps)), else_=0
        )
        for staff_id, steps in wages(session).items()
    }
    if not by_person:
        return sa.literal(0)
    rate = sa.case(*((TimeEntry.staff_id == key, one) for key, one in by_person.items()), else_=0)
    minutes = sa.func.coalesce(TimeEntry.minutes, 0)
    return (minutes * rate + 30) // 60


def midnight(day: dt.date, zone: ZoneInfo) -> dt.datetime:
    """The instant at which a day of the shop begins."""
    return dt.datetime.combine(day, dt.time(), zone)


def spent_by(
    session: Session, region: Region, key: sa.orm.InstrumentedAttribute[int], jobs: Jobs
) -> dict[int, Spent]:
    """What went into some jobs, by `key`: `WorkOrder.job_id` or `Task.id`."""
    here = WorkOrder.job_id.in_(jobs)
    clocked = (
        sa.select(key, sa.func.sum(TimeEntry.minutes), sa.func.sum(entry_cost(session, region)))
        .select_from(TimeEntry).join(Task, Task.id == TimeEntry.task_id)
        .join(WorkOrder, WorkOrder.id == Task.work_order_id)
        .where(here, TimeEntry.minutes.is_not(None)).group_by(key)
    )  # fmt: skip
    parts = (
        sa.select(key, -sa.func.sum(PartMovement.cost_cents))
        .select_from(PartMovement).join(Need, Need.id == PartMovement.need_id)
        .join(Task, Task.id == Need.task_id).join(WorkOrder, WorkOrder.id == Task.work_order_id)
        .where(here).group_by(key)
    )  # fmt: skip
    outwork = (
        sa.select(key, sa.func.sum(ConsignmentPiece.cost_cents))
        .select_from(ConsignmentPiece).join(Task, Task.id == ConsignmentPiece.task_id)
        .join(WorkOrder, WorkOrder.id == Task.work_order_id)
        .where(here, ConsignmentPiece.back_on.is_not(None)).group_by(key)
    )  # fmt: skip
    hours = {row[0]: (int(row[1] or 0), int(row[2] or 0)) for row in session.execute(clocked)}
    of_parts, of_outwork = sums(session.execute(parts)), sums(session.execute(outwork))
    return {
        one: Spent(*hours.get(one, (0, 0)), of_parts.get(one, 0), of_outwork.get(one, 0))
        for one in hours.keys() | of_parts.keys() | of_outwork.keys()
    }


def outlays(session: Session, jobs: Jobs) -> dict[int, int]:
    """By job: money spent on it beside hours, parts and outwork."""
    query = sa.select(Outlay.job_id, sa.func.sum(Outlay.amount_cents)).where(Outlay.job_id.in_(jobs))
    return sums(session.execute(query.group_by(Outlay.job_id)))


def sums(rows: Iterable[sa.Row[int, int]]) -> dict[int, int]:
    """Keys and cents, as a query groups them."""
    return {int(key): int(cents or 0) for key, cents in rows}


def cost_of(session: Session, region: Region, job_id: int) -> tuple[int, Cost]:
    """One job: minutes clocked, and all that went into it."""
    only = sa.select(Job.id).where(Job.id == job_id)
    spent = spent_by(session, region, WorkOrder.job_id, only).get(job_id, NOTHING)
    bought = session.scalar(sa.select(Job.bought_cents).where(Job.id == job_id))
    other = outlays(session, only).get(job_id, 0)
    return spent.minutes, Cost(
        purchase=bought or 0, hours=spent.hours, parts=spent.parts, outwork=spent.outwork, other=other
    )
