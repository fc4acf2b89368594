"""Who and what is free when, as rows of bits: bit t of a row is working half-hour t.

Python's whole numbers are as long as needed, so "the first place where six half-hours are
free for this person and for a bay" is a few ANDs and shifts over the whole horizon.
"""

from shopdesk.domain.planning.instance import Span
from shopdesk.domain.planning.net import Net


def spans_mask(spans: tuple[Span, ...], horizon: int) -> int:
    """The bits of some stretches of slots, cut at the horizon."""
    mask = 0
    for first, last in spans:
        begin, end = max(0, first), min(last, horizon)
        if end > begin:
            mask |= ((1 << (end - begin)) - 1) << begin
    return mask


def run_starts(free: int, slots: int) -> int:
    """The bits at which at least `slots` free ones begin."""
    have = 1
    while have < slots:
        step = min(have, slots - have)
        free &= free >> step
        have += step
    return free


class Board:
    """Free slots of every person and free room at every station up to a horizon."""

    __slots__ = ("horizon", "people", "rooms")

    def __init__(self, horizon: int, people: list[int], rooms: list[list[int]]) -> None:
        self.horizon = horizon
        self.people = people
        self.rooms = rooms
        """`rooms[k][u - 1]`: the slots in which station k has room for u more."""

    @classmethod
    def empty(cls, net: Net, horizon: int) -> "Board":
        every = (1 << horizon) - 1
        people = [every & ~spans_mask(off, horizon) for off in net.off]
        rooms = [
            [every & ~spans_mask(net.closed[k], horizon)] * capacity
            for k, capacity in enumerate(net.capacity)
        ]
        return cls(horizon, people, rooms)

    def copy(self) -> "Board":
        return Board(self.horizon, list(self.people), [list(levels) for levels in self.rooms])

    def room(self, uses: tuple[tuple[int, int], ...]) -> int:
        """The slots in which all these stations have the room asked for."""
        free = (1 << self.horizon) - 1
        for station, amount in uses:
            free &= self.rooms[station][amount - 1]
        return free

    def take(self, start: int, slots: int, person: int, uses: tuple[tuple[int, int], ...]) -> None:
        """Occupy a person (-1: nobody) and stations; the caller knows that they are free."""
        if not slots:
            return
        mask = ((1 << slots) - 1) << start
        if person >= 0:
            self.people[person] &= ~mask
        for station, amount in uses:
            levels = self.rooms[station]
            count = len(levels)
            for u in range(count):
                above = levels[u + amount] & mask if u + amount < count else 0
                levels[u] = (levels[u] & ~mask) | above
