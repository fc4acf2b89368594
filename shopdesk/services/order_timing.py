"""The critical path of a job's order and the float of its tasks, from what is left to do."""

from dataclasses import dataclass
from fractions import Fraction

import sqlalchemy as sa

from shopdesk.domain.estimate.critical import BENCH_DAY
from shopdesk.domain.estimate.three_point import mean, variance
from shopdesk.domain.money import Spread, round_half_up
from shopdesk.domain.network import Activity, Timing, time_network
from shopdesk.services import stages
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.stores import ConsignmentPiece
from shopdesk.storage.tables.work import Task


@dataclass(frozen=True, slots=True)
class TaskTiming:
    """A task in the network, whole minutes; `slack` is its total float. Hands are taken as unlimited."""

    task_id: int
    name: str
    length: int
    start: int
    finish: int
    latest_start: int
    slack: int
    critical: bool


@dataclass(frozen=True, slots=True)
class OrderTiming:
    """`path`: keys of the longest chain; `length`: minutes it takes, a day away as a bench day."""

    rows: tuple[TaskTiming, ...]
    path: tuple[int, ...]
    length: int


def order_timing(seat: Seat, job_id: int, *, left_only: bool = True) -> OrderTiming:
    """Critical path and float; `left_only` counts what is done as taking no more time."""
    with seat.look() as session:
        tasks = list(stages.tasks_of(session, job_id))
        returned = set(
            session.scalars(
                sa.select(ConsignmentPiece.task_id).where(
                    ConsignmentPiece.task_id.in_([t.id for t in tasks]), ConsignmentPiece.back_on.is_not(None)
                )
            )
        )
        network = time_network([_activity(t, left_only, t.id in returned) for t in tasks])
        rows = tuple(_row(t, network.timings[str(t.id)]) for t in tasks)
    return OrderTiming(rows, tuple(int(code) for code in network.path), round_half_up(network.length))


def _activity(task: Task, left_only: bool, returned: bool) -> Activity:
    """Expected bench minutes and days away; a share that is ticked is done."""
    minutes = Spread(task.minutes_low, task.minutes_likely, task.minutes_high)
    left = Fraction(100 - task.done_share, 100) if left_only else Fraction(1)
    length = mean(minutes) * left
    if task.outwork_days and not (left_only and (returned or task.done_share == 100)):
        length += task.outwork_days * BENCH_DAY
    after = tuple(str(a.after_task_id) for a in task.after)
    return Activity(str(task.id), length, after, variance(minutes) * left**2)


def _row(task: Task, timing: Timing) -> TaskTiming:
    start, finish = round_half_up(timing.start), round_half_up(timing.finish)
    return TaskTiming(
        task.id, task.name, round_half_up(timing.finish - timing.start), start, finish,
        round_half_up(timing.latest_start), round_half_up(timing.slack), timing.critical,
    )  # fmt: skip
