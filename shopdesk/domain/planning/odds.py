"""How likely a range is ready by a date: the plan lived through many times.

Each draw takes
- handwork: beta-PERT between a task's three points times `hours_factor`, the tasks of one
  range together by a one-factor Gaussian copula (any two correlate by `correlation`), each
  range with a factor of its own;
- outwork and other waiting: beta-PERT between its three points, each alone;
- doubt: how far hours, waits and surprises are off for all ranges alike, where the shop's own
  record cannot tell yet (`hours_doubt`, `wait_doubt`: lognormal; `surprises_doubt`: gamma);
- surprises: a Poisson number for each range, `surprises_per_range` for a whole job and less
  by the share of its handwork already done, each a beta-PERT length added to one of its
  handwork tasks at random, in proportion to the task's likely length;
and lets the shop work through the plan with them (`floor`). Scores come from named streams:
a range's own draws stay the same whatever else is in the shop, so two plans are compared on
the same luck. The chosen odds hold as far as the assumptions do: keep them with the promise.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from shopdesk.domain.estimate.pert import draw, table_of
from shopdesk.domain.estimate.streams import Streams, stream_seed
from shopdesk.domain.money import Spread
from shopdesk.domain.planning.calendar import SLOT_MINUTES
from shopdesk.domain.planning.floor import Floor
from shopdesk.domain.planning.instance import Instance, Plan
from shopdesk.domain.planning.net import Net
from shopdesk.domain.problem import Problem

Slots = npt.NDArray[np.float32]


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumptions:
    """What the odds rest on. The figures are judgement until the shop has its own; no source."""

    draws: int = 400
    seed: int = 1
    correlation: float = 0.3
    hours_factor: float = 1.0
    surprises_per_range: float = 1.0
    hours_doubt: float = 0.0
    wait_doubt: float = 0.0
    surprises_doubt: float = 0.0
    """How unsure the shop is of its own figures: the relative spread of what hours, waits and surprises
    come to over all ranges alike. A shop that knows its record has none."""
    surprise: Spread = field(default_factory=lambda: Spread(60, 180, 720))
    """Minutes of one surprise, three points."""

    def __post_init__(self) -> None:
        if self.draws < 1:
            raise Problem("Odds need at least one draw, not {draws}.", draws=self.draws)
        if not 0 <= self.correlation <= 1:
            raise Problem(
                "How tasks of a range hang together goes from 0 to 1, not {value}.", value=self.correlation
            )
        if self.hours_factor <= 0 or self.surprises_per_range < 0:
            raise Problem("Hours and surprises cannot be less than nothing.")
        if not all(0 <= each <= 1 for each in (self.hours_doubt, self.wait_doubt, self.surprises_doubt)):
            raise Problem("How unsure the figures are goes from 0 to 1.")


@dataclass(frozen=True, slots=True)
class Driver:
    """A task whose length moves a range's end, and how strongly (correlation, 0 to 1)."""

    task: str
    strength: float


class Outlook:
    """When each range is finished, in every draw."""

    def __init__(self, instance: Instance, ends: Slots, lengths: Slots, assumptions: Assumptions) -> None:
        self.assumptions = assumptions
        self._column = {each.id: r for r, each in enumerate(instance.ranges)}
        self._tasks = instance.tasks
        self._ends, self._lengths = ends, lengths

    def ends(self, range_id: str) -> Slots:
        """The slot after the last work on the range, a figure a draw."""
        found: Slots = self._ends[:, self._column[range_id]]
        return found

    def ready_by(self, range_id: str, odds: float) -> int:
        """The first slot by which the range is finished in at least this share of draws."""
        return int(np.ceil(np.quantile(self.ends(range_id), odds, method="higher") - 1e-4))

    def odds_by(self, range_id: str, slot: int) -> float:
        """The share of draws in which the range is finished by a slot (a due slot of `calendar`)."""
        return float(np.mean(self.ends(range_id) <= slot + 1e-4))

    def drivers(self, range_id: str, most: int = 3) -> tuple[Driver, ...]:
        """The tasks, of any range, whose lengths move this range's end most."""
        ends = self.ends(range_id).astype(np.float64)
        lengths = self._lengths.astype(np.float64)
        spread = lengths.std(axis=0) * ends.std()
        together = ((lengths - lengths.mean(axis=0)) * (ends - ends.mean())[:, None]).mean(axis=0)
        strength = np.divide(together, spread, out=np.zeros_like(together), where=spread > 1e-9)
        first = np.argsort(-strength, kind="stable")[:most]
        return tuple(Driver(self._tasks[i].id, float(strength[i])) for i in first if strength[i] > 0)


