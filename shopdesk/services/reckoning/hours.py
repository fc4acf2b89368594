"""Hours by person and kind of work against what was thought, of the tasks finished in a year.

Only finished tasks can be held against their estimate. What a task was thought to take is shared over those
who worked on it by their minutes; the shares always sum to it.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from zoneinfo import ZoneInfo

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.money import share
from shopdesk.domain.rights import Action
from shopdesk.services.reckoning.chosen import span_of
from shopdesk.services.reckoning.costs import midnight
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.work import Task, TimeEntry, WorkOrder


@dataclass(frozen=True, slots=True)
class TaskHours:
    """One person's hours on one finished task, in minutes; low, likely and high are this person's share."""

    job_id: int
    range_id: int
    number: str
    task_id: int
    task: str
    minutes: int
    low: int
    likely: int
    high: int


@dataclass(frozen=True, slots=True)
class KindHours:
    """One person and one kind of work; `station` is where such work is done."""

    staff_id: int
    name: str
    station: str
    tasks: tuple[TaskHours, ...]

    def sum(self, figure: str) -> int:
        """Minutes over all tasks: `minutes`, `low`, `likely` or `high`."""
        return sum(getattr(task, figure) for task in self.tasks)


def hours_against_estimate(seat: Seat, year: int) -> list[KindHours]:
    """By person and station, people by name; entries on tasks that are not finished are left out."""
    with seat.look(Action.SEE_COSTS) as session:
        rows = _entries(session, seat, year)
    of_tasks: dict[int, list[sa.Row[Any]]] = defaultdict(list)
    for row in rows:
        of_tasks[row.task_id].append(row)
    found: dict[tuple[str, int, str], list[TaskHours]] = defaultdict(list)
    for of_task in of_tasks.values():
        for row, shares in zip(of_task, _shares(of_task), strict=True):
            found[row.name, row.staff_id, row.station].append(
                TaskHours(
                    row.job_id, row.range_id, row.number, row.task_id, row.task, int(row.minutes), *shares
                )
            )
    return [KindHours(key, name, station, tuple(of)) for (name, key, station), of in sorted(found.items())]


def _shares(of_task: Sequence[sa.Row[Any]]) -> list[tuple[int, int, int]]:
    """What each of those who worked on a task was thought to need of it."""
    first = of_task[0]
    if len(of_task) == 1:
        return [(first.minutes_low, first.minutes_likely, first.minutes_high)]
    weights = [int(row.minutes) for row in of_task]
    low, likely, high = (
        share(whole, weights) for whole in (first.minutes_low, first.minutes_likely, first.minutes_high)
    )
    return list(zip(low, likely, high, strict=True))


def _entries(session: Session, seat: Seat, year: int) -> Sequence[Any]:
    """Minutes by task and person of the tasks finished in a year."""
    first, after = (midnight(day, ZoneInfo(seat.region.timezone)) for day in span_of(year))
    query = (
        sa.select(
            Task.id.label("task_id"), Task.name.label("task"), Task.station, Task.minutes_low,
            Task.minutes_likely, Task.minutes_high, WorkOrder.job_id, Range.id.label("range_id"),
            Range.number,
            TimeEntry.staff_id, Staff.name, sa.func.sum(TimeEntry.minutes).label("minutes"),
        )
        .select_from(Task).join(TimeEntry, TimeEntry.task_id == Task.id)
        .join(Staff, Staff.id == TimeEntry.staff_id)
        .join(WorkOrder, WorkOrder.id == Task.work_order_id).join(Job, Job.id == WorkOrder.job_id)
        .join(Range, Range.id == Job.range_id)
        .where(Task.done_share == 100, Task.done_at >= first, Task.done_at < after,
               TimeEntry.minutes.is_not(None))
        .group_by(
            Task.id, Task.name, Task.station, Task.minutes_low, Task.minutes_likely, Task.minutes_high,
            WorkOrder.job_id, Range.id, Range.number, TimeEntry.staff_id, Staff.name,
        )
        .order_by(Task.id, TimeEntry.staff_id)
    )  # fmt: skip
    return session.execute(query).all()
