"""Yesterday's plan kept as far as it still holds: only what a change reaches is placed anew.

Everything still possible stays with its person in its slot. What is not (its person is
away, its piece comes late, the task before it grew) goes into the gaps, and whatever then
begins too early comes loose as well, until nothing does.
"""

from collections.abc import Collection

from shopdesk.domain.planning.board import Board
from shopdesk.domain.planning.net import Draft, Net
from shopdesk.domain.planning.serial import DoesNotFit, Scheduler


def repaired(scheduler: Scheduler) -> Draft:
    """A plan of today's instance that leaves as much of yesterday's in place as it can."""
    net = scheduler.net
    kept = _still_possible(scheduler)
    rank = [float(was[0]) if (was := net.before[i]) else float(net.latest[i]) for i in range(net.size)]
    queue = scheduler.queue(scheduler.in_order(rank))
    while True:
        try:
            draft = scheduler.around(kept, queue)
        except DoesNotFit:
            # A pin cannot be kept around all this: yesterday's order then has to do.
            return scheduler.run(rank)
        loose = comes_loose(net, draft, kept)
        if not loose:
            return draft
        for i in loose:
            del kept[i]


def comes_loose(net: Net, draft: Draft, kept: Collection[int]) -> list[int]:
    """Kept tasks that now begin before what they need is over."""
    return [
        i
        for i in kept
        if any(draft.start[j] + net.slots[j] + lag > draft.start[i] for j, lag in net.preds[i])
    ]


def _still_possible(scheduler: Scheduler) -> dict[int, tuple[int, int]]:
    """Tasks that can stay where they were, as far as people, stations and dates go; the earlier first."""
    net, board = scheduler.net, scheduler.board.copy()
    kept: dict[int, tuple[int, int]] = {}
    hand = dict(scheduler.hand)
    placed = [(was[0], i, was[1]) for i, was in enumerate(net.before) if was is not None]
    for start, i, who in sorted(placed):
        leader = net.leader[i]
        person = who if net.eligible[i] else -1
        if net.pin[i] is not None or start < net.head[i] or hand.get(leader, person) != person:
            continue
        if _is_free(scheduler, board, i, start, person):
            kept[i] = (start, person)
            board.take(start, net.slots[i], person, net.uses[i])
            if person >= 0:
                hand[leader] = person
    return kept


def _is_free(scheduler: Scheduler, board: Board, i: int, start: int, person: int) -> bool:
    net = scheduler.net
    if start + net.slots[i] > board.horizon:
        return False
    days = net.starts[i]
    if days is not None and start not in days:
        return False
    if net.eligible[i] and person not in net.eligible[i]:
        return False
    mask = ((1 << net.slots[i]) - 1) << start
    free = board.people[person] if person >= 0 else -1
    if net.uses[i]:
        free &= board.room(net.uses[i])
    return not mask & ~free
