"""What writing a work order again would do, shown before it is written: added, gone, changed."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.money import NOTHING, Spread
from shopdesk.domain.work import (
    Cause,
    CauseKind,
    PlannedOutwork,
    PlannedPart,
    PlannedTask,
    TaskChange,
    changes,
    plan_work,
)
from shopdesk.services import conversions, observing, walks
from shopdesk.services.because import because
from shopdesk.services.seat import Seat
from shopdesk.services.stages import build_of
from shopdesk.services.work_orders import clocked_minutes, keeps_its_place
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.stores import Need
from shopdesk.storage.tables.work import Task, WorkOrder
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class TaskBrief:
    """A task that would come or go, with why it is there."""

    code: str
    name: str
    minutes: Spread
    because: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FieldChange:
    """One thing that would differ, in words."""

    name: str
    was: str
    becomes: str


@dataclass(frozen=True, slots=True)
class ChangedTask:
    code: str
    name: str
    fields: tuple[FieldChange, ...]


@dataclass(frozen=True, slots=True)
class OrderDifference:
    """What would be added, gone and changed; `stays` would go but something was done on it."""

    added: tuple[TaskBrief, ...]
    gone: tuple[TaskBrief, ...]
    stays: tuple[TaskBrief, ...]
    changed: tuple[ChangedTask, ...]

    def __bool__(self) -> bool:
        return bool(self.added or self.gone or self.changed)


def preview_changes(seat: Seat, job_id: int, scope: Scope | None = None) -> OrderDifference:
    """The difference between a job's order and what its newest walk-round and scope ask for now."""
    with seat.look() as session:
        job = session.get_one(Job, job_id)
        walk = walks.newest(session, job_id)
        answers = [observing.answer_of(o) for o in walk.observations] if walk else []
        asked = conversions.roots_of(session, job_id)
        wanted = plan_work(
            seat.catalogue, build_of(job), answers, scope or Scope(job.scope), asked=asked
        ).tasks
        order = session.scalar(sa.select(WorkOrder).where(WorkOrder.job_id == job_id))
        rows = {t.code: t for t in order.tasks if t.code} if order else {}
        clocked = set(clocked_minutes(session, order.id)) if order else set()
        there = {code: t for code, t in rows.items() if not t.dropped}
        needs = _needs(session, [t.id for t in rows.values()])
        plans = {plan.code: plan for plan in wanted}
        old = [_as_planned(t, order, needs, plans.get(t.code)) for t in there.values() if order]
        new = [_as_it_would_stand(plan, rows.get(plan.code), needs) for plan in wanted if _comes(rows, plan)]
        difference = changes(old, new)
        staying = {
            t.code for t in difference.gone if keeps_its_place(there[t.code], there[t.code].id in clocked)
        }
        return OrderDifference(
            added=_briefs(seat, difference.added),
            gone=_briefs(seat, (t for t in difference.gone if t.code not in staying)),
            stays=_briefs(seat, (t for t in difference.gone if t.code in staying)),
            changed=tuple(_changed(seat, change) for change in difference.changed),
        )


def _comes(rows: dict[str, Task], plan: PlannedTask) -> bool:
    """Not what a person dropped: it stays off the order."""
    row = rows.get(plan.code)
    return row is None or not row.dropped or "dropped" not in row.by_hand


Needs = dict[int, list[Need]]


def _needs(session: Session, keys: list[int]) -> Needs:
    by_task: Needs = {}
    for need in session.scalars(sa.select(Need).where(Need.task_id.in_(keys)).order_by(Need.id)):
        by_task.setdefault(need.task_id, []).append(need)
    return by_task


