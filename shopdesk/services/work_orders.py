"""Work orders: written from the findings, brought up to date without losing what was done."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.answers import Answer
from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.money import Spread, marked_up
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.work import Cause, CauseKind, PlannedTask, plan_work
from shopdesk.domain.work.holds import LABORATORY, holds_alone
from shopdesk.services import conversions, observing, settings, walks
from shopdesk.services.laboratory import places_of
from shopdesk.services.order_places import link_split_parts, put_where_moved, settle_places
from shopdesk.services.seat import Seat
from shopdesk.services.stages import build_of
from shopdesk.storage.tables import work as rows
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.stores import Need
from shopdesk.storage.unit_of_work import UnitOfWork


@dataclass(frozen=True, slots=True)
class OrderChange:
    """What writing the order did, by names of tasks."""

    added: tuple[str, ...]
    gone: tuple[str, ...]
    changed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TaskLine:
    """A task as orders and papers list it; `because` are codes, `after` task keys."""

    id: int
    code: str
    name: str
    because: tuple[Cause, ...]
    after: tuple[int, ...]
    count: int
    minutes: Spread
    stage: str
    station: str
    zone: str
    skills: tuple[str, ...]
    hazards: tuple[str, ...]
    proofs: tuple[str, ...]
    holds: tuple[str, ...]
    done_share: int
    clocked: int  # minutes
    assigned_to_id: int | None
    blocked_because: str
    note: str
    outwork_trade: str


def write_order(seat: Seat, job_id: int, scope: Scope | None = None) -> OrderChange:
    """Writes the job's work order from its newest walk-round, or brings it up to date.

    Tasks that were ticked, clocked or noted stay whatever the findings now say; other tasks
    that no longer follow from anything are dropped from the order, not deleted.
    """
    with seat.change(Action.PLAN_WORK) as work:
        job = work.get(Job, job_id, "job")
        if scope is not None:
            job.scope = scope.value
        order, change = bring_up_to_date(seat, work, job)
        work.about(order, job_id)
        return change


def bring_up_to_date(seat: Seat, work: UnitOfWork, job: Job) -> tuple[rows.WorkOrder, OrderChange]:
    """The order as findings, scope and conversion ask for it now, within another unit of work."""
    walk = walks.newest(work.session, job.id)
    if walk is None:
        raise Problem(
            "{number} has no walk-round yet. Walk round it first; the work follows from what is found.",
            number=job.range.number,
        )
    order = work.session.scalar(sa.select(rows.WorkOrder).where(rows.WorkOrder.job_id == job.id))
    if order is None:
        order = work.add(rows.WorkOrder(job_id=job.id, written_at=work.now))
    order.scope = job.scope
    answers = [observing.answer_of(o) for o in walk.observations]
    asked = conversions.roots_of(work.session, job.id)
    planned = plan_work(seat.catalogue, build_of(job), answers, Scope(job.scope), asked=asked)
    order.suspects = places_of(
        seat, [cause for hold in planned.holds if hold.code == LABORATORY for cause in hold.because]
    )
    work.session.flush()
    observed = {o.finding: o.id for o in walk.observations}
    change = _bring_in_step(work, order, planned.tasks, observed)
    hold_the_others(seat, order, {plan.code for plan in planned.tasks})
    return order, change


def hold_the_others(seat: Seat, order: rows.WorkOrder, planned: Collection[str]) -> None:
    """Hold points of the tasks that no plan speaks for: those a person added, and split parts."""
    by_id = {task.id: task for task in order.tasks}
    for task in order.tasks:
        known = seat.catalogue.tasks.get(task.code)
        root = by_id.get(task.split_from_id or 0)
        if root is not None and not root.dropped:
            task.holds, task.hazards, task.proofs = list(root.holds), list(root.hazards), list(root.proofs)
        elif known is not None and task.code not in planned:
            task.holds = list(holds_alone(known, bool(order.suspects)))


def preview(seat: Seat, job_id: int, scope: Scope) -> tuple[PlannedTask, ...]:
    """What the order of a scope would hold, without writing anything."""
    with seat.look() as session:
        job = session.get_one(Job, job_id)
        walk = walks.newest(session, job_id)
        answers: list[Answer] = [observing.answer_of(o) for o in walk.observations] if walk else []
        asked = conversions.roots_of(session, job_id)
        return plan_work(seat.catalogue, build_of(job), answers, scope, asked=asked).tasks


def add_task(seat: Seat, job_id: int, name: str, minutes: Spread, why: str = "") -> int:
    """A task made by hand, at the end of its order."""
    if not name.strip():
        raise Problem("A task needs a name, such as what is to be done to what.", field="name")
    with seat.change(Action.PLAN_WORK) as work:
        order = order_of(work.session, job_id)
        place = max((t.place for t in order.tasks), default=0) + 1
        task = work.add(
            rows.Task(
                work_order_id=order.id,
                name=name.strip(),
                place=place,
                note=why.strip(),
                minutes_low=minutes.low,
                minutes_likely=minutes.likely,
                minutes_high=minutes.high,
                skills=[],
                hazards=[],
                proofs=[],
                holds=[],
            )
        )
        task.causes.append(rows.TaskCause(kind=CauseKind.HAND.value, code=""))
        work.session.flush()
        work.about(task, job_id)
        return task.id


def order_of(session: Session, job_id: int) -> rows.WorkOrder:
    order = session.scalar(sa.select(rows.WorkOrder).where(rows.WorkOrder.job_id == job_id))
    if order is None:
        raise Problem("There is no work order yet. Write it from the walk-round first.")
    return order


def task_lines(seat: Seat, job_id: int) -> list[TaskLine]:
    """The tasks of a job in order."""
    with seat.look() as session:
        return lines_of(session, job_id)


def lines_of(session: Session, job_id: int) -> list[TaskLine]:
    order_id = session.scalar(sa.select(rows.WorkOrder.id).where(rows.WorkOrder.job_id == job_id))
    if order_id is None:
        return []
    tasks = session.scalars(
        sa.select(rows.Task)
        .where(rows.Task.work_order_id == order_id, rows.Task.dropped == False)
        .options(sa.orm.selectinload(rows.Task.causes), sa.orm.selectinload(rows.Task.after))
        .order_by(rows.Task.place)
    )
    clocked = clocked_minutes(session, order_id)
    return [_line(task, clocked.get(task.id, 0)) for task in tasks]


def clocked_minutes(session: Session, order_id: int) -> dict[int, int]:
    """Minutes on the clock by task; a running clock counts when it stops."""
    found = session.execute(
        sa.select(rows.TimeEntry.task_id, sa.func.sum(rows.TimeEntry.minutes))
        .join(rows.Task)
        .where(rows.Task.work_order_id == order_id)
        .group_by(rows.TimeEntry.task_id)
    )
    return {task_id: int(minutes or 0) for task_id, minutes in found}


def _line(task: rows.Task, clocked: int) -> TaskLine:
    return TaskLine(
        id=task.id,
        code=task.code,
        name=task.name,
        because=tuple(Cause(CauseKind(c.kind), c.code) for c in task.causes),
        after=tuple(a.after_task_id for a in task.after),
        count=task.count,
        minutes=Spread(task.minutes_low, task.minutes_likely, task.minutes_high),
        stage=task.stage,
        station=task.station,
        zone=task.zone,
        skills=tuple(task.skills),
        hazards=tuple(task.hazards),
        proofs=tuple(task.proofs),
        holds=tuple(task.holds),
        done_share=task.done_share,
        clocked=clocked,
        assigned_to_id=task.assigned_to_id,
        blocked_because=task.blocked_because,
        note=task.note,
        outwork_trade=task.outwork_trade,
    )


def _bring_in_step(
    work: UnitOfWork, order: rows.WorkOrder, planned: tuple[PlannedTask, ...], observed: dict[str, int]
) -> OrderChange:
    kept = {t.code: t for t in order.tasks if t.code}
    clocked = set(clocked_minutes(work.session, order.id))
    added, changed = [], []
    by_code: dict[str, rows.Task] = {}
    for place, plan in enumerate(planned, start=1):
        task = kept.get(plan.code)
        if task is None or (task.dropped and "dropped" not in task.by_hand):
            added.append(plan.name)
        if task is None:
            task = rows.Task(code=plan.code, work_order_id=order.id, by_hand=[])
            order.tasks.append(task)
        elif not task.dropped and task.count != plan.count:
            changed.append(plan.name)
        fill(task, plan, place, observed)
        by_code[plan.code] = task
    gone = []
    for code, task in kept.items():
        if code in by_code or task.dropped:
            continue
        if keeps_its_place(task, task.id in clocked):
            continue  # what was done stays to be seen, behind the rest
        task.dropped = True
        gone.append(task.name)
    behind = [t for t in order.tasks if not t.dropped and by_code.get(t.code) is not t]
    for place, task in enumerate(sorted(behind, key=lambda t: (t.place, t.id)), start=len(planned) + 1):
        task.place = place
    work.session.flush()
    _set_after(by_code, planned, {t.id for t in order.tasks if not t.code})
    link_split_parts(order)
    work.session.flush()
    put_where_moved(order)
    settle_places(order)
    set_needs(work, by_code, planned)
    return OrderChange(tuple(added), tuple(gone), tuple(changed))


def keeps_its_place(task: rows.Task, clocked: bool) -> bool:
    """Whether a task stays on its order although nothing found calls for it any more."""
    by_a_person = any(cause.kind == CauseKind.HAND.value for cause in task.causes)
    return bool(task.done_share or task.note or clocked or task.change_order_id or by_a_person)


def fill(task: rows.Task, plan: PlannedTask, place: int, observed: dict[str, int]) -> None:
    """The plan's facts into a task; what a person set by hand stays as it was set."""
    task.dropped, task.count = "dropped" in task.by_hand, plan.count
    if "place" not in task.by_hand:
        task.place = place
    if "name" not in task.by_hand:
        task.name = plan.name
    task.stage, task.station, task.zone = plan.stage, plan.station, plan.zone
    task.skills, task.hazards = list(plan.skills), list(plan.hazards)
    task.proofs, task.holds = list(plan.proofs), list(plan.holds)
    if "minutes" not in task.by_hand:
        minutes = plan.minutes
        task.minutes_low, task.minutes_likely, task.minutes_high = minutes.low, minutes.likely, minutes.high
    if plan.outwork:
        task.outwork_trade, task.outwork_days = plan.outwork.trade, plan.outwork.days.likely
        task.outwork_cents = plan.outwork.cents.likely
    else:
        task.outwork_trade, task.outwork_cents, task.outwork_days = "", 0, 0
    wanted = [(c.kind.value, c.code) for c in plan.because]
    have = {(c.kind, c.code): c for c in task.causes}
    for key, cause in have.items():
        if key not in wanted and cause.kind != CauseKind.HAND.value:
            task.causes.remove(cause)
    for kind, code in wanted:
        if (kind, code) not in have:
            have[kind, code] = rows.TaskCause(kind=kind, code=code)
            task.causes.append(have[kind, code])
        have[kind, code].observation_id = observed.get(code) if kind == CauseKind.FINDING.value else None


