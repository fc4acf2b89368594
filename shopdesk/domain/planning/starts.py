"""Many starts: list scheduling again and again from ranks drawn around the rules and the best so far.

First fresh draws around the rules, then walks from the best plan found (some ranges are
moved forward or back in the queue). Needs nothing but Python; a plan is never lost.
"""

import random
from collections.abc import Callable

from shopdesk.domain.planning.instance import Cost
from shopdesk.domain.planning.net import Draft
from shopdesk.domain.planning.rules import SINGLE_RULES, Rank, latest_start
from shopdesk.domain.planning.serial import Scheduler

FRESH = 40
"""Draws around the rules before walking from the best begins."""

_PUSHES = (10.0, 40.0, 120.0)
"""Slots (as a standard deviation) by which a range is pushed in the queue."""

_SHARES = (0.03, 0.1, 0.3)
"""Shares of the ranges that a walk pushes at once."""


class Best:
    """The best plan so far, its cost, the rank it came from and the search that found it."""

    def __init__(self, scheduler: Scheduler) -> None:
        self.scheduler = scheduler
        self.net = scheduler.net
        self.rank: Rank = []
        self.draft = Draft([], [])
        self.cost: Cost | None = None
        self.found_by = ""

    def offer(self, draft: Draft, rank: Rank, found_by: str) -> bool:
        """Keep a draft that is at least as good; True when it is better."""
        cost = self.net.cost(draft)
        if self.cost is not None and cost > self.cost:
            return False
        better = self.cost is None or cost < self.cost
        self.draft, self.rank, self.cost = draft, rank, cost
        if better:
            self.found_by = found_by
        return better

    def offer_same(self, draft: Draft, rank: Rank) -> bool:
        """Keep a draft as good as the best under the best's name; False when it is worse."""
        if self.cost is None or self.net.cost(draft) > self.cost:
            return False
        self.offer(draft, rank, self.found_by)
        return True

    def try_rank(self, rank: Rank, found_by: str) -> bool:
        """Offer the plan that follows from a rank, if there is one."""
        draft = self.scheduler.run_below(self.scheduler.in_order(rank), None)
        return draft is not None and self.offer(draft, rank, found_by)


def by_single_rules(best: Best, told: Callable[[], None]) -> None:
    """The four rules, one plan each; DoesNotFit when none of them comes to a plan."""
    for name, rule in SINGLE_RULES.items():
        if best.try_rank(rule(best.net), name):
            told()
    if best.cost is None:
        raise best.scheduler.misfit
    best.scheduler.fit_horizon(best.draft)


def many_starts(
    best: Best, draw: random.Random, go_on: Callable[[int], bool], told: Callable[[], None]
) -> None:
    """Draw plans while `go_on(starts so far)` says so; `told` is called after each better one."""
    net = best.net
    bases = [rule(net) for rule in SINGLE_RULES.values()] + [latest_start(net)]
    count = 0
    while go_on(count):
        if count < FRESH:
            rank = _pushed(draw, draw.choice(bases), net.range_of, 1.0)
        else:
            source = best.rank if draw.random() < 0.7 else [float(s) for s in best.draft.start]
            rank = _pushed(draw, source, net.range_of, draw.choice(_SHARES))
            if draw.random() < 0.3:
                rank = [x + draw.gauss(0, 30) if draw.random() < 0.05 else x for x in rank]
        if best.try_rank(rank, "many starts"):
            told()
        count += 1


def _pushed(draw: random.Random, rank: Rank, range_of: list[int], share: float) -> Rank:
    """A rank in which some ranges, and in a shop of few ranges some tasks, change their turn."""
    push = draw.choice(_PUSHES)
    ranges = max(range_of, default=-1) + 1
    moved = [draw.gauss(0, push) if draw.random() < share else 0.0 for _ in range(ranges)]
    if ranges < 8:
        spread = push / 10
        return [x + moved[r] + draw.gauss(0, spread) for x, r in zip(rank, range_of, strict=True)]
    return [x + moved[r] for x, r in zip(rank, range_of, strict=True)]
