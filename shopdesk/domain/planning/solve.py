"""Make a plan: rules first, then many starts, then search, the best so far always at hand.

Up to `WHOLE` ranges the constraint model holds all of them at once and can prove that no
plan is less late. Beyond, moves in the queue and the model on a few ranges at a time go on
improving the best plan until the time is up. OR-Tools is optional: without it the queue
search has all the time.
"""

import random
import time
from collections.abc import Callable

from shopdesk.domain.planning import model
from shopdesk.domain.planning.improve import (
    ROUND_EFFORT,
    ROUND_SECONDS,
    Run,
    neighbourhood,
    neighbourhood_run,
)
from shopdesk.domain.planning.instance import Instance, Plan
from shopdesk.domain.planning.net import Draft, Net
from shopdesk.domain.planning.obstacles import no_place_for, obstacles
from shopdesk.domain.planning.requeue import Queue
from shopdesk.domain.planning.serial import DoesNotFit, Scheduler
from shopdesk.domain.planning.starts import Best, by_single_rules, many_starts
from shopdesk.domain.planning.whole import solve_whole

WHOLE = 12
"""Ranges up to which all are put into one constraint model."""
WHOLE_TASKS = 500
"""Tasks beyond which the model is not tried whole, however few the ranges."""
_STARTS_SHARE = 0.1
"""Share of the time given to many starts before the searches begin."""
_STARTS_BEFORE_WHOLE = 0.5
"""Seconds of many starts before the model takes all ranges: a hint is enough."""
_IN_VAIN = 300
"""Moves in the queue without a gain after which the model is asked as well: before, moves gain more."""
_STEPS_A_ROUND = 60
"""Moves in the queue between two neighbourhoods when everything runs in one thread."""


def plan(
    instance: Instance,
    *,
    seconds: float,
    stop: Callable[[], bool] = lambda: False,
    progress: Callable[[Plan], None] = lambda _: None,
    seed: int = 1,
    workers: int = 2,
    starts: int | None = None,
    rounds: int | None = None,
    clock: Callable[[], float] = time.monotonic,
) -> Plan:
    """The best plan found in `seconds`; Problem, naming the tasks, when there can be none.

    `progress` gets the first plan at once and every better one; `stop` is asked often (both
    in the caller's thread). `starts` and `rounds` bound the work instead of the time: with
    one worker the same instance and seed then give the same plan, if time does not run out.
    No rounds: rules and many starts alone.
    """
    for obstacle in obstacles(instance):
        raise obstacle.problem()
    net = Net(instance)
    if not instance.tasks:
        return net.plan(Draft([], []), "nothing to do", 0, proven=True)
    search = _Search(net, clock() + seconds, seconds, stop, progress, seed, workers, clock)
    try:
        search.starts(starts)
        search.search(rounds)
    except DoesNotFit as misfit:
        raise no_place_for(instance, instance.tasks[misfit.task]).problem() from None
    return search.result()


class _Search:
    """One call of `plan`: its time, its best plan and what has been proven."""

    def __init__(
        self,
        net: Net,
        until: float,
        seconds: float,
        stop: Callable[[], bool],
        progress: Callable[[Plan], None],
        seed: int,
        workers: int,
        clock: Callable[[], float],
    ) -> None:
        self.net, self.seconds, self.until = net, seconds, until
        self.stop, self.progress, self.clock = stop, progress, clock
        self.workers, self.seed = workers, seed
        self.draw = random.Random(seed)
        self.least, self.done = net.least, False

    def starts(self, most: int | None) -> None:
        """A plan by each rule, shown as soon as the first stands, then many starts."""
        self.best = Best(Scheduler(self.net))
        by_single_rules(self.best, self._tell)
        share = self.seconds * _STARTS_SHARE
        if self._fits_whole():
            share = min(share, _STARTS_BEFORE_WHOLE)
        begun = self.until - self.seconds
        many_starts(
            self.best,
            self.draw,
            lambda count: (
                (most is None or count < most) and self._worth_drawing() and self.clock() < begun + share
            ),
            self._tell,
        )

    def search(self, rounds: int | None) -> None:
        if rounds == 0:
            return
        with_model = model.available()
        if self._fits_whole():
            self.least, self.done = solve_whole(
                self.best, self.until - self.clock(), self.workers, self.seed, self._halted, self._tell
            )
            return
        queue = Queue(self.best, self.draw)
        count = 0
        while self._time_left() and (rounds is None or count < rounds):
            count += 1
            if with_model and self.workers > 1 and queue.steps_in_vain >= _IN_VAIN:
                self._side_by_side(queue, count)
            elif self.workers > 1:
                queue.walk(lambda steps: steps < _STEPS_A_ROUND and self._time_left(), self._tell)
            else:
                queue.walk(lambda steps: steps < _STEPS_A_ROUND and self._time_left(), self._tell)
                if with_model and self._time_left():
                    self._round(queue, self._neighbourhood(count).wait(self._halted, lambda _: None))

    def _fits_whole(self) -> bool:
        return model.available() and len(self.net.due) <= WHOLE and self.net.size <= WHOLE_TASKS

    def _worth_drawing(self) -> bool:
        """Whether many starts may still help: not once a model will refine what cannot be less late."""
        assert self.best.cost is not None
        return self._time_left() and not (self._fits_whole() and self.best.cost.lateness <= self.net.least)

    def _side_by_side(self, queue: Queue, count: int) -> None:
        """The model thinks in its thread while the queue is moved in this one."""
        run = self._neighbourhood(count)
        queue.walk(lambda _: run.running and self._time_left(), self._tell)
        self._round(queue, run.wait(self._halted, lambda _: None))

    def _neighbourhood(self, count: int) -> Run:
        draft = self.best.draft
        return neighbourhood_run(
            self.net,
            draft,
            neighbourhood(self.net, draft, self.draw),
            seconds=min(ROUND_SECONDS if self.workers > 1 else 60.0, self.until - self.clock()),
            workers=max(1, self.workers - 1),
            seed=self.seed * 10_000 + count,
            effort=ROUND_EFFORT,
        )

    def _round(self, queue: Queue, run: Run) -> None:
        if run.found and self.best.offer(run.found[-1], self.best.rank, "a few ranges at a time"):
            self._tell()
            queue.take_over()

    def _time_left(self) -> bool:
        return self.clock() < self.until and not self.stop()

    def _halted(self) -> bool:
        return not self._time_left()

    def result(self) -> Plan:
        return self.net.plan(self.best.draft, self.best.found_by, self.least, proven=self.done)

    def _tell(self) -> None:
        self.progress(self.net.plan(self.best.draft, self.best.found_by, self.least))
