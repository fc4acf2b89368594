"""Plan anew after a change, with as little moved for everybody else as can be."""

import random
import time
from collections.abc import Callable, Collection

from shopdesk.domain.planning.improve import choose_ranges
from shopdesk.domain.planning.instance import Instance, Plan
from shopdesk.domain.planning.net import Draft, Net
from shopdesk.domain.planning.obstacles import no_place_for, obstacles
from shopdesk.domain.planning.repair import comes_loose, repaired
from shopdesk.domain.planning.serial import DoesNotFit, Scheduler
from shopdesk.domain.problem import Problem

KEEP = 0.9
"""Share of the tasks the change does not touch that keep their person and their half-day."""

_LOOSENED = 6
"""Times that what begins too early is set free as well before a move is given up."""


def plan_again(
    instance: Instance,
    *,
    touched: Collection[str] = (),
    keep: float = KEEP,
    seconds: float = 2.0,
    stop: Callable[[], bool] = lambda: False,
    progress: Callable[[Plan], None] = lambda _: None,
    seed: int = 1,
    clock: Callable[[], float] = time.monotonic,
) -> Plan:
    """Today's instance planned close to `instance.yesterday`; Problem as in `solve.plan`.

    `touched` names the tasks the change itself is about (the late piece, the task that grew).
    Of all others in yesterday's plan, at most a share of 1 - `keep` may go to another person
    or move by more than half a day, unless every repair found needs more; within that,
    lateness goes first.
    """
    if not instance.yesterday:
        raise Problem("There is no plan yet to keep to. Make a plan first.")
    for obstacle in obstacles(instance):
        raise obstacle.problem()
    until = clock() + seconds
    search = _Close(instance, touched, keep)
    try:
        search.repair()
    except DoesNotFit as misfit:
        raise no_place_for(instance, instance.tasks[misfit.task]).problem() from None
    progress(search.plan())
    search.improve(random.Random(seed), lambda: clock() < until and not stop(), progress)
    return search.plan()


class _Close:
    """The search among plans close to yesterday's; `draft` is the best of them so far."""

    def __init__(self, instance: Instance, touched: Collection[str], keep: float) -> None:
        self.net = Net(instance)
        self.scheduler = Scheduler(self.net)
        self.others = [
            i for i, was in enumerate(self.net.before) if was and instance.tasks[i].id not in touched
        ]
        self.most = int(len(self.others) * (1 - keep))
        self.draft = Draft([], [])
        self.found_by = "repair"

    def worth(self, draft: Draft) -> tuple[int, int, int, int]:
        """Less is better: changes beyond what is allowed, then the cost."""
        cost = self.net.cost(draft)
        changes = sum(self.net.changed(i, draft.start[i], draft.person[i]) for i in self.others)
        return max(0, changes - self.most), cost.lateness, cost.changes, cost.finish

    def repair(self) -> None:
        self.draft = repaired(self.scheduler)
        self.now = self.worth(self.draft)

    def improve(
        self, draw: random.Random, time_left: Callable[[], bool], progress: Callable[[Plan], None]
    ) -> None:
        """Put a late range and a few beside it down again, everything else staying where it is."""
        while time_left() and (self.now[0] or self.now[1] > self.net.least):
            draft = self._neighbour(draw)
            worth = self.worth(draft) if draft is not None else self.now
            if draft is not None and worth <= self.now:
                better = worth < self.now
                self.draft, self.now = draft, worth
                if better:
                    self.found_by = "repair and moves around it"
                    progress(self.plan())

    def _neighbour(self, draw: random.Random) -> Draft | None:
        """A late range put back in its turn, others beside it put down again; None when all comes loose."""
        net, start = self.net, self.draft.start
        ranges = choose_ranges(net, self.draft, draw, draw.choice((1, 1, 2, 3, 4)))
        since = draw.choice([start[i] for i in net.members[ranges[0]]]) - draw.choice((0, 8, 40))
        freed = {i for r in ranges for i in net.members[r] if start[i] >= since and net.pin[i] is None}
        if draw.random() < 0.6:
            until = since + draw.choice((16, 48, 96))
            freed |= {i for i in range(net.size) if since <= start[i] < until and net.pin[i] is None}
        push = {r: draw.gauss(0, draw.choice((4, 16, 60))) for r in ranges[1:]}
        rank = [float(s) for s in start]
        for i in freed:
            was, r = net.before[i], net.range_of[i]
            if r == ranges[0]:
                rank[i] = min(rank[i], was[0] if was else net.latest[i]) + draw.choice((0, -8, -40))
            else:
                rank[i] += push.get(r, 0.0)
        queue = self.scheduler.queue(self.scheduler.in_order(rank))
        kept = {
            i: (start[i], self.draft.person[i])
            for i in range(net.size)
            if i not in freed and net.pin[i] is None
        }
        for _ in range(_LOOSENED):
            try:
                draft = self.scheduler.around(kept, queue)
            except DoesNotFit:
                return None
            loose = comes_loose(net, draft, kept)
            if not loose:
                return draft
            for i in loose:
                del kept[i]
        return None

    def plan(self) -> Plan:
        return self.net.plan(self.draft, self.found_by, self.net.least)
