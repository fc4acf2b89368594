"""Agreed hours against the clock: when to warn, when the bench stops, and which hours nobody consented to.

The clock always runs. Hours and parts beyond what is agreed are kept, and are not billable
until consent stands; what is agreed in money is `services.agreements`' word.
"""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.services import settings, stages
from shopdesk.services.seat import Seat
from shopdesk.services.waiting import consented_changes
from shopdesk.storage.tables.counter import Agreement, ChangeOrder, Quote, QuoteLine
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.stores import Need
from shopdesk.storage.tables.work import Task, TimeEntry, WorkOrder

OFFICE = "office"  # the shop's own paperwork is in its rates; its hours are nobody's to agree to


@dataclass(frozen=True, slots=True)
class AgreedHours:
    """Minutes agreed and clocked, a running clock up to now. Nobody asks on the shop's own ranges.

    `warn`: the shop's share of the agreed hours is reached; `stop`: all of them are.
    """

    agreed: int
    clocked: int
    warn: bool
    stop: bool

    @property
    def left(self) -> int:
        return max(0, self.agreed - self.clocked)


@dataclass(frozen=True, slots=True)
class HoursStanding:
    """One entry of the clock: of its minutes `beyond` are not billable until consent stands."""

    entry_id: int
    task_id: int
    task: str
    who: str
    started_at: dt.datetime
    minutes: int
    beyond: int
    change_order: str  # whose consent is wanted; empty where the agreed hours ran out


@dataclass(frozen=True, slots=True)
class PartBeyond:
    """A part that is used or wanted without anybody's consent to it."""

    need_id: int
    task: str
    name: str
    quantity: int
    change_order: str


@dataclass(frozen=True, slots=True)
class Beyond:
    """All hours of a job, and its parts without consent; kept, and not billable yet."""

    hours: tuple[HoursStanding, ...]
    parts: tuple[PartBeyond, ...]

    @property
    def minutes(self) -> int:
        return sum(h.beyond for h in self.hours)


def agreed_hours(seat: Seat, job_id: int) -> AgreedHours:
    """What the bench obeys: agreed and clocked minutes, whether to warn and whether to stop."""
    with seat.look() as session:
        agreed = _agreed_minutes(session, job_id)
        clocked = sum(e.minutes_at(seat.now) for e in _entries(session, job_id))
        share = settings.read(session, settings.Terms).warn_at_percent
        asked = session.get_one(Job, job_id).customer_id is not None
    bound = asked and agreed > 0  # before anything is agreed tasks wait for it by themselves
    return AgreedHours(
        agreed, clocked, bound and clocked * 100 >= agreed * share, bound and clocked >= agreed
    )


def beyond_agreed(seat: Seat, job_id: int) -> Beyond:
    """Hours in the order in which they were worked: those past the agreed ones are not billable.

    Hours on a change order nobody consented to are not billable from the first minute, and
    use up nothing of what is agreed. On the shop's own ranges nothing is beyond.
    """
    with seat.look() as session:
        entries = _entries(session, job_id)
        if session.get_one(Job, job_id).customer_id is None:
            left = sum(e.minutes_at(seat.now) for e in entries)
        else:
            left = _agreed_minutes(session, job_id)
        unasked = _unconsented(session, job_id)
        rows = []
        for entry in entries:
            minutes = entry.minutes_at(seat.now)
            waits = unasked.get(entry.change_order_id or 0, "")
            beyond = minutes if waits else max(0, minutes - left)
            if not waits:
                left = max(0, left - minutes)
            rows.append(
                HoursStanding(
                    entry.id, entry.task_id, entry.task, entry.who, entry.started_at, minutes, beyond, waits
                )
            )
        return Beyond(tuple(rows), tuple(_parts_beyond(session, job_id, unasked)))


@dataclass(frozen=True, slots=True)
class _Entry:
    id: int
    task_id: int
    task: str
    change_order_id: int | None
    who: str
    started_at: dt.datetime
    minutes: int | None

    def minutes_at(self, now: dt.datetime) -> int:
        """What is on the clock; of one that runs the minutes begun so far."""
        if self.minutes is not None:
            return self.minutes
        return max(1, -(-(now - self.started_at) // dt.timedelta(minutes=1)))


def _entries(session: Session, job_id: int) -> list[_Entry]:
    query = (
        sa.select(
            TimeEntry.id, Task.id, Task.name, Task.change_order_id, Staff.name, TimeEntry.started_at,
            TimeEntry.minutes,
        )
        .join(Task, Task.id == TimeEntry.task_id)
        .join(WorkOrder, WorkOrder.id == Task.work_order_id)
        .join(Staff, Staff.id == TimeEntry.staff_id)
        .where(WorkOrder.job_id == job_id, Task.station != OFFICE)
        .order_by(TimeEntry.started_at, TimeEntry.id)
    )  # fmt: skip
    return [_Entry(*row) for row in session.execute(query)]


def _agreed_minutes(session: Session, job_id: int) -> int:
    """Labour on the agreed quote of the job, else of the teardown, and on agreed change orders.

    On a range of the shop's own what its order likely takes.
    """
    if session.get_one(Job, job_id).customer_id is None:
        return sum(t.minutes_likely for t in stages.tasks_of(session, job_id) if t.station != OFFICE)
    quotes = session.execute(
        sa.select(Quote.id, Quote.step).join(Agreement).where(Quote.job_id == job_id).order_by(Agreement.id)
    ).all()
    base = [key for key, step in quotes if step == "job"] or [k for k, step in quotes if step == "teardown"]
    chosen = [*base[-1:], *(key for key, step in quotes if step == "change")]
    minutes = session.scalar(
        sa.select(sa.func.coalesce(sa.func.sum(QuoteLine.quantity), 0)).where(
            QuoteLine.quote_id.in_(chosen), QuoteLine.kind == "labour"
        )
    )
    return int(minutes or 0)


def _unconsented(session: Session, job_id: int) -> dict[int, str]:
    """Change orders of a job that nobody consented to, with their numbers."""
    consented = consented_changes(session, {job_id})
    rows = session.execute(sa.select(ChangeOrder.id, ChangeOrder.number).where(ChangeOrder.job_id == job_id))
    return {key: number for key, number in rows if key not in consented}


def _parts_beyond(session: Session, job_id: int, unasked: dict[int, str]) -> list[PartBeyond]:
    """Parts on no agreed quote of a customer's job: of change orders without consent, or found since."""
    if session.get_one(Job, job_id).customer_id is None:
        return []
    agreed = set(
        session.scalars(
            sa.select(QuoteLine.need_id)
            .join(Agreement, Agreement.quote_id == QuoteLine.quote_id)
            .where(Agreement.job_id == job_id, QuoteLine.need_id.is_not(None))
        )
    )
    query = (
        sa.select(Need, Task.name, Task.change_order_id)
        .join(Task, Task.id == Need.task_id)
        .join(WorkOrder, WorkOrder.id == Task.work_order_id)
        .where(WorkOrder.job_id == job_id, Task.dropped == False)
        .order_by(Task.place, Need.id)
    )
    return [
        PartBeyond(need.id, task, need.name, need.quantity - need.called_off, unasked.get(change or 0, ""))
        for need, task, change in session.execute(query)
        if need.id not in agreed and need.quantity > need.called_off
    ]
