"""CP-SAT at work: a dozen ranges whole, or a few ranges at a time around the best plan.

The solver runs in a thread of its own (it lets Python run meanwhile); `stop` and `progress`
are only ever called from the caller's thread.
"""

import random
import threading
from collections.abc import Callable, Collection
from dataclasses import dataclass, field
from typing import Any

from shopdesk.domain.planning.model import Model, solver_module
from shopdesk.domain.planning.net import Draft, Net

_POLL_SECONDS = 0.02
NEIGHBOURS = 4
"""Ranges freed at a time; more are rarely solved within `ROUND_SECONDS` (measured)."""
ROUND_SECONDS = 1.0
ROUND_EFFORT = 1.0
"""The solver's own, machine-independent measure of one round (about a second)."""


@dataclass(slots=True)
class Run:
    """One solver run in a thread. `found` holds the plans in the order they came.

    `ways` are the solver's names of the searches it is to use; none: its own choice.
    """

    model: Model
    seconds: float
    workers: int
    seed: int
    effort: float | None = None
    ways: tuple[str, ...] = ()
    found: list[Draft] = field(default_factory=list)
    proven: bool = False
    bound: float = 0.0
    _solver: Any = None
    _thread: threading.Thread | None = None
    _failure: list[BaseException] = field(default_factory=list)

    def begin(self) -> "Run":
        cp = solver_module()
        self._solver = cp.CpSolver()
        settings = self._solver.parameters
        settings.max_time_in_seconds = max(0.05, self.seconds)
        settings.num_workers = self.workers
        settings.random_seed = self.seed % (1 << 30)
        settings.subsolvers.extend(self.ways)
        self._solver.best_bound_callback = self._raised
        if self.effort is not None:
            settings.max_deterministic_time = self.effort
        self._thread = threading.Thread(target=self._solve, args=(cp,), name="planner", daemon=True)
        self._thread.start()
        return self

    def _raised(self, bound: float) -> None:
        self.bound = bound

    def _solve(self, cp: Any) -> None:
        model, found = self.model, self.found

        class Keeper(cp.CpSolverSolutionCallback):  # type: ignore[misc]
            def on_solution_callback(self) -> None:
                found.append(model.read(self.value))

        try:
            status = self._solver.solve(model.model, Keeper())
            self.proven = status == cp.OPTIMAL
            self.bound = self._solver.best_objective_bound
        except BaseException as failure:  # handed to the caller's thread by `wait`
            self._failure.append(failure)

    @property
    def running(self) -> bool:
        return self._thread is not None and self._thread.is_alive()

    def wait(self, stop: Callable[[], bool], told: Callable[[Draft], None]) -> "Run":
        """Until the solver is done or `stop` says so; `told` gets each plan as it comes."""
        seen = 0
        assert self._thread is not None
        while self.running:
            self._thread.join(_POLL_SECONDS)
            while seen < len(self.found):
                told(self.found[seen])
                seen += 1
            if stop():
                self._solver.stop_search()
        for draft in self.found[seen:]:
            told(draft)
        if self._failure:
            raise self._failure[0]
        return self


def neighbourhood(
    net: Net, draft: Draft, draw: random.Random, among: Collection[int] | None = None
) -> set[int]:
    """The tasks of a few ranges that compete with each other; the first of them one of `among`."""
    return {i for r in choose_ranges(net, draft, draw, NEIGHBOURS, among) for i in net.members[r]}


def choose_ranges(
    net: Net, draft: Draft, draw: random.Random, count: int, among: Collection[int] | None = None
) -> list[int]:
    """A range, a late one by preference, and up to `count` - 1 that are worked on beside it."""
    allowed = range(len(net.due)) if among is None else among
    finishes = net.finishes(draft)
    late = [net.late(r, finish) if r in allowed else 0 for r, finish in enumerate(finishes)]
    busy = [r for r in allowed if net.members[r]]
    chosen = draw.choice(busy)
    if any(late) and draw.random() < 0.7:
        chosen = draw.choices(range(len(late)), late)[0]
    times = [draft.start[i] for i in net.members[chosen] if net.eligible[i] or net.uses[i]]
    if not times or count < 2:
        return [chosen]
    first, last = min(times), max(times)
    if draw.random() < 0.5:
        middle, reach = draw.choice(times), draw.choice((80, 160, 320))
        first, last = middle - reach, middle + reach
    shared: dict[int, int] = {}
    for i in range(net.size):
        r = net.range_of[i]
        if r != chosen and net.eligible[i] and first <= draft.start[i] <= last:
            shared[r] = shared.get(r, 0) + 1
    beside = sorted(shared, key=lambda r: (-shared[r] * draw.random(), r))
    return [chosen, *beside[: count - 1]]


def neighbourhood_run(
    net: Net,
    draft: Draft,
    free: Collection[int],
    *,
    seconds: float,
    workers: int,
    seed: int,
    effort: float | None = None,
) -> Run:
    """Lateness, then changes, then finish of the freed ranges, the rest kept where it is."""
    horizon = max(net.finishes(draft)) + 40
    model = Model(net, draft, free, horizon)
    finish_weight = len(net.due) * horizon + 1
    change_weight = len(model.free) + 1
    model.model.minimize(
        model.lateness * finish_weight * change_weight + model.changes * finish_weight + model.finish
    )
    return Run(model, seconds, workers, seed, effort).begin()
