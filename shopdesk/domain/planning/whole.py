"""All ranges in one constraint model: first the least lateness, then fewest changes, then finish.

What is proven is the first of the three alone: that no plan has less weighted lateness. The
proof mostly comes from the skeleton: its least lateness is a bound, and its plan fleshed out
mostly reaches it.
"""

import random
from collections.abc import Callable

from shopdesk.domain.planning.improve import Run
from shopdesk.domain.planning.model import Model
from shopdesk.domain.planning.net import Draft, Net
from shopdesk.domain.planning.serial import Scheduler
from shopdesk.domain.planning.skeleton import bones, fleshed_out, skeleton
from shopdesk.domain.planning.starts import Best, many_starts

_FOUND_BY = "all ranges at once"
_FRAME_SHARE = 0.85
"""Share of the time given to the skeleton before the model takes every task."""
_FRAMES = 600
"""List schedules of the skeleton before it is solved (about a second)."""
_RAISING = ("objective_lb_search_max_lp", "core_max_lp")
"""The solver's ways of search that raise the bound fastest here (measured on shops of a dozen ranges)."""


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
    if _lateness(best) > least and not halted():
        least = _by_skeleton(best, seconds * _FRAME_SHARE, workers, seed, halted, told)
    if _lateness(best) > least and not halted():
        first = _model(best)
        first.model.minimize(first.lateness)
        first.model.add(first.lateness >= least)
        run = Run(first, seconds, workers, seed).begin().wait(halted, take)
        least = max(least, _whole_number(run))
    proven = _lateness(best) <= least
    if proven and not halted() and (len(net.due) > 1 or _changes(best)):
        _refine(best, seconds, workers, seed, halted, take)
    return least, proven


def _by_skeleton(
    best: Best,
    seconds: float,
    workers: int,
    seed: int,
    halted: Callable[[], bool],
    told: Callable[[], None],
) -> int:
    """The least lateness of the skeleton; each of its plans fleshed out is offered to the best."""
    frame = skeleton(best.net)
    if frame is None:
        return best.net.least
    scheduler = Scheduler(best.net)

    def take(found: Draft) -> None:
        whole = fleshed_out(scheduler, found)
        if whole is not None and best.offer(*whole, _FOUND_BY):
            told()

    net = Net(frame)
    hint = _many_frames(net, bones(best.net, best.draft), seed, halted)
    take(hint)
    model = Model(net, hint, range(net.size), net.longest())
    model.model.minimize(model.lateness)
    model.model.add(model.lateness >= best.net.least)
    run = Run(model, seconds, workers, seed, ways=_RAISING).begin()
    run.wait(lambda: halted() or _lateness(best) <= _whole_number(run), take)
    return max(best.net.least, _whole_number(run))


def _many_frames(net: Net, known: Draft, seed: int, halted: Callable[[], bool]) -> Draft:
    """A good plan of the skeleton by list scheduling: the nearer the least, the less is left to prove."""
    best = Best(Scheduler(net))
    best.offer(known, [float(start) for start in known.start], "")
    many_starts(best, random.Random(seed), lambda count: count < _FRAMES and not halted(), lambda: None)
    return best.draft


def _lateness(best: Best) -> int:
    assert best.cost is not None
    return best.cost.lateness


def _changes(best: Best) -> int:
    assert best.cost is not None
    return best.cost.changes


def _whole_number(run: Run) -> int:
    """The solver's bound on the lateness, a whole number, as the next one above."""
    return int(run.bound + 0.999) if run.proven or run.bound > 0 else 0


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
    second = _model(best)
    second.model.add(second.lateness <= _lateness(best))
    second.model.minimize(second.changes * (len(best.net.due) * second.horizon + 1) + second.finish)
    Run(second, seconds, workers, seed).begin().wait(halted, take)
