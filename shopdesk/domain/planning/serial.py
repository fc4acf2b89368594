"""List scheduling: take the tasks one by one by rank, put each where it fits first.

The serial generation scheme (Kelley 1963; Kolisch 1996 compares its rules): a task may be
taken once all it needs are placed, it is never moved again, and it may slip into a gap left
before others. A plan comes out in milliseconds. Pinned tasks are put down first.
"""

from collections.abc import Mapping, Sequence

from shopdesk.domain.planning.board import Board, run_starts
from shopdesk.domain.planning.net import Draft, Net

_LONGEST = 1 << 18
"""Slots after which looking further is pointless (about a lifetime at the bench)."""

_NOBODY = (-1,)


class DoesNotFit(Exception):
    """A task, by number, found no place. Turned into a sentence before it leaves this room."""

    def __init__(self, task: int) -> None:
        self.task = task
        super().__init__(f"task number {task} does not fit")


class Scheduler:
    """Turns a rank for every task (lowest first) into a plan, as often as asked."""

    def __init__(self, net: Net) -> None:
        self.net = net
        self.urgent: dict[int, int] = {}
        """Tasks that must hurry because a pinned one comes after them: number to latest start."""
        self.misfit = DoesNotFit(0)
        """Why the last try came to nothing."""
        self.rows = [
            (
                net.slots[i],
                net.earliest[i],
                net.preds[i],
                net.eligible[i],
                net.uses[i],
                self._is_plain(i),
                net.tail[i],
                net.range_of[i],
            )
            for i in range(net.size)
        ]
        self._lay_out(_first_horizon(net))

    def _is_plain(self, i: int) -> bool:
        net = self.net
        return (
            net.pin[i] is None
            and net.starts[i] is None
            and net.leader[i] not in net.tied
            and net.slots[i] > 0
        )

    def fit_horizon(self, draft: Draft) -> None:
        """Shorten the rows of bits to about what a plan needs: list scheduling gets faster."""
        last = max(
            (start + slots for start, slots in zip(draft.start, self.net.slots, strict=True)), default=0
        )
        if last * 5 // 4 < self.horizon:
            self._lay_out(last * 5 // 4)

    def _lay_out(self, horizon: int) -> None:
        """The empty shop up to a horizon, with its pinned tasks put down."""
        self.horizon = horizon
        self.board = Board.empty(self.net, horizon)
        self.pinned: dict[int, int] = {}
        self.hand: dict[int, int] = {}
        """Who does the pinned tasks, and so their further sittings."""
        for i in range(self.net.size):
            pin = self.net.pin[i]
            if pin is not None:
                self.pinned[i] = self._put_down(i, pin, self.hand)

    def _put_down(self, i: int, pin: int, hand: dict[int, int]) -> int:
        """Hold the place of a pinned task; with a choice of people, the first who is free does it."""
        net, board, leader = self.net, self.board, self.net.leader[i]
        mask = ((1 << net.slots[i]) - 1) << pin
        if mask & ~board.room(net.uses[i]):
            raise DoesNotFit(i)
        who = -1
        if net.eligible[i]:
            able = [p for p in net.eligible[i] if not mask & ~board.people[p] and hand.get(leader, p) == p]
            if not able:
                raise DoesNotFit(i)
            who = hand[leader] = able[0]
        board.take(pin, net.slots[i], who, net.uses[i])
        return who

    def run(self, rank: Sequence[float]) -> Draft:
        """The plan that follows from a rank; DoesNotFit when there is none this way."""
        draft = self.run_below(self.in_order(rank), None)
        if draft is None:
            raise self.misfit
        return draft

    def in_order(self, rank: Sequence[float]) -> list[float]:
        """The rank with no task before one that it needs."""
        ordered = list(rank)
        for i in self.net.order:
            for j, _ in self.net.preds[i]:
                if ordered[j] > ordered[i]:
                    ordered[i] = ordered[j]
        return ordered

    def run_below(self, ordered: Sequence[float], limit: float | None) -> Draft | None:
        """As `run` for a rank that is in order; None once the lateness must come out above `limit`.

        None as well when a task does not fit this way; `misfit` then says which.
        """
        while True:
            try:
                return self._place_all(self.queue(ordered), limit)
            except _TooLateForPin as late:
                if late.task in self.urgent:
                    self.misfit = late
                    return None
                self._hurry(late.task)
            except DoesNotFit as misfit:
                if self.horizon >= _LONGEST:
                    self.misfit = misfit
                    return None
                self._lay_out(self.horizon * 2)

    def queue(self, ordered: Sequence[float]) -> list[int]:
        """Task numbers in the order in which they are placed; what must hurry goes first."""
        queue = sorted(self.net.order, key=ordered.__getitem__)
        if self.urgent:
            first = sorted((i for i in queue if i in self.urgent), key=self.urgent.__getitem__)
            queue = first + [i for i in queue if i not in self.urgent]
        return queue

    def _hurry(self, pinned: int) -> None:
        """From now on what comes before this pinned task goes first."""
        net = self.net
        self.urgent[pinned] = net.pin[pinned] or 0
        for i in reversed(net.order):
            for j, lag in net.succs[i]:
                if j in self.urgent:
                    latest = self.urgent[j] - lag - net.slots[i]
                    self.urgent[i] = min(self.urgent.get(i, latest), latest)

    def around(self, kept: Mapping[int, tuple[int, int]], queue: Sequence[int]) -> Draft:
        """A plan with some tasks held at (slot, person), even if what they need comes too late."""
        try:
            draft = self._place_all(queue, None, kept)
        except DoesNotFit as misfit:
            if isinstance(misfit, _TooLateForPin) or self.horizon >= _LONGEST:
                raise
            self._lay_out(self.horizon * 2)
            return self.around(kept, queue)
        assert draft is not None
        return draft

    # One long function on purpose: calls for each of a thousand tasks would double its time.
    def _place_all(  # noqa: C901, PLR0912, PLR0915
        self, queue: Sequence[int], limit: float | None, kept: Mapping[int, tuple[int, int]] | None = None
    ) -> Draft | None:
        """One pass over the queue. The planner spends its time here, so the common case is written out."""
        net, board = self.net, self.board.copy()
        start, end, person, hand = [0] * net.size, [0] * net.size, [-1] * net.size, dict(self.hand)
        reach, lateness, rows = list(net.alone), net.least, self.rows
        people, room_of = board.people, board.room
        for i, (at, by) in (kept or {}).items():
            board.take(at, net.slots[i], by, net.uses[i])
            if by >= 0:
                hand[net.leader[i]] = by
        for i in queue:
            length, begin, preds, who, uses, plain, tail, r = rows[i]
            for j, lag in preds:
                if end[j] + lag > begin:
                    begin = end[j] + lag
            if kept and i in kept:
                at, by = kept[i]
            elif plain:
                at, by = begin, -1
                if who or uses:
                    room = room_of(uses) >> begin if uses else -1
                    found = -1
                    for p in who or _NOBODY:
                        fits = (people[p] >> begin) & room if p >= 0 else room
                        have = 1
                        while have < length:
                            step = have if have < length - have else length - have
                            fits &= fits >> step
                            have += step
                        if fits:
                            offset = (fits & -fits).bit_length() - 1
                            if found < 0 or offset < found:
                                found, by = offset, p
                                if not offset:
                                    break
                    if found < 0:
                        raise DoesNotFit(i)
                    at += found
                    if uses:
                        board.take(at, length, by, uses)
                    else:
                        people[by] &= ~(((1 << length) - 1) << at)
            else:
                at, by = self._particular_place(board, i, begin, hand)
            start[i], end[i], person[i] = at, at + length, by
            if at + tail > reach[r]:
                lateness += net.late(r, at + tail) - net.late(r, reach[r])
                reach[r] = at + tail
                if limit is not None and lateness > limit:
                    return None
        return Draft(start, person)

    def _particular_place(self, board: Board, i: int, begin: int, hand: dict[int, int]) -> tuple[int, int]:
        """Place a task with a pin, days of its own, sittings or no length."""
        net, leader = self.net, self.net.leader[i]
        if i in self.pinned:
            pin = net.pin[i] or 0
            if begin > pin and net.preds[i]:
                raise _TooLateForPin(i)
            return pin, self.pinned[i]
        who = (hand[leader],) if leader in hand else net.eligible[i]
        at, by = self._first_place(board, i, begin, who)
        board.take(at, net.slots[i], by, net.uses[i])
        if by >= 0:
            hand[leader] = by
        return at, by

    def _first_place(self, board: Board, i: int, begin: int, who: Sequence[int]) -> tuple[int, int]:
        """The first slot from `begin` on at which someone and the stations are free, and who."""
        net = self.net
        days = net.starts[i]
        length = net.slots[i]
        if not length or not (who or net.uses[i]):
            at = begin if days is None else _on_day(days, begin, i)
            return at, (who[0] if who else -1)
        room = board.room(net.uses[i]) if net.uses[i] else -1
        best, best_who = -1, -1
        for p in who or (-1,):
            free = ((board.people[p] if p >= 0 else room) & room) >> begin
            fits = run_starts(free, length)
            if days is not None:
                fits &= _days_mask(days, begin)
            if fits:
                offset = (fits & -fits).bit_length() - 1
                if best < 0 or offset < best:
                    best, best_who = offset, p
                if not offset:
                    break
        if best < 0:
            raise DoesNotFit(i)
        return begin + best, best_who


class _TooLateForPin(DoesNotFit):
    """What comes before a pinned task ended after the pin."""


def _on_day(days: Sequence[int], begin: int, task: int) -> int:
    found = next((day for day in days if day >= begin), None)
    if found is None:
        raise DoesNotFit(task)
    return found


def _days_mask(days: Sequence[int], begin: int) -> int:
    mask = 0
    for day in days:
        if day >= begin:
            mask |= 1 << (day - begin)
    return mask


def _first_horizon(net: Net) -> int:
    """Slots in which all the work fits in most shops; doubled when it does not."""
    hands = max(1, len(net.off))
    work = sum(net.slots[i] for i in range(net.size) if net.eligible[i] or net.uses[i])
    away = max((last for spans in (*net.off, *net.closed) for _, last in spans), default=0)
    latest = max((net.head[i] + net.tail[i] for i in range(net.size)), default=0)
    pinned = max(((pin or 0) + net.slots[i] for i, pin in enumerate(net.pin) if pin is not None), default=0)
    return min(_LONGEST, max(64, away, latest, pinned) + 2 * work // hands)
