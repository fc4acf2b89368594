"""A large shop: all of it by list scheduling, the nearest weeks by the solver as well.

Beyond some hundred and thirty ranges the search over all of them is still gaining by moves in the queue
when its time is up, and never comes to ask the solver. What is finished next is known best
and is looked at first: after most of the time the queue stands, and the solver goes over
the ranges that are finished next, a few at a time with those worked on beside them, while
all others stay where they are. Planned again another day, the weeks gone over have moved on.
"""

import random
import time
from collections.abc import Callable

from shopdesk.domain.planning import model
from shopdesk.domain.planning.improve import ROUND_EFFORT, ROUND_SECONDS, neighbourhood, neighbourhood_run
from shopdesk.domain.planning.instance import Instance, Plan
from shopdesk.domain.planning.net import Draft, Net
from shopdesk.domain.planning.solve import plan

LARGE_TASKS = 4000
"""Tasks (some hundred and thirty ranges) beyond which the nearest weeks are gone over apart."""
NEAREST = 30
"""Ranges finished next that the solver goes over."""
_WHOLE_SHARE = 0.85
"""Share of the time for the list scheduling of the whole shop."""
_FOUND_BY = "the nearest weeks by the solver"


def plan_rolling(
    instance: Instance,
    *,
    seconds: float,
    stop: Callable[[], bool] = lambda: False,
    progress: Callable[[Plan], None] = lambda _: None,
    seed: int = 1,
    workers: int = 2,
    nearest: int = NEAREST,
    clock: Callable[[], float] = time.monotonic,
) -> Plan:
    """As `solve.plan`, for a shop too large for the solver to be of use all over."""
    until = clock() + seconds
    with_model = model.available()
    share = _WHOLE_SHARE if with_model else 1.0
    best = plan(
        instance, seconds=seconds * share, stop=stop, progress=progress, seed=seed, workers=workers,
        clock=clock,
    )  # fmt: skip
    net, draw = Net(instance), random.Random(seed)
    draft, count = net.draft(best), 0
    while with_model and clock() < until and not stop() and not best.proven:
        count += 1
        run = neighbourhood_run(
            net, draft, neighbourhood(net, draft, draw, next_finished(net, draft, nearest)),
            seconds=min(ROUND_SECONDS, until - clock()), workers=workers, seed=seed * 10_000 + count,
            effort=ROUND_EFFORT * workers,
        ).wait(lambda: stop() or clock() >= until, lambda _: None)  # fmt: skip
        if run.found and net.cost(run.found[-1]) < best.cost:
            draft = run.found[-1]
            best = net.plan(draft, _FOUND_BY, best.least_lateness)
            progress(best)
    return best


def next_finished(net: Net, draft: Draft, count: int) -> list[int]:
    """The ranges whose work is over first."""
    finish = net.finishes(draft)
    busy = [r for r, members in enumerate(net.members) if members]
    return sorted(busy, key=lambda r: (finish[r], r))[:count]