def outlook(
    instance: Instance,
    plan: Plan,
    spreads: Mapping[str, Spread],
    assumptions: Assumptions,
    *,
    work_done: Mapping[str, float] | None = None,
    stop: Callable[[], bool] = lambda: False,
) -> Outlook:
    """Live the plan through. `spreads`: minutes of a task or working minutes of a wait, by task id.

    Tasks without a spread last as planned. `work_done` is the share of each range's handwork
    already behind it. When `stop` says so, what was drawn so far counts (at least one draw).
    """
    net = Net(instance)
    lengths = lengths_drawn(instance, spreads, assumptions, work_done or {})
    floor = Floor(net, plan)
    rows: list[list[float]] = []
    for row in lengths:
        if rows and stop():
            break
        ends = floor.live(row.tolist())
        rows.append([max((ends[i] for i in members), default=0.0) for members in net.members])
    return Outlook(instance, np.array(rows, dtype=np.float32), lengths[: len(rows)], assumptions)


def lengths_drawn(
    instance: Instance,
    spreads: Mapping[str, Spread],
    assumptions: Assumptions,
    work_done: Mapping[str, float],
) -> Slots:
    """Slots each task takes: a row a draw, a column a task."""
    doubt = _Doubt(assumptions)
    lengths = np.empty((assumptions.draws, len(instance.tasks)), dtype=np.float32)
    columns: dict[str, list[int]] = {each.id: [] for each in instance.ranges}
    for i, task in enumerate(instance.tasks):
        columns[task.range_id].append(i)
    for each in instance.ranges:
        seed = stream_seed(assumptions.seed, each.id)
        streams = Streams(seed, assumptions.correlation, assumptions.draws)
        for i in columns[each.id]:
            lengths[:, i] = _length(instance, i, spreads, streams, assumptions)
            lengths[:, i] *= doubt.hours if instance.tasks[i].by_hand else doubt.waits
        by_hand = [i for i in columns[each.id] if instance.tasks[i].by_hand]
        if by_hand:
            left = 1.0 - min(1.0, max(0.0, work_done.get(each.id, 0.0)))
            _add_surprises(lengths, instance, by_hand, seed, left * doubt.surprises, assumptions)
    return lengths


class _Doubt:
    """What the shop's figures are off by in each draw, for all ranges alike; around 1."""

    def __init__(self, assumptions: Assumptions) -> None:
        luck = np.random.Generator(np.random.PCG64(stream_seed(assumptions.seed, "doubt")))
        scores = luck.standard_normal((2, assumptions.draws), dtype=np.float32)
        self.hours: Slots = np.exp(np.float32(assumptions.hours_doubt) * scores[0])
        self.waits: Slots = np.exp(np.float32(assumptions.wait_doubt) * scores[1])
        # A gamma around 1 makes the number of surprises negative binomial, as counts of unlike cases are.
        spread = max(assumptions.surprises_doubt, 1e-3) ** 2
        self.surprises = luck.gamma(1 / spread, spread, assumptions.draws).astype(np.float32)


def _length(
    instance: Instance, i: int, spreads: Mapping[str, Spread], streams: Streams, assumptions: Assumptions
) -> Slots:
    task = instance.tasks[i]
    spread = spreads.get(task.id)
    if spread is None:
        return np.full(assumptions.draws, task.slots, dtype=np.float32)
    scores = streams.scores(task.id) if task.by_hand else streams.apart(task.id)
    factor = assumptions.hours_factor if task.by_hand else 1.0
    drawn: Slots = draw(table_of(spread), scores) * np.float32(factor / SLOT_MINUTES)
    return drawn


def _add_surprises(
    lengths: Slots, instance: Instance, by_hand: list[int], seed: int, left: Slots, assumptions: Assumptions
) -> None:
    """What is found only at the bench: it makes the task longer at which it is found."""
    luck = np.random.Generator(np.random.PCG64(stream_seed(seed, "surprises")))
    counts = luck.poisson(assumptions.surprises_per_range * left)
    rows = np.repeat(np.arange(assumptions.draws), counts)
    weights = np.array([max(1, instance.tasks[i].slots) for i in by_hand], dtype=np.float64)
    where = luck.choice(np.array(by_hand), size=rows.size, p=weights / weights.sum())
    scores = luck.standard_normal(rows.size, dtype=np.float32)
    minutes = draw(table_of(assumptions.surprise), scores)
    np.add.at(lengths, (rows, where), minutes * np.float32(assumptions.hours_factor / SLOT_MINUTES))
