"""Hours billed, clocked and estimated, explained line by line: one row a task of a job.

`hours_story(seat, job_id) -> HoursStory`; its `rows` stand in the order of the work order, what was
taken off it behind, and `why` holds whole sentences in the seat's language for under the figures.
All hours are whole minutes. Knows no window.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.money import NOTHING, Spread
from shopdesk.services.agreed_hours import HoursStanding, beyond_of
from shopdesk.services.agreed_lines import (
    LabourShare,
    labour_shares,
    standing_invoice_lines,
    unconsented_changes,
    without_consent,
)
from shopdesk.services.clocks import begun_minutes
from shopdesk.services.hours_reasons import Figures, reasons
from shopdesk.services.lines import OFFICE
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Agreement, Invoice, InvoiceLine
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.work import Task, TimeEntry, WorkOrder


@dataclass(frozen=True, slots=True)
class ClockedHours:
    """One entry of the clock. Of its minutes `beyond` are not billable until consent stands."""

    entry_id: int
    who: str
    started_at: dt.datetime
    minutes: int  # of a running clock those begun so far
    running: bool
    beyond: int
    note: str


@dataclass(frozen=True, slots=True)
class BilledHours:
    """The line of an issued invoice that holds a task's labour; `line` is its place on the paper."""

    invoice_id: int
    invoice: str
    line: int
    minutes: int
    cents: int


@dataclass(frozen=True, slots=True)
class TaskHours:
    """One task's hours, in minutes.

    `estimated`: what the order says now (low, likely, high). `agreed`: what the customer agreed to,
    the task's share of its line where it was split since; `agreed_on` the quotes it stands on.
    `billable`: agreed, ticked and on no invoice yet. `why`: sentences that say where the figures
    differ and why; empty when nothing wants saying.
    """

    task_id: int
    name: str
    dropped: bool
    done_share: int
    split_from: str  # the task it was split from
    estimated: Spread
    agreed: int
    agreed_on: tuple[str, ...]
    clocks: tuple[ClockedHours, ...]
    billable: int
    billed_on: tuple[BilledHours, ...]
    why: tuple[str, ...]

    @property
    def clocked(self) -> int:
        return sum(c.minutes for c in self.clocks)

    @property
    def beyond(self) -> int:
        return sum(c.beyond for c in self.clocks)

    @property
    def billed(self) -> int:
        return sum(b.minutes for b in self.billed_on)


@dataclass(frozen=True, slots=True)
class HoursStory:
    """All rows of a job and their sums, minutes; `billed` equals the labour on its standing invoices."""

    rows: tuple[TaskHours, ...]

    @property
    def estimated(self) -> Spread:
        """Of what is on the order; low with low, likely with likely, high with high."""
        whole = NOTHING
        for row in self.rows:
            whole = whole if row.dropped else whole.plus(row.estimated)
        return whole

    @property
    def agreed(self) -> int:
        return sum(row.agreed for row in self.rows)

    @property
    def clocked(self) -> int:
        return sum(row.clocked for row in self.rows)

    @property
    def beyond(self) -> int:
        return sum(row.beyond for row in self.rows)

    @property
    def billable(self) -> int:
        return sum(row.billable for row in self.rows)

    @property
    def billed(self) -> int:
        return sum(row.billed for row in self.rows)


def hours_story(seat: Seat, job_id: int) -> HoursStory:
    """Every task of a job with its estimated, agreed, clocked and billed minutes, and why they differ."""
    with seat.look() as session:
        found = _Found(session, job_id, seat.now)
        tasks = session.scalars(
            sa.select(Task)
            .join(WorkOrder)
            .where(WorkOrder.job_id == job_id)
            .order_by(Task.dropped, Task.place, Task.id)
        )
        rows = [_row(found, task) for task in tasks]
    return HoursStory(tuple(r for r in rows if not r.dropped or r.agreed or r.clocks or r.billed_on))


