"""Agreed hours against the clock: when to warn, when the bench stops, and which hours nobody consented to.

The clock always runs. Hours and parts beyond what is agreed are kept, and are not billable
until consent stands; what is agreed in money is `services.agreements`' word.
"""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.services import settings, stages
from shopdesk.services.agreed_lines import agreed_lines, unconsented_changes, without_consent
from shopdesk.services.clocks import begun_minutes
from shopdesk.services.lines import OFFICE
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.stores import Need
from shopdesk.storage.tables.work import Task, TimeEntry, WorkOrder


@dataclass(frozen=True, slots=True)
class AgreedHours:
    """Minutes agreed and clocked on what is agreed, a running clock up to now.

    `warn`: the shop's share of the agreed hours is reached; `stop`: all of them are. Nobody asks on
    the shop's own ranges. `unasked` are minutes on work that nobody consented to yet.
    """

    agreed: int
    clocked: int
    warn: bool
    stop: bool
    unasked: int = 0

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
    unasked: bool = False  # on a task that came beside what is agreed, and is on no change order yet


@dataclass(frozen=True, slots=True)
class PartBeyond:
    """A part that is used or wanted without anybody's consent to it."""

    need_id: int
    task: str
    name: str
    quantity: int
    change_order: str
    unasked: bool = False


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
        consent = _Consent(session, job_id)
        entries = _entries(session, job_id)
        unasked = sum(e.minutes_at(seat.now) for e in entries if consent.lacks(e))
        clocked = sum(e.minutes_at(seat.now) for e in entries) - unasked
        percent = settings.read(session, settings.Terms).warn_at_percent
        asked = session.get_one(Job, job_id).customer_id is not None
    bound = asked and agreed > 0  # before anything is agreed tasks wait for it by themselves
    warn, stop = clocked * 100 >= agreed * percent, clocked >= agreed
    return AgreedHours(agreed, clocked, bound and warn, bound and stop, unasked)


def beyond_agreed(seat: Seat, job_id: int) -> Beyond:
    """Hours in the order in which they were worked: those past the agreed ones are not billable.

    Hours on a change order nobody consented to, and on what came onto the order beside the
    agreement, are not billable from the first minute, and use up nothing of what is agreed. On
    the shop's own ranges nothing is beyond.
    """
    with seat.look() as session:
        return beyond_of(session, job_id, seat.now)


def beyond_of(session: Session, job_id: int, now: dt.datetime) -> Beyond:
    entries = _entries(session, job_id)
    if session.get_one(Job, job_id).customer_id is None:
        left = sum(e.minutes_at(now) for e in entries)
    else:
        left = _agreed_minutes(session, job_id)
    consent = _Consent(session, job_id)
    rows = []
    for entry in entries:
        minutes = entry.minutes_at(now)
        lacks = consent.lacks(entry)
        beyond = minutes if lacks else max(0, minutes - left)
        if not lacks:
            left = max(0, left - minutes)
        rows.append(
            HoursStanding(
                entry.id, entry.task_id, entry.task, entry.who, entry.started_at, minutes, beyond,
                consent.change_order(entry.change_order_id), entry.task_id in consent.unasked,
            )
        )  # fmt: skip
    return Beyond(tuple(rows), tuple(_parts_beyond(session, job_id, consent)))


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
        return begun_minutes(self.started_at, now)


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


class _Consent:
    """Whose work nobody consented to: tasks of change orders without consent, and tasks on none."""

    def __init__(self, session: Session, job_id: int) -> None:
        self._changes = unconsented_changes(session, job_id)
        self.unasked = {task.id for task in without_consent(session, job_id, dropped_too=True)}

    def change_order(self, key: int | None) -> str:
        return self._changes.get(key or 0, "")

    def lacks(self, entry: _Entry) -> bool:
        return bool(self.change_order(entry.change_order_id)) or entry.task_id in self.unasked


def _agreed_minutes(session: Session, job_id: int) -> int:
    """Labour on the agreed lines; on a range of the shop's own what its order likely takes."""
    if session.get_one(Job, job_id).customer_id is None:
        return sum(t.minutes_likely for t in stages.tasks_of(session, job_id) if t.station != OFFICE)
    return sum(line.quantity for line in agreed_lines(session, job_id) if line.kind == "labour")


def _parts_beyond(session: Session, job_id: int, consent: _Consent) -> list[PartBeyond]:
    """Parts of a customer's job on no agreed line: of work without consent, or more than was agreed."""
    if session.get_one(Job, job_id).customer_id is None:
        return []
    agreed: dict[int, int] = {}
    for line in agreed_lines(session, job_id):
        if line.need_id is not None:
            agreed[line.need_id] = agreed.get(line.need_id, 0) + line.quantity
    query = (
        sa.select(Need, Task.name, Task.change_order_id)
        .join(Task, Task.id == Need.task_id)
        .join(WorkOrder, WorkOrder.id == Task.work_order_id)
        .where(WorkOrder.job_id == job_id, Task.dropped == False)
        .order_by(Task.place, Need.id)
    )
    found = []
    for need, task, change in session.execute(query):
        more = need.quantity - need.called_off - agreed.get(need.id, 0)
        if more > 0:
            unasked = need.task_id in consent.unasked
            number = consent.change_order(change)
            found.append(PartBeyond(need.id, task, need.name, more, number, unasked))
    return found
