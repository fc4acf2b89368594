"""What open tasks wait for: agreement, laboratory, gas off and capped, proven tightness, other tasks,
a thermostat card, parts, outwork, a word of the bench.

Hold points stop the start of a task too: nothing is lit, freed with heat, or opened that may hold
asbestos before its answer stands. What merely comes later does not: the clock always runs.
"""

from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.thermostat_card import CONDEMNING_TASKS
from shopdesk.domain.work.holds import AT_HOME, FLAME, LABORATORY
from shopdesk.services import laboratory
from shopdesk.services.agreed_lines import unasked_tasks
from shopdesk.services.comebacks import free_jobs
from shopdesk.services.gas_train import GasTrains
from shopdesk.storage.tables import work as rows
from shopdesk.storage.tables.bench import ThermostatCard
from shopdesk.storage.tables.counter import Agreement, ChangeOrder, Quote
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.stores import ConsignmentPiece, Need
from shopdesk.wording import say

HOLD_POINTS = ("laboratory", "gas-off", "gas-train-out", "tightness")


@dataclass(frozen=True, slots=True)
class Wait:
    """Why a task cannot be done now.

    `kind`: agreement (`what` a change order's number, or empty for the job's or teardown's quote),
    unasked (it came beside what is agreed, and no change order asks for it yet), laboratory (`what` the
    answer so far), gas-off, gas-train-out and tightness (`what` the task or proof that is wanted), card,
    task, part, outwork, blocked.
    """

    kind: str
    what: str

    @property
    def stops_the_start(self) -> bool:
        """Whether not even its clock may be started."""
        return self.kind in HOLD_POINTS or (self.kind == "agreement" and not self.what)


class Waiting:
    """What the open tasks of some jobs wait for, asked of the shop once for all of them."""

    def __init__(self, session: Session, jobs: set[int]) -> None:
        of_jobs = rows.WorkOrder.job_id.in_(jobs)
        self.names: dict[int, str] = {}
        self.open: set[int] = set()
        for key, name, done in session.execute(
            sa.select(rows.Task.id, rows.Task.name, rows.Task.done_share)
            .join(rows.WorkOrder)
            .where(of_jobs, rows.Task.dropped == False)
            .order_by(rows.Task.place)
        ):
            self.names[key] = name
            if done < 100:
                self.open.add(key)
        self.after: dict[int, list[int]] = {}
        for key, earlier in session.execute(
            sa.select(rows.TaskAfter.task_id, rows.TaskAfter.after_task_id)
            .join(rows.Task, rows.Task.id == rows.TaskAfter.task_id)
            .join(rows.WorkOrder)
            .where(of_jobs)
        ):
            self.after.setdefault(key, []).append(earlier)
        self.short: dict[int, str] = {}
        for key, name in session.execute(
            sa.select(Need.task_id, Need.name)
            .join(rows.Task)
            .join(rows.WorkOrder)
            .where(of_jobs, Need.covered + Need.called_off < Need.quantity)
        ):
            self.short.setdefault(key, name)
        self.out: dict[int, str] = dict(
            session.execute(
                sa.select(ConsignmentPiece.task_id, ConsignmentPiece.name)
                .join(rows.Task)
                .join(rows.WorkOrder)
                .where(of_jobs, ConsignmentPiece.back_on.is_(None))
            ).all()
        )
        self.answers = laboratory.answers(session, jobs)
        self.gas = GasTrains(session, jobs)
        self.cards = with_complete_card(session, jobs)
        self.minutes: dict[int, int] = {
            key: int(minutes or 0)
            for key, minutes in session.execute(
                sa.select(rows.TimeEntry.task_id, sa.func.sum(rows.TimeEntry.minutes))
                .join(rows.Task)
                .join(rows.WorkOrder)
                .where(of_jobs)
                .group_by(rows.TimeEntry.task_id)
            )
        }
        self.agreed = agreed_jobs(session, jobs)
        self.teardown = agreed_jobs(session, jobs, "teardown")
        self.changes: dict[int, str] = dict(
            session.execute(
                sa.select(ChangeOrder.id, ChangeOrder.number).where(ChangeOrder.job_id.in_(jobs))
            ).all()
        )
        self.consented = consented_changes(session, jobs)
        self.unasked = unasked_tasks(session, jobs)

    def of(self, task: rows.Task, job_id: int) -> tuple[Wait, ...]:
        if task.done_share == 100:
            return ()
        found = [*self._consent(task, job_id), *self._hold_points(task, job_id)]
        if task.code in CONDEMNING_TASKS and job_id not in self.cards:
            found.append(Wait("card", say("six questions and a forced test")))
        found += [Wait("task", self.names[key]) for key in self.after.get(task.id, ()) if key in self.open]
        if task.id in self.short:
            found.append(Wait("part", self.short[task.id]))
        if task.id in self.out:
            found.append(Wait("outwork", self.out[task.id]))
        if task.blocked_because:
            found.append(Wait("blocked", task.blocked_because))
        return tuple(found)

    def _consent(self, task: rows.Task, job_id: int) -> list[Wait]:
        found = []
        started = task.stage == "intake" or (task.stage == "teardown" and job_id in self.teardown)
        if not started and job_id not in self.agreed:
            found.append(Wait("agreement", ""))
        if task.change_order_id is not None and task.change_order_id not in self.consented:
            found.append(Wait("agreement", self.changes[task.change_order_id]))
        elif task.id in self.unasked:
            found.append(Wait("unasked", ""))
        return found

    def _hold_points(self, task: rows.Task, job_id: int) -> list[Wait]:
        found = []
        if LABORATORY in task.holds and not self.answers[job_id].clear:
            found.append(Wait("laboratory", self.answers[job_id].worst))
        for code in task.holds:
            missing = self.gas.missing(code, job_id)
            if missing:
                found.append(Wait(code, missing))
        if FLAME in task.hazards and task.stage != "intake":
            at_home = (AT_HOME,) if task.stage == "delivery" else ()
            why = self.gas.not_tight(job_id, *at_home)
            if why:
                found.append(Wait("tightness", why))
        return found


def with_complete_card(session: Session, jobs: set[int]) -> set[int]:
    """Jobs on which a thermostat may be condemned: one card of theirs is complete."""
    complete = sa.select(ThermostatCard.job_id).where(
        ThermostatCard.job_id.in_(jobs), ThermostatCard.complete_at.is_not(None)
    )
    return set(session.scalars(complete))


def agreed_jobs(session: Session, jobs: set[int], step: str = "job") -> set[int]:
    """Jobs with an agreed quote of a step, those on ranges of the shop's own, and free comebacks."""
    from_agreement = (
        sa.select(Agreement.job_id).join(Quote).where(Agreement.job_id.in_(jobs), Quote.step == step)
    )
    shops_own = sa.select(Job.id).where(Job.id.in_(jobs), Job.customer_id.is_(None))
    return {*session.scalars(from_agreement), *session.scalars(shops_own), *free_jobs(session, jobs)}


def consented_changes(session: Session, jobs: set[int]) -> set[int]:
    """Change orders whose quote is agreed, or on ranges of the shop's own."""
    agreed = (
        sa.select(ChangeOrder.id)
        .join(Agreement, Agreement.quote_id == ChangeOrder.quote_id)
        .where(ChangeOrder.job_id.in_(jobs))
    )
    own = sa.select(ChangeOrder.id).join(Job).where(Job.id.in_(jobs), Job.customer_id.is_(None))
    return {*session.scalars(agreed), *session.scalars(own)}
