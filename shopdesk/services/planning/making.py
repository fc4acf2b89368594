"""Making plans: what is open is gathered, what cannot be planned is set apart and named, the rest solved."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from shopdesk.domain.planning import model
from shopdesk.domain.planning.again import KEEP, plan_again
from shopdesk.domain.planning.instance import Plan
from shopdesk.domain.planning.obstacles import NoPlace, Obstacle, obstacles, without_blocked
from shopdesk.domain.planning.rolling import LARGE_TASKS, plan_rolling
from shopdesk.domain.planning.solve import plan as solve
from shopdesk.domain.problem import Problem
from shopdesk.services.planning.facts import read_facts
from shopdesk.services.planning.in_force import in_force, places_in
from shopdesk.services.planning.open_work import KeptPlace, OpenWork, key_of, open_work
from shopdesk.services.planning.pieces import AWAY
from shopdesk.services.planning.suppose import NEW, Supposed, TakeIn
from shopdesk.services.seat import Seat
from shopdesk.wording import say_problem

FIRST_SECONDS = 20.0
AGAIN_SECONDS = 2.0
_TRIES = 12  # tasks without a place that are left out before planning gives up


@dataclass(frozen=True, slots=True)
class LeftOut:
    """Why some tasks have no place in the plan."""

    sentence: str
    tasks: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Made:
    """A plan of what is open, not kept yet. `work` holds only what could be planned."""

    work: OpenWork
    plan: Plan
    left_out: tuple[LeftOut, ...]


def solver_is_here() -> bool:
    """Whether OR-Tools is installed; list scheduling plans without it."""
    return model.available()


def gather(seat: Seat, supposed: Sequence[Supposed] = ()) -> OpenWork:
    """What is open now, with yesterday's plan and what is supposed in it."""
    taken_in = {one.job_id for one in supposed if isinstance(one, TakeIn)}
    with seat.look() as session:
        facts = read_facts(seat, session, as_agreed=taken_in)
        kept = in_force(session)
        places = places_in(session, kept.id) if kept is not None else ()
    return open_work(facts, places, supposed)


def make_plan(
    seat: Seat,
    *,
    seconds: float = FIRST_SECONDS,
    supposed: Sequence[Supposed] = (),
    stop: Callable[[], bool] = lambda: False,
    progress: Callable[[Made], None] = lambda _: None,
    workers: int = 2,
    starts: int | None = None,
    rounds: int | None = None,
) -> Made:
    """The best plan of everything open found in `seconds`; what has no place is left out and named.

    `progress` gets the first plan, by rules, at once and every better one; `stop` is asked often.
    `starts` and `rounds` bound the search instead of the time. Nothing is kept.
    """

    def search(now: OpenWork, told: Callable[[Plan], None]) -> Plan:
        bounded = starts is not None or rounds is not None
        if len(now.instance.tasks) > LARGE_TASKS and not bounded:
            return plan_rolling(
                now.instance, seconds=seconds, stop=stop, progress=told, workers=workers
            )  # fmt: skip
        return solve(
            now.instance, seconds=seconds, stop=stop, progress=told, workers=workers, starts=starts,
            rounds=rounds,
        )  # fmt: skip

    work, left_out = plannable(gather(seat, supposed))
    return _persistently(
        work,
        left_out,
        search,
        progress,
    )


def plan_close(
    seat: Seat,
    *,
    touched: Iterable[int] = (),
    keep: float = KEEP,
    seconds: float = AGAIN_SECONDS,
    supposed: Sequence[Supposed] = (),
    stop: Callable[[], bool] = lambda: False,
    progress: Callable[[Made], None] = lambda _: None,
) -> Made:
    """Planned anew as close to the plan in force as can be; from scratch when none is."""
    work, left_out = plannable(gather(seat, supposed))
    changed = {str(task) for task in touched}

    def search(now: OpenWork, told: Callable[[Plan], None]) -> Plan:
        if not now.instance.yesterday:
            return solve(now.instance, seconds=seconds, stop=stop, progress=told)
        mine = [piece.id for piece in now.instance.tasks if piece.id.partition("/")[0] in changed]
        return plan_again(
            now.instance, touched=mine, keep=keep, seconds=seconds, stop=stop, progress=told
        )  # fmt: skip

    return _persistently(work, left_out, search, progress)


def plannable(work: OpenWork) -> tuple[OpenWork, tuple[LeftOut, ...]]:
    """The work without what cannot be planned at all, and why that cannot."""
    found = obstacles(work.instance)
    return _without(work, found), tuple(_left_out(each) for each in found)


def places_of(made: Made) -> tuple[KeptPlace, ...]:
    """Where every sitting stands, in days and minutes; a supposed range is left out."""
    work = made.work
    found = []
    for piece in work.instance.tasks:
        if piece.id.startswith(NEW):
            continue
        at = made.plan.placed[piece.id]
        task_id, sitting = key_of(piece.id)
        if sitting == AWAY:
            continue  # kept with its way back as one stretch
        there = made.plan.placed.get(f"{piece.id}/{AWAY}")
        begins = work.axis.begins(there.start if there else at.start)
        ends = work.axis.ends(at.end) if at.end > at.start else work.axis.begins(at.start)
        person = int(at.person) if at.person and not at.person.startswith(NEW) else None
        station = piece.uses[0][0] if piece.uses and piece.by_hand else ""
        found.append(
            KeptPlace(task_id, sitting, person, station, at.end - (there or at).start, *begins, *ends)
        )
    return tuple(found)


def _persistently(
    work: OpenWork,
    left_out: tuple[LeftOut, ...],
    search: Callable[[OpenWork, Callable[[Plan], None]], Plan],
    progress: Callable[[Made], None],
) -> Made:
    """Searches; what turns out to have no place is left out and the rest planned, never nothing at all."""
    for _ in range(_TRIES):
        now, so_far = work, left_out

        def told(plan: Plan, now: OpenWork = now, so_far: tuple[LeftOut, ...] = so_far) -> None:
            progress(Made(now, plan, so_far))

        try:
            return Made(work, search(work, told), left_out)
        except NoPlace as misfit:
            left_out = (*left_out, _left_out(misfit.obstacle))
            work = _without(work, (misfit.obstacle,))
    raise Problem("Too many tasks have no place in the plan: {why}", why=left_out[-1].sentence)


def _without(work: OpenWork, found: Sequence[Obstacle]) -> OpenWork:
    if not found:
        return work
    instance = without_blocked(work.instance, found)
    # A range of which nothing can be planned would count as finished at once.
    busy = {piece.range_id for piece in instance.tasks}
    ranges = tuple(each for each in instance.ranges if each.id in busy)
    return replace(work, instance=replace(instance, ranges=ranges))


def _left_out(obstacle: Obstacle) -> LeftOut:
    tasks = dict.fromkeys(key_of(piece)[0] for piece in obstacle.tasks if not piece.startswith(NEW))
    return LeftOut(say_problem(obstacle.problem()), tuple(tasks))
