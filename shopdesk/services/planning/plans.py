"""Plans kept in the shop: the one in force, taking it back, pins."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.planning.in_force import in_force, places_in
from shopdesk.services.planning.making import LeftOut, Made, places_of
from shopdesk.services.planning.open_work import KeptPlace
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.plan import BenchPlan, Pin, PlannedTask
from shopdesk.storage.tables.work import Task
from shopdesk.storage.unit_of_work import UnitOfWork

KEPT_PLANS = 20
"""Plans whose places stay in the shop; older ones keep their own row alone."""


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


def keep_plan(seat: Seat, made: Made, why: str = "") -> int:
    """Makes a plan the one in force."""
    with seat.change(Action.PLAN_BENCH) as work:
        row = write_plan(work, made, why)
        work.about(row)
        return row.id


def write_plan(work: UnitOfWork, made: Made, why: str) -> BenchPlan:
    """The plan in force from now on, in a unit of work that may do more."""
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
    return row


def undo_plan(seat: Seat) -> None:
    """Takes the newest plan back: the one before it is in force again, with its pins."""
    with seat.change(Action.PLAN_BENCH) as work:
        row = in_force(work.session)
        before = in_force(work.session, below=row.id) if row is not None else None
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
        row = in_force(session)
        if row is None:
            return None
        return KeptPlan(
            row.id,
            row.made_at,
            row.found_by,
            row.why,
            places_in(session, row.id),
            tuple(LeftOut(sentence, tuple(tasks)) for sentence, tasks in row.left_out),
            tuple(row.assumed),
            in_force(session, below=row.id) is not None,
        )


def pin(
    seat: Seat, task_id: int, *, day: dt.date | None = None, minute: int | None = None,
    staff_id: int | None = None,
) -> None:  # fmt: skip
    """Holds a task at a half-hour, with a person, or both, until it is let go."""
    if day is None and staff_id is None:
        raise Problem("A pin holds a time or a person. Say which.")
    with seat.change(Action.PLAN_BENCH) as work:
        write_pin(work, task_id, day, minute, staff_id)


def write_pin(
    work: UnitOfWork, task_id: int, day: dt.date | None, minute: int | None, staff_id: int | None
) -> None:
    """The pin in a unit of work that may do more."""
    task = work.get(Task, task_id, "task")
    row = work.session.scalar(sa.select(Pin).where(Pin.task_id == task_id)) or work.add(Pin(task_id=task_id))
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
