"""The critical path of a work order: what rules its length, and how much float the rest has.

Hands and stations are taken as unlimited; the bench calendar is another room's business.
"""

from collections.abc import Iterable

from shopdesk.domain.estimate.three_point import mean, variance
from shopdesk.domain.network import Activity, Network, time_network
from shopdesk.domain.work.order import PlannedTask, WorkOrder

BENCH_DAY = 480
"""Minutes at the bench that one day away at another trade is counted as."""


def activities(tasks: Iterable[PlannedTask], bench_day: int = BENCH_DAY) -> list[Activity]:
    """Tasks as activities in minutes: expected bench time plus expected days away."""
    return [_activity(task, bench_day) for task in tasks]


def _activity(task: PlannedTask, bench_day: int) -> Activity:
    length, spread = mean(task.minutes), variance(task.minutes)
    if task.outwork:
        length += mean(task.outwork.days) * bench_day
        spread += variance(task.outwork.days) * bench_day**2
    return Activity(task.code, length, task.after, spread)


def network_of(order: WorkOrder, bench_day: int = BENCH_DAY) -> Network:
    """Critical path and float of an order, in minutes; no limit on hands or stations."""
    return time_network(activities(order.tasks, bench_day))
