"""Single rules that rank all tasks: what a shop does without a solver, and where ours begins.

Ranks are numbers, the lowest goes first. All of them are customary in scheduling practice
(see Kolisch 1996 for slack and shortest task, Smith 1956 for weight over work).
"""

from collections.abc import Callable, Mapping

from shopdesk.domain.planning.net import NEVER, Net

Rank = list[float]


def earliest_due(net: Net) -> Rank:
    """The range promised first goes first; within it, what has most work after it."""
    return [_due(net, r) - net.tail[i] * 1e-3 for i, r in enumerate(net.range_of)]


def least_slack(net: Net) -> Rank:
    """The least time to spare between the soonest and the latest a task may begin."""
    return [float(latest - head) for latest, head in zip(net.latest, net.head, strict=True)]


def shortest_task(net: Net) -> Rank:
    """The shortest task first; of equal ones the range promised first."""
    return [net.slots[i] + _due(net, r) / (2 * NEVER) for i, r in enumerate(net.range_of)]


def weighted(net: Net) -> Rank:
    """The range with the most weight for the handwork in it first; within it, the longest tail."""
    work = [1] * len(net.due)
    for i, r in enumerate(net.range_of):
        if net.eligible[i]:
            work[r] += net.slots[i]
    worth = [NEVER * spent / max(1, weight) for spent, weight in zip(work, net.weight, strict=True)]
    return [worth[r] - net.tail[i] * 1e-3 for i, r in enumerate(net.range_of)]


def latest_start(net: Net) -> Rank:
    """What must begin first for its range to be in time; the many starts are drawn around it."""
    return [float(latest) for latest in net.latest]


def _due(net: Net, r: int) -> int:
    due = net.due[r]
    return NEVER if due is None else due


SINGLE_RULES: Mapping[str, Callable[[Net], Rank]] = {
    "earliest due": earliest_due,
    "least slack": least_slack,
    "shortest task": shortest_task,
    "weighted": weighted,
}
