"""The order of tasks: each after what it needs, otherwise as a shop would do them.

Stages follow one another as far as needs allow; within a stage what leads to outwork comes
first, the longest absence first, because platers and enamellers rule the calendar; then
zone by zone, then as the catalogue lists them.
"""

import heapq
from collections.abc import Collection, Iterable, Mapping

from shopdesk.domain.catalogue.model import Catalogue, Task
from shopdesk.domain.problem import Problem

STAGES = ("intake", "teardown", "repair", "refit", "proving", "delivery")
_OFF_THE_RANGE = STAGES[:3]
_PIECES_OFF = STAGES[1:3]

After = dict[str, list[str]]


def stage_rank(task: Task) -> int:
    return STAGES.index(task.stage) if task.stage in STAGES else STAGES.index("repair")


def waits_for(catalogue: Catalogue, codes: Collection[str]) -> After:
    """For each task on the order the tasks on it that must be finished first.

    From the catalogue: `needs`, `after` where both are there, and `then` after what called
    for it. And putting back comes after everything that needed the piece off.
    """
    after: After = {code: [] for code in codes}
    for code in after:
        task = catalogue.tasks[code]
        for earlier in (*task.needs, *task.after):
            _wait(after, code, earlier)
        for later in task.then:
            _wait(after, later, code)
    for code in after:
        for later in catalogue.tasks[code].then:
            if later in after:
                _put_back_last(catalogue, after, code, later)
    return after


def _wait(after: After, later: str, earlier: str) -> None:
    if later in after and earlier in after and earlier != later and earlier not in after[later]:
        after[later].append(earlier)


def _put_back_last(catalogue: Catalogue, after: After, off: str, back: str) -> None:
    for code in after:
        task = catalogue.tasks[code]
        if off in task.needs and task.stage in _OFF_THE_RANGE:
            wait_if_open(after, back, code)


def wait_if_open(after: After, later: str, earlier: str) -> bool:
    """Let `later` wait for `earlier` unless that would close a circle; whether it now waits."""
    if later == earlier or reaches(after, earlier, later):
        return False
    _wait(after, later, earlier)
    return True


def reaches(after: Mapping[str, Iterable[str]], late: str, early: str) -> bool:
    """Whether `late` waits for `early`, however far back."""
    ahead, seen = [late], {late}
    while ahead:
        for code in after[ahead.pop()]:
            if code == early:
                return True
            if code not in seen:
                seen.add(code)
                ahead.append(code)
    return False


def arrange(catalogue: Catalogue, after: After, zones: Mapping[str, int]) -> list[str]:
    """The codes in order. Raises Problem when tasks wait for one another in a circle."""
    followers: dict[str, list[str]] = {code: [] for code in after}
    open_count = {code: len(earlier) for code, earlier in after.items()}
    for code, earlier in after.items():
        for other in earlier:
            followers[other].append(code)
    away = _days_away(catalogue, after)
    place = {code: n for n, code in enumerate(catalogue.tasks)}

    def rank(code: str) -> tuple[int, int, int, int, str]:
        return stage_rank(catalogue.tasks[code]), -away[code], zones.get(code, 99), place[code], code

    ready = [rank(code) for code, n in open_count.items() if n == 0]
    heapq.heapify(ready)
    ordered: list[str] = []
    while ready:
        code = heapq.heappop(ready)[-1]
        ordered.append(code)
        for other in followers[code]:
            open_count[other] -= 1
            if open_count[other] == 0:
                heapq.heappush(ready, rank(other))
    if len(ordered) < len(after):
        stuck = ", ".join(sorted(set(after) - set(ordered)))
        raise Problem("These tasks wait for one another in a circle: {tasks}.", tasks=stuck)
    return ordered


def _days_away(catalogue: Catalogue, after: After) -> dict[str, int]:
    """The longest absence at another trade that a teardown or repair task leads to, in likely days.

    Not at intake: there the range is isolated and capped before anything else.
    """
    away = dict.fromkeys(after, 0)
    for code in after:
        outwork = catalogue.tasks[code].outwork
        if outwork:
            _lead(after, away, code, outwork.days.likely)
    return {c: d if catalogue.tasks[c].stage in _PIECES_OFF else 0 for c, d in away.items()}


def _lead(after: After, away: dict[str, int], code: str, days: int) -> None:
    ahead = [code]
    while ahead:
        at = ahead.pop()
        if away[at] < days:
            away[at] = days
            ahead += after[at]