def _as_planned(task: Task, order: WorkOrder, needs: Needs, plan: PlannedTask | None) -> PlannedTask:
    """A row as a plan would have it, without prices: those follow the catalogue by themselves.

    A part that is called off stays so while the plan asks for it, and is no difference.
    """
    asked = {part.name for part in plan.parts} if plan else set()
    codes = {t.id: t.code for t in order.tasks if t.code}
    parts = tuple(
        PlannedPart(n.name, NOTHING, n.quantity)
        for n in needs.get(task.id, ())
        if n.quantity > n.called_off or n.name in asked
    )
    outwork = PlannedOutwork(task.outwork_trade, NOTHING, NOTHING, 1) if task.outwork_trade else None
    return PlannedTask(
        code=task.code,
        name=task.name,
        because=_but_by_hand(Cause(CauseKind(c.kind), c.code) for c in task.causes),
        after=tuple(codes[a.after_task_id] for a in task.after if a.after_task_id in codes),
        count=task.count,
        minutes=Spread(task.minutes_low, task.minutes_likely, task.minutes_high),
        parts=parts,
        outwork=outwork,
        hazards=tuple(task.hazards),
        proofs=tuple(task.proofs),
        holds=tuple(task.holds),
    )


def _as_it_would_stand(plan: PlannedTask, row: Task | None, needs: Needs) -> PlannedTask:
    """A planned task with what a person set and what was covered kept, without prices."""
    covered = {n.name: n.covered for n in needs.get(row.id, ())} if row else {}
    plan = replace(
        plan,
        parts=tuple(
            PlannedPart(p.name, NOTHING, max(p.count, covered.get(p.name, 0), 1)) for p in plan.parts
        ),
        outwork=PlannedOutwork(plan.outwork.trade, NOTHING, NOTHING, 1) if plan.outwork else None,
    )
    if row is None or row.dropped:
        return plan
    if "name" in row.by_hand:
        plan = replace(plan, name=row.name)
    if "minutes" in row.by_hand:
        plan = replace(plan, minutes=Spread(row.minutes_low, row.minutes_likely, row.minutes_high))
    return plan


def _but_by_hand(causes: Iterable[Cause]) -> tuple[Cause, ...]:
    """Causes as findings give them; a person's word stays beside them whatever is found."""
    return tuple(c for c in causes if c.kind is not CauseKind.HAND)


def _briefs(seat: Seat, tasks: Iterable[PlannedTask]) -> tuple[TaskBrief, ...]:
    return tuple(TaskBrief(t.code, t.name, t.minutes, _causes(seat, t.because)) for t in tasks)


def _causes(seat: Seat, causes: Iterable[Cause]) -> tuple[str, ...]:
    return tuple(because(seat.catalogue, c.kind.value, c.code) for c in causes)


def _changed(seat: Seat, change: TaskChange) -> ChangedTask:
    fields = tuple(
        FieldChange(_LABELS[name](), _told(seat, change.old, name), _told(seat, change.new, name))
        for name in change.fields
    )
    return ChangedTask(change.new.code, change.new.name, fields)


_LABELS = {
    "name": lambda: say("Name"),
    "count": lambda: say("How often"),
    "minutes": lambda: say("Hours"),
    "parts": lambda: say("Parts"),
    "outwork": lambda: say("Outwork"),
    "because": lambda: say("Because"),
    "after": lambda: say("After"),
    "proofs": lambda: say("Proofs due after it"),
    "holds": lambda: say("Hold points"),
    "hazards": lambda: say("Cautions"),
}


def _told(seat: Seat, task: PlannedTask, name: str) -> str:
    """One field of a task in words."""
    catalogue = seat.catalogue
    if name == "minutes":
        return seat.region.hours_range(task.minutes)
    if name == "because":
        return "; ".join(_causes(seat, task.because))
    listed = {
        "parts": [f"{p.count} × {p.name}" for p in task.parts],
        "outwork": [say(task.outwork.trade)] if task.outwork else [],
        "after": [catalogue.tasks[c].name if c in catalogue.tasks else c for c in task.after],
        "proofs": [catalogue.proofs[c].name if c in catalogue.proofs else c for c in task.proofs],
        "hazards": [catalogue.cautions[c].name if c in catalogue.cautions else c for c in task.hazards],
        "holds": [say(code) for code in task.holds],
    }
    return ", ".join(listed[name]) if name in listed else str(getattr(task, name))
