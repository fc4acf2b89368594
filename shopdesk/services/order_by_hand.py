"""A work order changed by hand: a task split, reworded, dropped, put back, or added from the catalogue.

What a person set stays when the order is written again; what was done is never lost.
"""

from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.work import CauseKind, planned_alone
from shopdesk.domain.work.arrange import waits_for as catalogue_waits
from shopdesk.services import stages
from shopdesk.services.order_places import link_split_parts, settle_places, waits_for
from shopdesk.services.seat import Seat
from shopdesk.services.thermostat_card import refuse_without_card
from shopdesk.services.work_orders import fill, order_of, set_needs
from shopdesk.storage.tables.counter import ChangeOrder, Quote
from shopdesk.storage.tables.stores import ConsignmentPiece, Need
from shopdesk.storage.tables.work import Task, TaskAfter, TaskCause, TimeEntry, WorkOrder
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class DroppedTask:
    """A task that is off its order and may be put back; `because` is what was written then."""

    id: int
    name: str
    minutes: Spread
    by_hand: bool
    note: str


def split_task(seat: Seat, task_id: int, name: str, minutes: Spread) -> int:
    """A part of a task becomes one of its own behind it, with its causes; returns the part's key.

    The part's minutes come off the task. What waits for the task waits for the part too.
    """
    _named(name)
    with seat.change(Action.PLAN_WORK) as work:
        task = _open(work, task_id)
        if task.done_share == 100:
            raise Problem("“{name}” is ticked; there is nothing left to split.", name=task.name)
        if not 0 < minutes.likely < task.minutes_likely:
            raise Problem(
                "“{name}” likely takes {minutes} min; the part takes less than that and more than nothing.",
                field="minutes", name=task.name, minutes=task.minutes_likely,
            )  # fmt: skip
        part = Task(
            work_order_id=task.work_order_id, name=name.strip(), place=task.place, stage=task.stage,
            station=task.station, skills=list(task.skills), hazards=list(task.hazards),
            proofs=list(task.proofs), holds=list(task.holds), zone=task.zone, minutes_low=minutes.low,
            minutes_likely=minutes.likely, minutes_high=minutes.high, assigned_to_id=task.assigned_to_id,
            change_order_id=task.change_order_id, split_from_id=task.split_from_id or task.id, by_hand=[],
        )  # fmt: skip
        part.causes = [
            TaskCause(kind=c.kind, code=c.code, observation_id=c.observation_id) for c in task.causes
        ]
        _take_off(task, minutes)
        order = task.work_order
        order.tasks.append(part)
        work.session.flush()
        part.after.append(TaskAfter(after_task_id=task.id))
        link_split_parts(order)
        if task.split_from_id is not None:  # a part of a part stands behind it
            _wait(order, part, task)
        work.session.flush()
        settle_places(order)
        work.about(part, order.job_id)
        return part.id


def reword_task(seat: Seat, task_id: int, name: str, minutes: Spread | None = None) -> None:
    """Other words, and other minutes if given; both stay when the order is written again."""
    _named(name)
    with seat.change(Action.PLAN_WORK) as work:
        task = _open(work, task_id)
        if task.name != name.strip():
            task.name = name.strip()
            _by_hand(task, "name")
        if minutes is not None and minutes != _minutes(task):
            if minutes.likely < 1:
                raise Problem("A task takes a minute at least.", field="minutes")
            task.minutes_low, task.minutes_likely, task.minutes_high = (
                minutes.low, minutes.likely, minutes.high,
            )  # fmt: skip
            _by_hand(task, "minutes")
        work.about(task, task.work_order.job_id)


def move_task(seat: Seat, task_id: int, before_id: int | None) -> None:
    """A task goes before another on its order, or to its end; it stays there when the order is written again.

    Never before what it waits for, nor behind what waits for it.
    """
    with seat.change(Action.PLAN_WORK) as work:
        task = _open(work, task_id)
        order = task.work_order
        wanted = [t for t in sorted(order.tasks, key=lambda t: t.place) if not t.dropped and t is not task]
        keys = [t.id for t in wanted]
        wanted.insert(keys.index(before_id) if before_id in keys else len(wanted), task)
        _refuse_before_what_it_needs(order, task, wanted)
        for place, each in enumerate(wanted, 1):
            each.place = place
        _by_hand(task, "place")
        work.session.flush()
        settle_places(order)
        work.about(task, order.job_id)


def _refuse_before_what_it_needs(order: WorkOrder, task: Task, wanted: list[Task]) -> None:
    at = wanted.index(task)
    early = next((other for other in wanted[at + 1 :] if waits_for(order, task, other)), None)
    late = next((other for other in wanted[:at] if waits_for(order, other, task)), None)
    pair = (task, early) if early is not None else (late, task) if late is not None else None
    if pair is not None:
        raise Problem(
            "“{late}” waits for “{early}” and stands behind it.", late=pair[0].name, early=pair[1].name
        )


def let_plan_speak(seat: Seat, task_id: int) -> None:
    """Words and minutes set by hand no longer hold; the next writing of the order sets them."""
    with seat.change(Action.PLAN_WORK) as work:
        task = _open(work, task_id)
        task.by_hand = [word for word in task.by_hand if word == "dropped"]
        work.about(task, task.work_order.job_id)


def drop_task(seat: Seat, task_id: int, because: str) -> None:
    """Takes a task off its order, to stay off when the order is written again.

    Refused where something was done: hours, a tick, parts or pieces that are out.
    """
    if not because.strip():
        raise Problem("Say why it is not done.", field="because")
    with seat.change(Action.PLAN_WORK) as work:
        task = _open(work, task_id)
        _refuse_if_begun(work.session, task)
        task.dropped = True
        task.note = " ".join(w for w in (task.note, say("Dropped: {why}.", why=because.strip())) if w)
        _by_hand(task, "dropped")
        work.session.flush()
        settle_places(task.work_order)
        work.about(task, task.work_order.job_id)


