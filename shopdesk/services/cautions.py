"""Cautions at the task: shown every time, read by each person for each kind of task before its tick."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.catalogue.model import Caution
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.papers.words import cautions_for as in_catalogue_order
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.bench import CautionSeen
from shopdesk.storage.tables.work import Task
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class TaskCautions:
    """The cautions of a task, and whether the acting person has read them for this kind of task.

    `read_at` is the last time, None while some are unread; `new` are those not read yet.
    """

    task_id: int
    kind: str
    kind_name: str
    cautions: tuple[Caution, ...]
    new: tuple[Caution, ...]
    read_at: dt.datetime | None


def cautions_for(seat: Seat, task_id: int) -> TaskCautions:
    """What to mind at a task, whose word counts, and what this person has still to read."""
    with seat.look() as session:
        task = session.get_one(Task, task_id)
        kind = kind_of(session, task)
        read, last = _read(session, seat.acting.staff_id, kind)
        entry = seat.catalogue.tasks.get(kind)
        return TaskCautions(
            task_id=task_id,
            kind=kind,
            kind_name=entry.name if entry else say("tasks made by hand"),
            cautions=tuple(in_catalogue_order(seat.catalogue, task.hazards)),
            new=tuple(in_catalogue_order(seat.catalogue, set(task.hazards) - read)),
            read_at=last if set(task.hazards) <= read else None,
        )


def acknowledge(seat: Seat, task_id: int) -> None:
    """The acting person has read the cautions of a task; it counts for all tasks of its kind."""
    with seat.look() as session:
        task = session.get_one(Task, task_id)
        kind = kind_of(session, task)
        if set(task.hazards) <= _read(session, seat.acting.staff_id, kind)[0]:
            return
    with seat.change(Action.READ_CAUTIONS) as work:
        task = work.get(Task, task_id, "task")
        row = work.add(
            CautionSeen(
                staff_id=seat.acting.staff_id, task_kind=kind, hazards=list(task.hazards), at=work.now
            )
        )
        work.session.flush()
        work.about(row)


def refuse_unread(session: Session, seat: Seat, task: Task) -> None:
    """Refuses a tick by somebody who has not read this kind of task's cautions."""
    if not task.hazards:
        return
    read, _ = _read(session, seat.acting.staff_id, kind_of(session, task))
    new = in_catalogue_order(seat.catalogue, set(task.hazards) - read)
    if new:
        raise Unread(
            "“{name}” has cautions that {person} has not read yet: {cautions}. Read them, then tick it.",
            name=task.name,
            person=seat.acting.name,
            cautions=", ".join(caution.name for caution in new),
        )


class Unread(Problem):
    """Somebody is to read a task's cautions first; a screen shows them and asks."""


def kind_of(session: Session, task: Task) -> str:
    """The kind of a task: its catalogue code, or that of the task it was split from; else empty."""
    seen: set[int] = set()
    while not task.code and task.split_from_id is not None and task.id not in seen:
        seen.add(task.id)
        task = session.get_one(Task, task.split_from_id)
    return task.code


def _read(session: Session, staff_id: int, kind: str) -> tuple[set[str], dt.datetime | None]:
    rows = session.execute(
        sa.select(CautionSeen.hazards, CautionSeen.at)
        .where(CautionSeen.staff_id == staff_id, CautionSeen.task_kind == kind)
        .order_by(CautionSeen.id)
    ).all()
    return {code for hazards, _ in rows for code in hazards}, rows[-1].at if rows else None
