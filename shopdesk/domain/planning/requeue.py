"""Neighbourhoods in the queue: move a few ranges forward or back and list-schedule again.

A step takes the current rank, pushes one to five ranges (late ones more often), or lets two
change places, and keeps the result when it is no worse. This is what brings lateness down
when there are too many ranges for one constraint model.
"""

import random
from collections.abc import Callable, Sequence

from shopdesk.domain.planning.net import Draft, Net
from shopdesk.domain.planning.rules import Rank
from shopdesk.domain.planning.starts import Best

_HOW_MANY = (1, 1, 2, 3, 5)
_PUSHES = (10.0, 40.0, 120.0)
"""Slots (as a standard deviation) by which a range is pushed."""


class Queue:
    """The rank now walked from; it may stand beside the best plan when the model found that one."""

    def __init__(self, best: Best, draw: random.Random) -> None:
        self.best, self.net, self.draw = best, best.net, draw
        self.rank = best.scheduler.in_order(best.rank)
        self.steps_in_vain = 0
        self._stand_at(best.draft)
        self.take_over()

    def take_over(self) -> None:
        """Walk on from the best plan: from its own order of starts if that gives it again."""
        best = self.best
        order = [float(start) for start in best.draft.start]
        packed = best.scheduler.run_below(best.scheduler.in_order(order), None)
        if packed is not None and best.offer_same(packed, order):
            self.rank = best.scheduler.in_order(order)
            self._stand_at(packed)

    def _stand_at(self, draft: Draft) -> None:
        self.cost = self.net.cost(draft)
        self.finishes = self.net.finishes(draft)

    def walk(self, go_on: Callable[[int], bool], told: Callable[[], None]) -> None:
        """Step while `go_on(steps so far)`; `told` after each plan better than the best."""
        count = 0
        while go_on(count):
            count += 1
            self.steps_in_vain += 1
            rank = self._neighbour()
            draft = self.best.scheduler.run_below(rank, self.cost.lateness)
            if draft is None:
                continue
            cost = self.net.cost(draft)
            if cost <= self.cost:
                self.rank = rank
                self._stand_at(draft)
                if self.best.offer(draft, rank, "moves in the queue"):
                    self.steps_in_vain = 0
                    told()

    def _neighbour(self) -> Rank:
        draw, ranges = self.draw, len(self.net.due)
        if ranges > 1 and draw.random() < 0.3:
            moved = self._swapped()
        else:
            moved = self._pushed()
        rank = [x + moved.get(r, 0.0) for x, r in zip(self.rank, self.net.range_of, strict=True)]
        if draw.random() < 0.2 or ranges == 1:
            return self.best.scheduler.in_order(
                [x + draw.gauss(0, 40) if draw.random() < 0.02 else x for x in rank]
            )
        return self.best.scheduler.in_order(rank) if self.net.crosses else rank

    def _swapped(self) -> dict[int, float]:
        a, b = self.draw.sample(range(len(self.net.due)), 2)
        gap = _mean(self.rank, self.net, b) - _mean(self.rank, self.net, a)
        return {a: gap, b: -gap}

    def _pushed(self) -> dict[int, float]:
        draw, ranges = self.draw, len(self.net.due)
        push = draw.choice(_PUSHES)
        chosen = draw.sample(range(ranges), min(ranges, draw.choice(_HOW_MANY)))
        moved = {r: draw.gauss(0, push) for r in chosen}
        late = [self.net.late(r, finish) for r, finish in enumerate(self.finishes)]
        if any(late) and draw.random() < 0.5:
            moved[draw.choices(range(ranges), late)[0]] = -abs(draw.gauss(0, push))
        return moved


def _mean(rank: Sequence[float], net: Net, r: int) -> float:
    members = net.members[r]
    return sum(rank[i] for i in members) / max(1, len(members))
