"""Making plans and keeping them: solve what is open, keep it, undo it, pin and unpin."""

import datetime as dt
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.planning import model
from shopdesk.domain.planning.again import KEEP, plan_again
from shopdesk.domain.planning.instance import Plan
from shopdesk.domain.planning.obstacles import NoPlace, Obstacle, obstacles, without_blocked
from shopdesk.domain.planning.solve import plan as solve
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.planning.facts import read_facts
from shopdesk.services.planning.open_work import NEW, KeptPlace, OpenWork, key_of, open_work
from shopdesk.services.planning.suppose import Supposed, TakeIn
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.plan import BenchPlan, Pin, PlannedTask
from shopdesk.storage.tables.work import Task
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say_problem

KEPT_PLANS = 20
"""Plans whose places stay in the shop; older ones keep their own row alone."""
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


@dataclass(frozen=True, slots=True)
class KeptPlan:
    """The plan in force, as kept."""

    id: int
    made_at: dt.datetime
    found_by: str
    why: str
    places: tuple[KeptPlace, ...]
    left_out: tuple[LeftOut, ...]
    assumed: tuple[str, ...]
    can_undo: bool


def solver_is_here() -> bool:
    """Whether OR-Tools is installed; list scheduling plans without it."""
    return model.available()


def gather(seat: Seat, supposed: Sequence[Supposed] = ()) -> OpenWork:
    """What is open now, with yesterday's plan and what is supposed in it."""
    taken_in = {one.job_id for one in supposed if isinstance(one, TakeIn)}
    with seat.look() as session:
        facts = read_facts(seat, session, as_agreed=taken_in)
        kept = _in_force(session)
        places = _places(session, kept.id) if kept is not None else ()
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
    work, left_out = plannable(gather(seat, supposed))
    return _persistently(
        work,
        left_out,
        lambda now, told: solve(
            now.instance,
            seconds=seconds,
            stop=stop,
            progress=told,
            workers=workers,
            starts=starts,
            rounds=rounds,
        ),
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


def keep_plan(seat: Seat, made: Made, why: str = "") -> int:
    """Makes a plan the one in force."""
    with seat.change(Action.PLAN_BENCH) as work:
        row = work.add(
            BenchPlan(
                made_at=work.now,
                made_by_id=work.acting.staff_id,
                found_by=made.plan.found_by,
                why=why,
                lateness=made.plan.cost.lateness,
                changes=made.plan.cost.changes,
                pins=_pins_as_rows(work.session),
                left_out=[[each.sentence, list(each.tasks)] for each in made.left_out],
                assumed=list(made.work.assumed),
            )
        )
        work.session.flush()
        places = places_of(made)
        if places:
            values = [{"plan_id": row.id, **_as_row(place)} for place in places]
            work.session.execute(sa.insert(PlannedTask), values)
        _thin_out(work)
        work.about(row)
        return row.id


def undo_plan(seat: Seat) -> None:
    """Takes the newest plan back: the one before it is in force again, with its pins."""
    with seat.change(Action.PLAN_BENCH) as work:
        row = _in_force(work.session)
        before = _in_force(work.session, below=row.id) if row is not None else None
        if row is None or before is None:
            raise Problem("There is no earlier plan to go back to.")
        row.undone_at = work.now
        for pin in work.session.scalars(sa.select(Pin)):
            work.session.delete(pin)
        work.session.flush()
        for task_id, staff_id, day, minute in before.pins:
            begins = dt.date.fromisoformat(day) if day else None
            work.add(Pin(task_id=task_id, staff_id=staff_id, begins_on=begins, begins_minute=minute))
        work.about(row)


def kept_plan(seat: Seat) -> KeptPlan | None:
    """The plan in force, or None before the first."""
    with seat.look() as session:
        row = _in_force(session)
        if row is None:
            return None
        return KeptPlan(
            row.id,
            row.made_at,
            row.found_by,
            row.why,
            _places(session, row.id),
            tuple(LeftOut(sentence, tuple(tasks)) for sentence, tasks in row.left_out),
            tuple(row.assumed),
            _in_force(session, below=row.id) is not None,
        )


def pin(
    seat: Seat, task_id: int, *, day: dt.date | None = None, minute: int | None = None,
    staff_id: int | None = None,
) -> None:  # fmt: skip
    """Holds a task at a half-hour, with a person, or both, until it is let go."""
    if day is None and staff_id is None:
        raise Problem("A pin holds a time or a person. Say which.")
    with seat.change(Action.PLAN_BENCH) as work:
        task = work.get(Task, task_id, "task")
        row = work.session.scalar(sa.select(Pin).where(Pin.task_id == task_id))
        row = row or work.add(Pin(task_id=task_id))
        row.staff_id, row.begins_on = staff_id, day
        row.begins_minute = (minute or 0) if day is not None else None
        work.session.flush()
        work.about(row, task.work_order.job_id)


def unpin(seat: Seat, task_id: int) -> None:
    """Lets a task go."""
    with seat.change(Action.PLAN_BENCH) as work:
        row = work.session.scalar(sa.select(Pin).where(Pin.task_id == task_id))
        if row is None:
            return
        work.about(row, row.task.work_order.job_id)
        work.session.delete(row)


def places_of(made: Made) -> tuple[KeptPlace, ...]:
    """Where every sitting stands, in days and minutes; a supposed range is left out."""
    work = made.work
    found = []
    for piece in work.instance.tasks:
        if piece.id.startswith(NEW):
            continue
        at = made.plan.placed[piece.id]
        task_id, sitting = key_of(piece.id)
        begins = work.axis.begins(at.start)
        ends = work.axis.ends(at.end) if at.end > at.start else begins
        person = int(at.person) if at.person and not at.person.startswith(NEW) else None
        station = piece.uses[0][0] if piece.uses and piece.by_hand else ""
        found.append(KeptPlace(task_id, sitting, person, station, piece.slots, *begins, *ends))
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


def _in_force(session: Session, below: int | None = None) -> BenchPlan | None:
    query = sa.select(BenchPlan).where(BenchPlan.undone_at.is_(None))
    if below is not None:
        query = query.where(BenchPlan.id < below)
    return session.scalars(query.order_by(BenchPlan.id.desc()).limit(1)).first()


def _places(session: Session, plan_id: int) -> tuple[KeptPlace, ...]:
    columns = (
        PlannedTask.task_id, PlannedTask.sitting, PlannedTask.staff_id, PlannedTask.station,
        PlannedTask.half_hours, PlannedTask.begins_on, PlannedTask.begins_minute, PlannedTask.ends_on,
        PlannedTask.ends_minute,
    )  # fmt: skip
    query = sa.select(*columns).where(PlannedTask.plan_id == plan_id)
    order = (PlannedTask.begins_on, PlannedTask.begins_minute, PlannedTask.task_id, PlannedTask.sitting)
    return tuple(KeptPlace(*row) for row in session.execute(query.order_by(*order)))


def _as_row(place: KeptPlace) -> dict[str, object]:
    return {name: getattr(place, name) for name in KeptPlace.__dataclass_fields__}


def _pins_as_rows(session: Session) -> list[list[object]]:
    return [
        [p.task_id, p.staff_id, p.begins_on.isoformat() if p.begins_on else None, p.begins_minute]
        for p in session.scalars(sa.select(Pin).order_by(Pin.id))
    ]


def _thin_out(work: UnitOfWork) -> None:
    """Places of old plans go; their own rows stay."""
    old = sa.select(BenchPlan.id).order_by(BenchPlan.id.desc()).offset(KEPT_PLANS)
    ids = list(work.session.scalars(old))
    if ids:
        work.session.execute(sa.delete(PlannedTask).where(PlannedTask.plan_id.in_(ids)))
