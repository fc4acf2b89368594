"""One task's cost in every draw: unit minutes, parts and outwork, each from its own stream."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from shopdesk.domain.catalogue.model import Task
from shopdesk.domain.estimate.pert import Floats, draw, table_of, table_of_all
from shopdesk.domain.estimate.streams import Places, Streams

Sum = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class UnitCost:
    """A task done once, in every draw: minutes, and cents of parts and outwork per piece.

    `fixed` are cents of parts that do not grow with the count. Zero where there is nothing.
    """

    minutes: Floats
    parts: Floats
    fixed: Floats
    outwork: Floats


_NONE: Floats = np.zeros(1, dtype=np.float32)


def unit_cost(task: Task, streams: Streams, at: Places | None = None) -> UnitCost:
    """Draws of one task; the parts of a task rise and fall together."""
    growing = [p.each.times(p.count) for p in task.parts if p.per_extent]
    fixed = [p.each.times(p.count) for p in task.parts if not p.per_extent]
    price = streams.scores(f"parts {task.code}", at) if task.parts else _NONE
    return UnitCost(
        minutes=draw(table_of(task.minutes), streams.scores(f"minutes {task.code}", at)),
        parts=draw(table_of_all(growing), price) if growing else _NONE,
        fixed=draw(table_of_all(fixed), price) if fixed else _NONE,
        outwork=_outwork(task, streams, at),
    )


def _outwork(task: Task, streams: Streams, at: Places | None) -> Floats:
    if task.outwork is None:
        return _NONE
    return draw(table_of(task.outwork.each), streams.scores(f"outwork {task.code}", at))


@dataclass(slots=True, eq=False)
class Totals:
    """Sums over tasks in every draw: minutes, and cents of labour, parts and outwork."""

    minutes: Sum
    parts: Sum
    outwork: Sum
    cents_per_minute: float

    @classmethod
    def empty(cls, draws: int, cents_per_hour: int) -> "Totals":
        return cls(np.zeros(draws), np.zeros(draws), np.zeros(draws), cents_per_hour / 60)

    @property
    def labour(self) -> Sum:
        return self.minutes * self.cents_per_minute

    @property
    def cost(self) -> Sum:
        return self.minutes * self.cents_per_minute + self.parts + self.outwork

    def add(
        self, unit: UnitCost, times: Floats | float, at: Places | None = None, *, more: bool = False
    ) -> Sum:
        """Add a task done `times` in all draws, or in those `at`; returns the cents added.

        `more`: the task is on the order already, so that its fixed parts are not added again.
        """
        minutes = np.float64(1) * unit.minutes * times
        parts = np.float64(1) * unit.parts * times + (0 if more else unit.fixed)
        outwork = np.float64(1) * unit.outwork * times
        where = slice(None) if at is None else at
        self.minutes[where] += minutes
        self.parts[where] += parts
        self.outwork[where] += outwork
        added: Sum = minutes * self.cents_per_minute + parts + outwork
        return added
