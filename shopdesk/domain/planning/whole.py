"""All ranges in one constraint model: first the least lateness, then fewest changes, then finish."""

from collections.abc import Callable

from shopdesk.domain.planning.improve import Run
from shopdesk.domain.planning.model import Model
from shopdesk.domain.planning.net import Draft
from shopdesk.domain.planning.starts import Best

_FOUND_BY = "all ranges at once"


def solve_whole(
    best: Best,
    seconds: float,
    workers: int,
    seed: int,
    halted: Callable[[], bool],
    told: Callable[[], None],
) -> tuple[int, bool]:
    """Improve the best plan; the lateness no plan can go below, and whether the best reaches it."""
    net = best.net

    def take(draft: Draft) -> None:
        if best.offer(draft, best.rank, _FOUND_BY):
            told()

    least = net.least
    assert best.cost is not None
    if best.cost.lateness > least:
        first = _model(best)
        first.model.minimize(first.lateness)
        first.model.add(first.lateness >= least)
        run = Run(first, seconds, workers, seed).begin().wait(halted, take)
        least = max(least, int(run.bound + 0.999)) if run.proven or run.bound > 0 else least
    proven = best.cost.lateness <= least
    if proven and not halted() and (len(net.due) > 1 or best.cost.changes):
        _refine(best, seconds, workers, seed, halted, take)
    return least, proven


def _model(best: Best) -> Model:
    net = best.net
    return Model(net, best.draft, range(net.size), net.longest())


def _refine(
    best: Best,
    seconds: float,
    workers: int,
    seed: int,
    halted: Callable[[], bool],
    take: Callable[[Draft], None],
) -> None:
    """The lateness stands; fewer changes and earlier finishes within it."""
    assert best.cost is not None
    second = _model(best)
    second.model.add(second.lateness <= best.cost.lateness)
    second.model.minimize(second.changes * (len(best.net.due) * second.horizon + 1) + second.finish)
    Run(second, seconds, workers, seed).begin().wait(halted, take)
