"""The bench calendar: who is there when, stations, the kept plans, pins, promises and their odds."""

import datetime as dt
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, mapped_column, relationship

from shopdesk.storage.column_types import Count, Day, Doc, Flag, Key, UtcTime
from shopdesk.storage.tables.base import STRICT, Base, Keyed, Versioned, maybe_ref, ref, text
from shopdesk.storage.tables.ranges import Appointment, Job
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.work import Task


class WorkingHours(Versioned, Base):
    """A person's own week where it differs from the shop's opening hours."""

    __tablename__ = "working_hours"
    staff_id: Mapped[int] = mapped_column(Key, sa.ForeignKey("staff.id"), unique=True)
    week: Mapped[Any] = mapped_column(Doc)  # seven days from Monday, each [[begin, end], ...] in minutes
    staff: Mapped[Staff] = relationship()
    __table_args__ = (STRICT,)


class Leave(Versioned, Base):
    """Days on which a person is away, first to last."""

    __tablename__ = "leave"
    staff_id: Mapped[int] = ref("staff.id")
    first_day: Mapped[dt.date] = mapped_column(Day)
    last_day: Mapped[dt.date] = mapped_column(Day)
    why: Mapped[str] = text()
    called_off: Mapped[bool] = mapped_column(Flag, default=False)
    staff: Mapped[Staff] = relationship()
    __table_args__ = (sa.CheckConstraint("last_day >= first_day", name="days"), STRICT)


class OddDay(Versioned, Base):
    """A day that is not as the week says: the shop closed, or open on a public holiday."""

    __tablename__ = "odd_day"
    day: Mapped[dt.date] = mapped_column(Day, unique=True)
    is_open: Mapped[bool] = mapped_column(Flag, default=False)
    why: Mapped[str] = text()
    __table_args__ = (STRICT,)


class OutworkClosure(Versioned, Base):
    """Days on which a trade outside (plater, enameller, ...) takes nothing in and gives nothing back."""

    __tablename__ = "outwork_closure"
    trade: Mapped[str] = text(None)
    first_day: Mapped[dt.date] = mapped_column(Day)
    last_day: Mapped[dt.date] = mapped_column(Day)
    why: Mapped[str] = text()
    called_off: Mapped[bool] = mapped_column(Flag, default=False)
    __table_args__ = (sa.CheckConstraint("last_day >= first_day", name="days"), STRICT)


class Station(Versioned, Base):
    """How many can work at a kind of station at once; `code` is the catalogue's word for it."""

    __tablename__ = "station"
    code: Mapped[str] = mapped_column(sa.Text, unique=True)
    room: Mapped[int] = mapped_column(Count)
    __table_args__ = (sa.CheckConstraint("room > 0", name="room"), STRICT)


class AppointmentPerson(Base):
    """Who goes to an appointment."""

    __tablename__ = "appointment_person"
    appointment_id: Mapped[int] = mapped_column(Key, sa.ForeignKey("appointment.id"), primary_key=True)
    staff_id: Mapped[int] = mapped_column(Key, sa.ForeignKey("staff.id"), primary_key=True, index=True)
    appointment: Mapped[Appointment] = relationship()
    staff: Mapped[Staff] = relationship()
    __table_args__ = (STRICT,)


class BenchPlan(Versioned, Base):
    """A plan that was kept. The newest one not undone is in force."""

    __tablename__ = "bench_plan"
    made_at: Mapped[dt.datetime] = mapped_column(UtcTime)
    made_by_id: Mapped[int] = ref("staff.id", index=False)
    found_by: Mapped[str] = text()
    why: Mapped[str] = text()  # what the plan was made anew for
    lateness: Mapped[int] = mapped_column(Count)  # half-hours late, summed over ranges
    changes: Mapped[int] = mapped_column(Count)
    pins: Mapped[Any] = mapped_column(Doc, default=list)  # pins as they stood when it was kept
    left_out: Mapped[Any] = mapped_column(Doc, default=list)  # [sentence, task keys] of what has no place
    assumed: Mapped[Any] = mapped_column(Doc, default=list)  # sentences
    undone_at: Mapped[dt.datetime | None] = mapped_column(UtcTime, default=None)
    __table_args__ = (STRICT,)


