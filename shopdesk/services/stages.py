"""What a job's stage hangs on, read job by job: its tasks, its proofs, its release and what it owes.

`stage_facts` gathers the same and more for many jobs at once, and writes the stage down.
"""

import datetime as dt
from collections.abc import Iterable
from typing import Protocol

import sqlalchemy as sa
from sqlalchemy.orm import Session, selectinload

from shopdesk.domain import proving
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Catalogue, ProofKind
from shopdesk.domain.stage import Stage
from shopdesk.services import gas_tables
from shopdesk.services.owed import open_of
from shopdesk.storage.tables.counter import Invoice
from shopdesk.storage.tables.proving import Proof, Release
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.work import Task, WorkOrder

WORK_STAGES = ("intake", "teardown", "repair", "refit")


class Worked(Protocol):
    """What of a task speaks for its proofs: a task's record, or the columns of one."""

    @property
    def stage(self) -> str: ...
    @property
    def proofs(self) -> list[str]: ...
    @property
    def touched_at(self) -> dt.datetime | None: ...
    @property
    def done_at(self) -> dt.datetime | None: ...


def open_jobs(session: Session) -> set[int]:
    """Jobs whose stage may still move."""
    moving = sa.select(Job.id).where(Job.ended_as == "", Job.stage != Stage.SETTLED.value)
    return set(session.scalars(moving))


def tasks_of(session: Session, job_id: int, *, with_causes: bool = False) -> sa.ScalarResult[Task]:
    """The tasks on a job's order, dropped ones left out, in order; with their causes if asked."""
    tasks = sa.select(Task).join(WorkOrder).where(WorkOrder.job_id == job_id, Task.dropped == False)
    if with_causes:
        tasks = tasks.options(selectinload(Task.causes))
    return session.scalars(tasks.order_by(Task.place))


def build_of(job: Job) -> Build:
    return Build(**job.range.build)


def proofs_due(session: Session, catalogue: Catalogue, job: Job) -> list[ProofKind]:
    """The proofs this job needs before it may leave: by its build, and by the work on its order."""
    return due_for(catalogue, job, tasks_of(session, job.id))


def due_for(catalogue: Catalogue, job: Job, tasks: Iterable[Worked]) -> list[ProofKind]:
    """As `proofs_due`, of tasks that were read already."""
    features = build_of(job).features
    called_for = {code for task in tasks for code in task.proofs}
    return [
        k
        for k in catalogue.proofs.values()
        if not k.at_home and (k.code in called_for or (k.always and k.applies <= features))
    ]


def unsold(job: Job) -> bool:
    """A range of the shop's own that nobody has bought yet."""
    return job.customer_id is None and job.range.owner_id is None


def proofs_missing(session: Session, catalogue: Catalogue, job: Job) -> list[ProofKind]:
    """The due proofs that do not stand. Gas identity does not where the house is known to have another
    gas than the range is set to, whatever was read before that was known."""
    readings = [
        proving.Reading(p.kind, p.at, proving.Result(p.result))
        for p in session.scalars(sa.select(Proof).where(Proof.job_id == job.id))
    ]
    return missing_for(catalogue, job, list(tasks_of(session, job.id)), readings)


def missing_for(
    catalogue: Catalogue, job: Job, tasks: Iterable[Worked], readings: list[proving.Reading]
) -> list[ProofKind]:
    """As `proofs_missing`, of tasks and readings that were read already."""
    tasks = list(tasks)
    touched: dict[str, dt.datetime] = {}
    for task in tasks:
        at = later(task.touched_at, task.done_at)
        if at is not None and reopens(task.stage):
            touched.update({kind: max(at, touched.get(kind, at)) for kind in task.proofs})
    due = due_for(catalogue, job, tasks)
    missing = proving.missing(due, readings, touched)
    if not gases_differ(job.range):
        return missing
    codes = {kind.code for kind in missing} | {"gas-identity"}
    return sorted((kind for kind in due if kind.code in codes), key=lambda kind: kind.order)


def gases_differ(row: Range) -> bool:
    """The house is known to have another gas than the range is set to."""
    house, set_to = gas_tables.gas_code(row.house_gas), gas_tables.gas_code(row.set_to_gas)
    return bool(house and set_to and house != set_to)


def reopens(stage: str) -> bool:
    """Whether work of a task's stage makes its proofs due again; the taking of a proof does not."""
    return stage in WORK_STAGES


def later(touched_at: dt.datetime | None, done_at: dt.datetime | None) -> dt.datetime | None:
    """When a task was last worked on: its tick, whole or in part, its clock, or a tick taken back."""
    return max((at for at in (touched_at, done_at) if at is not None), default=None)


def last_release(session: Session, job_id: int) -> Release | None:
    return session.scalars(
        sa.select(Release).where(Release.job_id == job_id).order_by(Release.id.desc()).limit(1)
    ).first()


def balance(session: Session, job_id: int) -> int:
    """What is still owed on a job's issued papers, minor units: billed less credited, settled and
    written off."""
    bills = session.scalars(
        sa.select(Invoice).where(
            Invoice.job_id == job_id, Invoice.number.is_not(None), Invoice.kind == "invoice"
        )
    ).all()
    return sum(each.asked_cents for each in open_of(session, bills).values())
