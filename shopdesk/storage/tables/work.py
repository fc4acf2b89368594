"""Work orders: tasks, why they are there, what they wait for, and the hours they took."""

import datetime as dt
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, mapped_column, relationship

from shopdesk.storage.column_types import Cents, Count, Doc, Flag, UtcTime
from shopdesk.storage.tables.base import STRICT, Base, Keyed, Versioned, maybe_ref, ref, text
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.shop import Staff


class WorkOrder(Versioned, Base):
    """The tasks of one job in order."""

    __tablename__ = "work_order"
    job_id: Mapped[int] = mapped_column(sa.ForeignKey("job.id"), unique=True)
    scope: Mapped[str] = text("mechanical")
    written_at: Mapped[dt.datetime] = mapped_column(UtcTime)
    suspects: Mapped[Any] = mapped_column(Doc, nullable=True, default=list)  # checkpoints for a laboratory
    job: Mapped[Job] = relationship()
    tasks: Mapped[list["Task"]] = relationship(back_populates="work_order", order_by="Task.place")
    __table_args__ = (STRICT,)


class Task(Versioned, Base):
    """One piece of work on one job; `dropped` ones stay, with what was done on them."""

    __tablename__ = "task"
    work_order_id: Mapped[int] = ref("work_order.id")
    code: Mapped[str] = text()  # the catalogue's; empty for one made by hand
    name: Mapped[str] = text(None)
    place: Mapped[int] = mapped_column(Count)
    stage: Mapped[str] = text("repair")
    station: Mapped[str] = text("bench")
    skills: Mapped[Any] = mapped_column(Doc, default=list)
    hazards: Mapped[Any] = mapped_column(Doc, default=list)
    proofs: Mapped[Any] = mapped_column(Doc, default=list)
    holds: Mapped[Any] = mapped_column(Doc, default=list)
    zone: Mapped[str] = text()
    count: Mapped[int] = mapped_column(Count, default=1)
    minutes_low: Mapped[int] = mapped_column(Count)
    minutes_likely: Mapped[int] = mapped_column(Count)
    minutes_high: Mapped[int] = mapped_column(Count)
    outwork_trade: Mapped[str] = text()
    outwork_cents: Mapped[int] = mapped_column(Cents, default=0)  # likely cost of all pieces
    outwork_days: Mapped[int] = mapped_column(Count, default=0)  # likely days away
    done_share: Mapped[int] = mapped_column(Count, default=0)  # percent, ticked by the technician
    done_at: Mapped[dt.datetime | None] = mapped_column(UtcTime, default=None)
    done_by_id: Mapped[int | None] = maybe_ref("staff.id", index=False)
    touched_at: Mapped[dt.datetime | None] = mapped_column(UtcTime, default=None)  # last work or untick
    assigned_to_id: Mapped[int | None] = maybe_ref("staff.id")
    blocked_because: Mapped[str] = text()
    note: Mapped[str] = text()
    dropped: Mapped[bool] = mapped_column(Flag, default=False)
    change_order_id: Mapped[int | None] = maybe_ref("change_order.id")
    split_from_id: Mapped[int | None] = maybe_ref("task.id")
    by_hand: Mapped[Any] = mapped_column(Doc, default=list)  # what a person set: name, minutes, dropped
    work_order: Mapped[WorkOrder] = relationship(back_populates="tasks")
    causes: Mapped[list["TaskCause"]] = relationship(
        back_populates="task", cascade="all, delete-orphan", order_by="TaskCause.id"
    )
    after: Mapped[list["TaskAfter"]] = relationship(
        cascade="all, delete-orphan", foreign_keys="TaskAfter.task_id"
    )
    assigned_to: Mapped[Staff | None] = relationship(foreign_keys=assigned_to_id)
    __table_args__ = (
        sa.CheckConstraint("done_share between 0 and 100", name="done_share"),
        sa.Index(
            "uq_task_code",
            "work_order_id",
            "code",
            unique=True,
            sqlite_where=sa.text("code <> ''"),
            postgresql_where=sa.text("code <> ''"),
        ),
        STRICT,
    )


class TaskCause(Keyed, Base):
    """Why a task is on the order: an observation, another task, or the usual work of a scope."""

    __tablename__ = "task_cause"
    task_id: Mapped[int] = ref("task.id")
    kind: Mapped[str] = text(None)  # finding, task, routine, not seen, hand, conversion
    code: Mapped[str] = text()  # of the finding, task or checkpoint, or the gases; empty for routine
    observation_id: Mapped[int | None] = maybe_ref("observation.id")
    task: Mapped[Task] = relationship(back_populates="causes")
    __table_args__ = (
        sa.CheckConstraint(
            "kind in ('finding','task','routine','not seen','hand','conversion')", name="kind"
        ),
        STRICT,
    )


class TaskAfter(Base):
    """A task stands after another of the same order."""

    __tablename__ = "task_after"
    task_id: Mapped[int] = mapped_column(sa.ForeignKey("task.id"), primary_key=True)
    after_task_id: Mapped[int] = mapped_column(sa.ForeignKey("task.id"), primary_key=True, index=True)
    __table_args__ = (sa.CheckConstraint("task_id <> after_task_id", name="not_itself"), STRICT)


class TimeEntry(Versioned, Base):
    """Hours of one person on one task; a running clock has no minutes yet."""

    __tablename__ = "time_entry"
    task_id: Mapped[int] = ref("task.id")
    staff_id: Mapped[int] = ref("staff.id", index=False)
    started_at: Mapped[dt.datetime] = mapped_column(UtcTime)
    minutes: Mapped[int | None] = mapped_column(Count, default=None)
    note: Mapped[str] = text()
    task: Mapped[Task] = relationship()
    staff: Mapped[Staff] = relationship()
    __table_args__ = (
        sa.CheckConstraint("minutes is null or minutes > 0", name="minutes"),
        sa.Index(
            "uq_time_entry_running",
            "staff_id",
            unique=True,
            sqlite_where=sa.text("minutes IS NULL"),
            postgresql_where=sa.text("minutes IS NULL"),
        ),
        sa.Index("ix_time_entry_staff", "staff_id", "started_at"),
        STRICT,
    )


class HoldAnswer(Keyed, Base):
    """The answer a hold point waited for: a laboratory's, never a person's eye; only ever added to."""

    __tablename__ = "hold_answer"
    job_id: Mapped[int] = ref("job.id")
    hold: Mapped[str] = text(None)
    at: Mapped[dt.datetime] = mapped_column(UtcTime)
    staff_id: Mapped[int] = ref("staff.id", index=False)
    answer: Mapped[str] = text(None)  # negative, positive
    reference: Mapped[str] = text(None)  # the laboratory and its report number
    covers: Mapped[Any] = mapped_column(Doc, nullable=True, default=list)  # checkpoints; none: all of them
    __table_args__ = (sa.CheckConstraint("answer in ('negative','positive')", name="answer"), STRICT)