class _Found:
    """What the shop knows of a job's hours, asked once for all its tasks."""

    def __init__(self, session: Session, job_id: int, now: dt.datetime) -> None:
        job = session.get_one(Job, job_id)
        self.own = job.customer_id is None
        self.asked = session.scalar(sa.select(Agreement.id).where(Agreement.job_id == job_id)) is not None
        self.shares: dict[int, list[LabourShare]] = {}
        for share in labour_shares(session, job_id):
            self.shares.setdefault(share.task.id, []).append(share)
        self.standing = {h.entry_id: h for h in beyond_of(session, job_id, now).hours}
        self.clocks: dict[int, list[ClockedHours]] = {}
        for entry, who in _entries(session, job_id):
            clock = _clock(entry, who, self.standing.get(entry.id), now)
            self.clocks.setdefault(entry.task_id, []).append(clock)
        self.billed: dict[int, list[BilledHours]] = {}
        for line in standing_invoice_lines(session, job_id):
            if line.kind == "labour" and line.task_id is not None:
                self.billed.setdefault(line.task_id, []).append(_billed(line))
        self.credited = _credited(session, job_id)
        self.changes = unconsented_changes(session, job_id)
        self.unasked = {t.id for t in without_consent(session, job_id, dropped_too=True)}
        self.names: dict[int, str] = dict(
            session.execute(
                sa.select(Task.id, Task.name).join(WorkOrder).where(WorkOrder.job_id == job_id)
            ).all()
        )
        self.split = {
            key
            for key in session.scalars(
                sa.select(Task.split_from_id).join(WorkOrder).where(WorkOrder.job_id == job_id)
            )
            if key is not None
        }


def _row(found: _Found, task: Task) -> TaskHours:
    shares = found.shares.get(task.id, [])
    clocks = tuple(found.clocks.get(task.id, ()))
    agreed = sum(s.minutes for s in shares)
    done = task.done_share == 100 and not task.dropped
    billable = sum(s.minutes for s in shares if done and not s.billed)
    billed = tuple(found.billed.get(task.id, ()))
    figures = Figures(
        estimated=task.minutes_likely,
        agreed=agreed,
        clocked=sum(c.minutes for c in clocks),
        beyond=sum(c.beyond for c in clocks),
        billable=billable,
        billed=sum(b.minutes for b in billed),
        running=any(c.running for c in clocks),
        done=done,
        dropped=task.dropped,
        office=task.station == OFFICE,
        own=found.own,
        asked=found.asked,
        unasked=task.id in found.unasked,
        change_order=found.changes.get(task.change_order_id or 0, ""),
        split_from=found.names.get(task.split_from_id or 0, ""),
        split=task.id in found.split,
        by_hand="minutes" in task.by_hand,
        credited=tuple(found.credited.get(task.id, ())),
    )
    return TaskHours(
        task_id=task.id,
        name=task.name,
        dropped=task.dropped,
        done_share=task.done_share,
        split_from=figures.split_from,
        estimated=Spread(task.minutes_low, task.minutes_likely, task.minutes_high),
        agreed=agreed,
        agreed_on=tuple(dict.fromkeys(s.line.quote.number for s in shares)),
        clocks=clocks,
        billable=billable,
        billed_on=billed,
        why=tuple(reasons(figures)),
    )


def _clock(entry: TimeEntry, who: str, standing: HoursStanding | None, now: dt.datetime) -> ClockedHours:
    """An entry as it stands; hours on the shop's own paperwork are nobody's to agree to."""
    running = entry.minutes is None
    minutes = begun_minutes(entry.started_at, now) if entry.minutes is None else entry.minutes
    beyond = standing.beyond if standing else 0
    return ClockedHours(entry.id, who, entry.started_at, minutes, running, beyond, entry.note)


def _entries(session: Session, job_id: int) -> Iterable[tuple[TimeEntry, str]]:
    query = (
        sa.select(TimeEntry, Staff.name)
        .join(Task, Task.id == TimeEntry.task_id)
        .join(WorkOrder, WorkOrder.id == Task.work_order_id)
        .join(Staff, Staff.id == TimeEntry.staff_id)
        .where(WorkOrder.job_id == job_id)
        .order_by(TimeEntry.started_at, TimeEntry.id)
    )
    return [(entry, who) for entry, who in session.execute(query)]


def _billed(line: InvoiceLine) -> BilledHours:
    number = line.invoice.number or ""
    return BilledHours(line.invoice_id, number, line.place, line.quantity, line.net_cents)


def _credited(session: Session, job_id: int) -> dict[int, list[str]]:
    """Invoices whose labour on a task was taken back by a credit."""
    corrected = sa.select(Invoice.corrects_id).where(Invoice.corrects_id.is_not(None))
    query = (
        sa.select(InvoiceLine.task_id, Invoice.number)
        .join(Invoice)
        .where(Invoice.job_id == job_id, Invoice.id.in_(corrected), InvoiceLine.kind == "labour")
        .order_by(Invoice.id)
    )
    found: dict[int, list[str]] = {}
    for task_id, number in session.execute(query):
        if task_id is not None:
            found.setdefault(task_id, []).append(number or "")
    return found
