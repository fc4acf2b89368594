"""The tasks on which the lateness hangs, without those that have time to spare.

Handwork that needs no station and can slip by days without moving its range's end is left
out; how long it takes stays as a wait between its neighbours. Every plan of the whole shop
is a plan of what is left, so what no plan of the skeleton can go below no plan of the shop
can either. A skeleton is small enough to be solved to the proof, and what was left out
mostly finds room around its plan.
"""

from dataclasses import replace

from shopdesk.domain.planning.instance import After, Instance
from shopdesk.domain.planning.net import HALF_DAY, Draft, Net
from shopdesk.domain.planning.repair import comes_loose
from shopdesk.domain.planning.serial import DoesNotFit, Scheduler

TIME_TO_SPARE = 4 * HALF_DAY
"""Slots a task must be able to slip, its range alone in the shop, to be left out."""
_WORTH_IT = 0.25
"""Share of the tasks that must fall away for a skeleton to be worth a search of its own."""


def kept_in(net: Net) -> list[int]:
    """Numbers of the tasks the skeleton keeps, in the instance's order."""
    return [i for i in range(net.size) if not _has_time_to_spare(net, i)]


def skeleton(net: Net) -> Instance | None:
    """The instance of the tasks kept; None when too few fall away."""
    kept = set(kept_in(net))
    if net.size - len(kept) < _WORTH_IT * net.size:
        return None
    tasks, waits = net.instance.tasks, _waits(net, kept)
    return replace(
        net.instance,
        tasks=tuple(
            replace(
                tasks[i],
                after=tuple(After(task=tasks[j].id, lag=lag) for j, lag in waits[i].items()),
                earliest=net.head[i],
            )
            for i in sorted(kept)
        ),
        yesterday={},
    )


def bones(net: Net, draft: Draft) -> Draft:
    """A plan of the shop as a plan of its skeleton."""
    kept = kept_in(net)
    return Draft([draft.start[i] for i in kept], [draft.person[i] for i in kept])


def fleshed_out(scheduler: Scheduler, frame: Draft) -> tuple[Draft, list[float]] | None:
    """The whole plan around a plan of the skeleton, and its order; None when it cannot be had this way."""
    net = scheduler.net
    held = {
        i: (start, person)
        for i, start, person in zip(kept_in(net), frame.start, frame.person, strict=True)
        if net.pin[i] is None
    }
    rank = _latest_beside(net, {i: start for i, (start, _) in held.items()})
    queue = scheduler.queue(scheduler.in_order(rank))
    while True:
        try:
            draft = scheduler.around(held, queue)
        except DoesNotFit:
            return None
        loose = comes_loose(net, draft, held)
        if not loose:
            return draft, rank
        for i in loose:
            del held[i]


def _has_time_to_spare(net: Net, i: int) -> bool:
    bound = net.uses[i] or net.pin[i] is not None or net.starts[i] is not None or net.leader[i] in net.tied
    spare = net.alone[net.range_of[i]] - net.head[i] - net.tail[i]
    return not bound and bool(net.eligible[i]) and spare >= TIME_TO_SPARE


def _waits(net: Net, kept: set[int]) -> list[dict[int, int]]:
    """For each task the kept ones before it with nothing kept between, and the longest way from each."""
    waits: list[dict[int, int]] = [{} for _ in range(net.size)]
    for i in net.order:
        for j, lag in net.preds[i]:
            before = {j: lag} if j in kept else {k: w + net.slots[j] + lag for k, w in waits[j].items()}
            for k, wait in before.items():
                waits[i][k] = max(waits[i].get(k, wait), wait)
    return waits


def _latest_beside(net: Net, held: dict[int, int]) -> list[float]:
    """The slot by which each task must begin for what is held after it to stay: its turn in the queue."""
    ends = max(held.values(), default=0) + max(net.slots, default=0)
    latest = [float(held.get(i, ends)) for i in range(net.size)]
    for i in reversed(net.order):
        for j, lag in net.succs[i]:
            latest[i] = min(latest[i], latest[j] - lag - net.slots[i])
    return latest