def _set_after(by_code: dict[str, rows.Task], planned: Iterable[PlannedTask], by_hand: set[int]) -> None:
    """What each planned task waits for; links to tasks made `by_hand` stay."""
    for plan in planned:
        task = by_code[plan.code]
        wanted = {by_code[code].id for code in plan.after if code in by_code}
        have = {a.after_task_id: a for a in task.after}
        for key, after in have.items():
            if key not in wanted and key not in by_hand:
                task.after.remove(after)
        for key in sorted(wanted - set(have)):
            task.after.append(rows.TaskAfter(after_task_id=key))


def set_needs(work: UnitOfWork, by_code: dict[str, rows.Task], planned: Iterable[PlannedTask]) -> None:
    """Parts the tasks use up; what is covered already is kept, prices of the rest follow the catalogue."""
    markup = settings.read(work.session, settings.Terms).part_markup_percent
    for plan in planned:
        task = by_code[plan.code]
        have = {n.name: n for n in work.session.scalars(sa.select(Need).where(Need.task_id == task.id))}
        for part in plan.parts:
            need = have.pop(part.name, None)
            if need is None:
                need = work.add(Need(task_id=task.id, name=part.name, covered=0))
            need.quantity = max(part.count, need.covered, 1)
            need.called_off = min(need.called_off or 0, need.quantity - need.covered)
            if not need.covered:
                need.cost_cents = part.each.likely
                need.price_cents = marked_up(part.each.likely, markup)
        for need in have.values():  # papers may name it: called off, never deleted
            need.called_off = need.quantity - need.covered