class PlannedTask(Base):
    """A sitting of a task in a plan: who, which station, from which half-hour to which.

    Written and thinned out in bulk; the journal has the plan's own row.
    """

    __tablename__ = "planned_task"
    plan_id: Mapped[int] = mapped_column(Key, sa.ForeignKey("bench_plan.id"), primary_key=True)
    task_id: Mapped[int] = mapped_column(Key, sa.ForeignKey("task.id"), primary_key=True, index=True)
    sitting: Mapped[str] = mapped_column(sa.Text, primary_key=True)  # empty: the only or the last one
    staff_id: Mapped[int | None] = maybe_ref("staff.id", index=False)  # nobody: outwork, curing
    station: Mapped[str] = text()
    half_hours: Mapped[int] = mapped_column(Count)
    begins_on: Mapped[dt.date] = mapped_column(Day)
    begins_minute: Mapped[int] = mapped_column(Count)  # after midnight, shop's time
    ends_on: Mapped[dt.date] = mapped_column(Day)
    ends_minute: Mapped[int] = mapped_column(Count)
    task: Mapped[Task] = relationship()
    __table_args__ = (STRICT,)


class Pin(Versioned, Base):
    """A task held where it is: at a half-hour, with a person, or both."""

    __tablename__ = "pin"
    task_id: Mapped[int] = mapped_column(Key, sa.ForeignKey("task.id"), unique=True)
    staff_id: Mapped[int | None] = maybe_ref("staff.id", index=False)
    begins_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    begins_minute: Mapped[int | None] = mapped_column(Count, default=None)
    task: Mapped[Task] = relationship()
    __table_args__ = (
        sa.CheckConstraint("(begins_on is null) = (begins_minute is null)", name="begins"),
        sa.CheckConstraint("begins_on is not null or staff_id is not null", name="holds"),
        STRICT,
    )


class Promise(Keyed, Base):
    """A date given to a customer, or taken back, with what it rested on; rows are only ever added."""

    __tablename__ = "promise"
    job_id: Mapped[int] = ref("job.id", index=False)
    at: Mapped[dt.datetime] = mapped_column(UtcTime)
    staff_id: Mapped[int] = ref("staff.id", index=False)
    on_day: Mapped[dt.date | None] = mapped_column(Day, default=None)  # none: taken back
    instead_of: Mapped[dt.date | None] = mapped_column(Day, default=None)
    why: Mapped[str] = text()
    note: Mapped[str] = text()  # the words to the customer, ready to send
    chosen_percent: Mapped[int | None] = mapped_column(Count, default=None)  # the shop's odds; none: by hand
    odds_percent: Mapped[int | None] = mapped_column(Count, default=None)  # none: no plan could tell
    ready_50: Mapped[dt.date | None] = mapped_column(Day, default=None)
    ready_80: Mapped[dt.date | None] = mapped_column(Day, default=None)
    ready_95: Mapped[dt.date | None] = mapped_column(Day, default=None)
    assumptions: Mapped[Any] = mapped_column(Doc, default=dict)
    job: Mapped[Job] = relationship()
    __table_args__ = (sa.Index("ix_promise_job", "job_id", "id"), STRICT)


class MorningOdds(Versioned, Base):
    """How likely a promise was on a day, and why less than the last time."""

    __tablename__ = "morning_odds"
    job_id: Mapped[int] = ref("job.id", index=False)
    on_day: Mapped[dt.date] = mapped_column(Day)
    promised_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    odds_percent: Mapped[int | None] = mapped_column(Count, default=None)
    ready_50: Mapped[dt.date | None] = mapped_column(Day, default=None)
    ready_80: Mapped[dt.date | None] = mapped_column(Day, default=None)
    ready_95: Mapped[dt.date | None] = mapped_column(Day, default=None)
    reasons: Mapped[Any] = mapped_column(Doc, default=list)  # sentences
    causes: Mapped[Any] = mapped_column(Doc, default=dict)  # figures behind them, to compare with tomorrow
    job: Mapped[Job] = relationship()
    __table_args__ = (sa.UniqueConstraint("job_id", "on_day"), STRICT)
