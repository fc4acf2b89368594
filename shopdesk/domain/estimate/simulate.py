"""The simulation: every task of an order and every finding that may turn up, in 20,000 draws.

In each draw the work is what is known plus what turns up there, merged as on a work order:
a task is done once however many call for it, pieces are summed. So a draw never gets
dearer by learning that something is sound, nor cheaper by finding something.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from shopdesk.domain.answers import Look
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Catalogue, Figures, Scope, Task
from shopdesk.domain.estimate.lines import Sum, Totals, unit_cost
from shopdesk.domain.estimate.pert import Floats
from shopdesk.domain.estimate.streams import Places, Streams
from shopdesk.domain.estimate.unknown import Unknown, unknowns
from shopdesk.domain.work.demand import Call, Tally, calls, count, most
from shopdesk.domain.work.order import ROUTINE, Cause
from shopdesk.domain.work.plan import order_roots
from shopdesk.domain.work.roots import Root, finding_root, stops_work


@dataclass(slots=True, eq=False)
class Ask:
    """All calls for one task: of the known roots, and of findings that may turn up."""

    tally: Tally = field(default_factory=Tally)
    known: list[tuple[Root, int]] = field(default_factory=list)
    maybe: list[tuple[Unknown, int]] = field(default_factory=list)


@dataclass(slots=True, eq=False)
class Simulation:
    """What came out: totals, each cause's cents, and findings no work of this scope puts right.

    `by_root` holds cents in every draw; `by_unknown` the cents in the draws in which the
    finding turns up. `left` are findings that may turn up and would be left as they are.
    """

    totals: Totals
    by_root: dict[Cause, Sum]
    by_unknown: dict[str, tuple[Unknown, Sum]]
    left: list[Unknown]


def simulate(
    catalogue: Catalogue,
    look: Look,
    scope: Scope,
    figures: Figures,
    streams: Streams,
    *,
    bare: bool = False,
    doubts: Sequence[Unknown] | None = None,
    cents_per_hour: int | None = None,
) -> Simulation:
    """Draw an order's cost; `doubts` may be passed when they were drawn before."""
    if doubts is None:
        doubts = unknowns(catalogue, look, figures, streams)
    build = look.build
    rate = figures.cost_per_hour if cents_per_hour is None else cents_per_hour
    done = Simulation(Totals.empty(streams.draws, rate), {}, {}, [])
    asks: dict[str, Ask] = {}
    for root in order_roots(catalogue, build, look.answers, scope, bare):
        for code, call in calls(catalogue, build, root).items():
            ask = asks.setdefault(code, Ask())
            ask.tally.add(root, call)
            ask.known.append((root, call.pieces))
    for doubt, called in _may_call(catalogue, build, scope, bare, doubts, done):
        for code, call in called.items():
            asks.setdefault(code, Ask()).maybe.append((doubt, call.pieces))
    for task in catalogue.tasks.values():  # one fixed order of adding: sums stay comparable
        if task.code in asks:
            _add_task(task, build, asks[task.code], done, streams)
    return done


def _may_call(
    catalogue: Catalogue, build: Build, scope: Scope, bare: bool, doubts: Sequence[Unknown], done: Simulation
) -> list[tuple[Unknown, dict[str, Call]]]:
    called = []
    for doubt in doubts:
        root = finding_root(doubt.finding, scope)
        if root is None or (bare and not stops_work(catalogue, doubt.finding)):
            done.left.append(doubt)
        elif doubt.at.size:
            done.by_unknown[doubt.finding.code] = (doubt, np.zeros(doubt.at.size))
            called.append((doubt, calls(catalogue, build, root)))
    return called


def _add_task(task: Task, build: Build, ask: Ask, done: Simulation, streams: Streams) -> None:
    if not ask.known:
        _add_maybe(task, build, ask, done, streams)
        return
    known = count(build, task, ask.tally.routine, ask.tally.found)
    unit = unit_cost(task, streams)
    cents = done.totals.add(unit, float(known))
    _share_known(task, build, ask, known, cents, done)
    if ask.maybe and task.per and known < most(build, task):
        extra = _pieces(task, build, ask, streams.draws) - known
        places = np.flatnonzero(extra > 0)
        unit = unit_cost(task, streams, places)
        _share_maybe(ask, places, done.totals.add(unit, extra[places], places, more=True), done)


def _add_maybe(task: Task, build: Build, ask: Ask, done: Simulation, streams: Streams) -> None:
    """A task only findings that may turn up call for: drawn only where one of them does."""
    times = _pieces(task, build, ask, streams.draws)
    places = np.flatnonzero(times > 0)
    if places.size:
        cents = done.totals.add(unit_cost(task, streams, places), times[places], places)
        _share_maybe(ask, places, cents, done)


def _pieces(task: Task, build: Build, ask: Ask, draws: int) -> Floats:
    """How often a task is done in each draw; 0 where nothing calls for it."""
    found = np.full(draws, ask.tally.found, dtype=np.float32)
    called = np.full(draws, bool(ask.known))
    for doubt, number in ask.maybe:
        found[doubt.at] += number
        called[doubt.at] = True
    times = np.clip(found, max(1, ask.tally.routine), most(build, task))
    times[~called] = 0
    return times


def _share_known(task: Task, build: Build, ask: Ask, known: int, cents: Sum, done: Simulation) -> None:
    """Routine bears what it would cost alone; the rest is shared by the findings' pieces."""
    routine = [root for root, _ in ask.known if root.routine]
    found = [(root.cause, max(1, number)) for root, number in ask.known if not root.routine]
    left = 1.0
    if routine:
        left = 1.0 - count(build, task, ask.tally.routine, 0) / known
        _bear(done.by_root, ROUTINE, cents * (1.0 - left))
    whole = sum(number for _, number in found)
    for cause, number in found:
        _bear(done.by_root, cause, cents * (left * number / whole))


def _bear(borne: dict[Cause, Sum], cause: Cause, cents: Sum) -> None:
    borne[cause] = borne[cause] + cents if cause in borne else cents


def _share_maybe(ask: Ask, places: Places, cents: Sum, done: Simulation) -> None:
    """What turned up shares in each draw what it made dearer there."""
    weights = np.zeros(done.totals.minutes.size)
    for doubt, number in ask.maybe:
        weights[doubt.at] += max(1, number)
    per_weight = np.zeros(done.totals.minutes.size)
    per_weight[places] = cents / weights[places]
    for doubt, number in ask.maybe:
        done.by_unknown[doubt.finding.code][1][:] += per_weight[doubt.at] * max(1, number)