def put_task_back(seat: Seat, task_id: int) -> None:
    """A dropped task is on its order again; a declined change order's is not."""
    with seat.change(Action.PLAN_WORK) as work:
        task = work.get(Task, task_id, "task")
        if not task.dropped:
            raise Problem("“{name}” is on the work order.", name=task.name)
        declined = work.session.scalar(
            sa.select(ChangeOrder.number)
            .join(Quote, Quote.id == ChangeOrder.quote_id)
            .where(ChangeOrder.id == task.change_order_id, Quote.declined_on.is_not(None))
        )
        if declined:
            raise Problem(
                "“{name}” belongs to {number}, which the customer declined. Find more anew.",
                name=task.name, number=declined,
            )  # fmt: skip
        task.dropped = False
        task.by_hand = [word for word in task.by_hand if word != "dropped"]
        if all(c.kind != CauseKind.HAND.value for c in task.causes):
            task.causes.append(TaskCause(kind=CauseKind.HAND.value, code=""))
        work.session.flush()
        settle_places(task.work_order)
        work.about(task, task.work_order.job_id)


def dropped_tasks(seat: Seat, job_id: int) -> list[DroppedTask]:
    """What is off a job's order, for putting back."""
    query = (
        sa.select(Task)
        .join(WorkOrder)
        .where(WorkOrder.job_id == job_id, Task.dropped == True)
        .order_by(Task.place, Task.id)
    )
    with seat.look() as session:
        return [
            DroppedTask(t.id, t.name, _minutes(t), "dropped" in t.by_hand, t.note)
            for t in session.scalars(query)
        ]


def add_known_task(seat: Seat, job_id: int, code: str, pieces: int = 1) -> int:
    """A task of the catalogue put on an order by a person, with its parts, in its place; returns its key."""
    if code not in seat.catalogue.tasks:
        raise Problem("There is no task {code} in the catalogue.", code=code, field="code")
    if not 1 <= pieces <= 99:
        raise Problem("A task is done for 1 to 99 pieces.", field="pieces")
    with seat.change(Action.PLAN_WORK) as work:
        order = order_of(work.session, job_id)
        refuse_without_card(work.session, [(job_id, code)])
        task = next((t for t in order.tasks if t.code == code), None)
        if task is not None and not task.dropped:
            raise Problem("“{name}” is on the work order already.", name=task.name)
        plan = planned_alone(
            seat.catalogue.tasks[code], stages.build_of(order.job), pieces, suspected=bool(order.suspects)
        )
        place = max((t.place for t in order.tasks), default=0) + 1
        with work.session.no_autoflush:
            if task is None:
                task = Task(code=code, work_order_id=order.id, by_hand=[])
                order.tasks.append(task)
            task.by_hand = [word for word in task.by_hand if word != "dropped"]
            fill(task, plan, place, {})
        work.session.flush()
        _link(seat, order, task)
        work.session.flush()
        settle_places(order)
        set_needs(work, {code: task}, [plan])
        work.about(task, job_id)
        return task.id


def _link(seat: Seat, order: WorkOrder, task: Task) -> None:
    """Waits between a new task and those there, as the catalogue has them, without a circle."""
    there = {t.code: t for t in order.tasks if not t.dropped and t.code in seat.catalogue.tasks}
    waits = catalogue_waits(seat.catalogue, list(there))
    for code in waits[task.code]:
        _wait(order, task, there[code])
    for later, earlier in waits.items():
        if task.code in earlier:
            _wait(order, there[later], task)


def _wait(order: WorkOrder, late: Task, early: Task) -> None:
    known = any(a.after_task_id == early.id for a in late.after)
    if not known and not waits_for(order, early, late):
        late.after.append(TaskAfter(after_task_id=early.id))


def _take_off(task: Task, part: Spread) -> None:
    """A part's minutes off a task; the three figures stay in order."""
    likely = task.minutes_likely - part.likely
    task.minutes_low = min(likely, max(0, task.minutes_low - part.low))
    task.minutes_high = max(likely, task.minutes_high - part.high)
    task.minutes_likely = likely
    _by_hand(task, "minutes")


def _refuse_if_begun(session: Session, task: Task) -> None:
    hours = session.scalar(sa.select(TimeEntry.id).where(TimeEntry.task_id == task.id).limit(1))
    pieces = session.scalar(
        sa.select(ConsignmentPiece.id).where(ConsignmentPiece.task_id == task.id).limit(1)
    )
    parts = session.scalar(sa.select(Need.id).where(Need.task_id == task.id, Need.covered > 0).limit(1))
    if task.done_share or hours or pieces or parts:
        raise Problem(
            "Something was done on “{name}” already (hours, a tick, parts or pieces sent out); it stays on "
            "the order. Split off what is not wanted, and drop that.",
            name=task.name,
        )


def _open(work: UnitOfWork, task_id: int) -> Task:
    task = work.get(Task, task_id, "task")
    if task.dropped:
        raise Problem("“{name}” is off the work order. Put it back first.", name=task.name)
    if task.work_order.job.ended_as:
        raise Problem("The job on {number} has ended.", number=task.work_order.job.range.number)
    return task


def _by_hand(task: Task, what: str) -> None:
    if what not in task.by_hand:
        task.by_hand = [*task.by_hand, what]


def _minutes(task: Task) -> Spread:
    return Spread(task.minutes_low, task.minutes_likely, task.minutes_high)


def _named(name: str) -> None:
    if not name.strip():
        raise Problem("A task needs a name, such as what is to be done to what.", field="name")
