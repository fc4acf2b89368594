"""A plan lived through once: people take the work as it comes free, in the order planned.

Whoever is free takes the first of their own planned tasks that can begin; with none of
theirs ready they take another's that they may do. Nobody knows how long a task will last.
A task stops while its person is away and goes on when they are back; it keeps its station
meanwhile. Times are slots, whole or not.
"""

import heapq
from bisect import bisect_left, bisect_right
from collections.abc import Sequence

from shopdesk.domain.planning.instance import Plan, Span
from shopdesk.domain.planning.model import joined
from shopdesk.domain.planning.net import Net

Ready = list[tuple[int, int]]
"""A heap of (turn, task)."""


class Floor:
    """One shop and its plan; `live` runs it for one set of lengths."""

    def __init__(self, net: Net, plan: Plan) -> None:
        self.net = net
        draft = net.draft(plan)
        order = {i: n for n, i in enumerate(net.order)}
        queue = sorted(net.order, key=lambda i: (draft.start[i], order[i]))
        self.turn = [0] * net.size
        for n, i in enumerate(queue):
            self.turn[i] = n
        self.planned = draft.person
        self.away = [joined(off) for off in net.off]
        self.shut = [joined(off) for off in net.closed]
        self.may = [set[int](who) for who in net.eligible]
        self.earliest = [
            max(net.earliest[i], net.pin[i] or 0) if net.pin[i] is not None else net.earliest[i]
            for i in range(net.size)
        ]

    def live(self, lengths: Sequence[float]) -> list[float]:
        """When each task ends, given how many slots of work or waiting each really takes."""
        return _Day(self, lengths).run()


class _Day:
    """The state of the shop while one set of lengths is lived through."""

    def __init__(self, floor: Floor, lengths: Sequence[float]) -> None:
        self.floor, self.net, self.lengths = floor, floor.net, lengths
        net = self.net
        self.end = [0.0] * net.size
        self.missing = [len(before) for before in net.preds]
        self.own: list[Ready] = [[] for _ in net.off]
        self.unmanned: Ready = []
        self.waiting = [False] * net.size
        self.idle = set(range(len(net.off)))
        self.room = list(net.capacity)
        self.hand: dict[int, int] = {}
        self.looks: set[float] = set()
        # What happens next: (time, 0 a task comes free | 1 a task ends | 2 look again, number).
        self.events: list[tuple[float, int, int]] = []
        for i in net.order:
            if not self.missing[i]:
                self._announce(i)

    def run(self) -> list[float]:
        events = self.events
        while events:
            now = events[0][0]
            while events and events[0][0] <= now:
                _, kind, i = heapq.heappop(events)
                if kind == 0:
                    self._comes_free(i)
                elif kind == 1:
                    self._ends(i, now)
            self._take_up(now)
        return self.end

    def _announce(self, i: int) -> None:
        begin = float(self.floor.earliest[i])
        for j, lag in self.net.preds[i]:
            begin = max(begin, self.end[j] + lag)
        days = self.net.starts[i]
        if days is not None:
            place = bisect_left(days, begin)
            begin = float(days[place]) if place < len(days) else begin
        heapq.heappush(self.events, (begin, 0, i))

    def _comes_free(self, i: int) -> None:
        self.waiting[i] = True
        turn = (self.floor.turn[i], i)
        if self.net.eligible[i]:
            heapq.heappush(self.own[self.floor.planned[i]], turn)
        else:
            heapq.heappush(self.unmanned, turn)

    def _ends(self, i: int, now: float) -> None:
        self.end[i] = now
        if self.net.eligible[i]:
            self.idle.add(self.hand[i])
        for station, amount in self.net.uses[i]:
            self.room[station] += amount
        for j, _ in self.net.succs[i]:
            self.missing[j] -= 1
            if not self.missing[j]:
                self._announce(j)

    def _take_up(self, now: float) -> None:
        """Begin everything that can begin now."""
        while (i := self._first(self.unmanned, -1, now)) is not None:
            self._begin(i, -1, now)
        for person in sorted(self.idle):
            back = _back(self.floor.away[person], now)
            if back > now:
                self._look_again(back)
                continue
            task = self._for(person, now)
            if task is not None:
                self._begin(task, person, now)

    def _for(self, person: int, now: float) -> int | None:
        """What an idle person takes up: their own first, else the first of another's they may do."""
        task = self._first(self.own[person], person, now)
        if task is not None:
            return task
        found: tuple[int, int] | None = None
        for other, ready in enumerate(self.own):
            if other != person and ready:
                i = self._first(ready, person, now)
                if i is not None and (found is None or self.floor.turn[i] < found[0]):
                    found = (self.floor.turn[i], i)
        return found[1] if found else None

    def _first(self, ready: Ready, person: int, now: float) -> int | None:
        """The first ready task this person may do and whose stations have room."""
        while ready and not self.waiting[ready[0][1]]:
            heapq.heappop(ready)
        if ready and self._can(ready[0][1], person, now):
            return ready[0][1]
        able = [entry for entry in ready if self.waiting[entry[1]] and self._can(entry[1], person, now)]
        return min(able)[1] if able else None

    def _can(self, i: int, person: int, now: float) -> bool:
        if person >= 0 and person not in self.floor.may[i]:
            return False
        for other in self.net.tied.get(self.net.leader[i], ()):
            if other in self.hand and self.hand[other] != person:
                return False
        for station, amount in self.net.uses[i]:
            back = _back(self.floor.shut[station], now)
            if back > now:
                self._look_again(back)
                return False
            if self.room[station] < amount:
                return False
        return True

    def _look_again(self, at: float) -> None:
        """When someone or some station is back, see what can begin."""
        if at not in self.looks:
            self.looks.add(at)
            heapq.heappush(self.events, (at, 2, -1))

    def _begin(self, i: int, person: int, now: float) -> None:
        self.waiting[i] = False
        end = now + self.lengths[i]
        if person >= 0:
            self.hand[i] = person
            self.idle.discard(person)
            end = _worked_until(self.floor.away[person], now, self.lengths[i])
        for station, amount in self.net.uses[i]:
            self.room[station] -= amount
        heapq.heappush(self.events, (end, 1, i))


def _back(away: Sequence[Span], now: float) -> float:
    """`now`, or when the stretch away it falls in is over."""
    place = bisect_right(away, now, key=lambda span: span[0]) - 1
    return max(now, float(away[place][1])) if place >= 0 else now


def _worked_until(away: Sequence[Span], now: float, length: float) -> float:
    """When work begun at `now` has lasted `length`, stretches away not counted."""
    end = now + length
    for first, last in away[bisect_left(away, now, key=lambda span: span[0]) :]:
        if first >= end:
            break
        end += last - first
    return end
