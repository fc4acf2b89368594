"""The lines a customer consented to, and how an agreed line of labour lies over the parts of a split task.

`agreements.agreed` says what is agreed in money; this says line by line what it was agreed for.
"""

from collections.abc import Collection
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.money import share
from shopdesk.services.lines import OFFICE
from shopdesk.storage.tables.counter import (
    Agreement,
    AgreementLeftOut,
    ChangeOrder,
    Invoice,
    InvoiceLine,
    Quote,
    QuoteLine,
)
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.stores import Need
from shopdesk.storage.tables.work import Task, WorkOrder


@dataclass(frozen=True, slots=True)
class LabourShare:
    """What of an agreed line of labour is for one task: whole minutes, and cents that sum to the line's."""

    line: QuoteLine
    task: Task
    minutes: int
    cents: int
    billed: bool  # an invoice that stands holds this task's labour


def agreed_quotes(session: Session, job_id: int) -> list[Quote]:
    """The agreed quotes that count: the job's newest, else the teardown's, and all change orders'."""
    quotes = list(
        session.scalars(sa.select(Quote).join(Agreement).where(Quote.job_id == job_id).order_by(Agreement.id))
    )
    base = [q for q in quotes if q.step == "job"] or [q for q in quotes if q.step == "teardown"]
    return [*base[-1:], *(q for q in quotes if q.step == "change")]


def agreed_lines(session: Session, job_id: int) -> list[QuoteLine]:
    """The lines of the quotes that count, without those the customer left out when agreeing."""
    out = set(
        session.scalars(
            sa.select(AgreementLeftOut.quote_line_id)
            .join(Agreement, Agreement.id == AgreementLeftOut.agreement_id)
            .where(Agreement.job_id == job_id)
        )
    )
    lines = [line for quote in agreed_quotes(session, job_id) for line in quote.lines]
    return [line for line in lines if line.id not in out]


def labour_shares(session: Session, job_id: int) -> list[LabourShare]:
    """Every agreed line of labour, shared over its task and the parts split off since.

    By their likely minutes; what is billed of it stays as it was billed, and the rest is shared
    over the others, dropped ones too: their share is what nobody did. The shares of a line
    always sum to it, minutes and cents.
    """
    lines = [line for line in agreed_lines(session, job_id) if line.kind == "labour"]
    own = {line.task_id for line in lines}
    tasks = _tasks(session, job_id)
    billed = billed_labour(session, job_id)
    shares = []
    for line in lines:
        members = [
            task
            for task in tasks
            if task.id == line.task_id or (task.split_from_id == line.task_id and task.id not in own)
        ]
        shares += _shared(line, members, billed)
    return shares


def billed_labour(session: Session, job_id: int) -> dict[int, tuple[int, int]]:
    """Minutes and cents of agreed labour by task on issued invoices that no credit took back.

    A discount or surcharge given on the bill itself is of that bill: what is left of the agreed line for
    other parts of its task is the same with it and without.
    """
    found: dict[int, tuple[int, int]] = {}
    for row in standing_invoice_lines(session, job_id):
        if row.kind == "labour" and row.task_id is not None:
            minutes, cents = found.get(row.task_id, (0, 0))
            taken = row.net_cents if row.agreed_cents is None else row.agreed_cents
            found[row.task_id] = (minutes + row.quantity, cents + taken)
    return found


def standing_invoice_lines(session: Session, job_id: int) -> list[InvoiceLine]:
    """Lines of a job's issued, uncredited invoices; bills for a share or for storage hold none."""
    corrected = sa.select(Invoice.corrects_id).where(Invoice.corrects_id.is_not(None))
    return list(
        session.scalars(
            sa.select(InvoiceLine)
            .join(Invoice)
            .where(
                Invoice.job_id == job_id,
                Invoice.kind == "invoice",
                Invoice.basis.not_in(("progress", "storage")),
                Invoice.number.is_not(None),
                Invoice.id.not_in(corrected),
            )
            .order_by(Invoice.id, InvoiceLine.place)
        )
    )


def without_consent(session: Session, job_id: int, *, dropped_too: bool = False) -> list[Task]:
    """Tasks that came onto a customer's order beside what was agreed, and are on no change order yet.

    They wait, are not billable, and use up nothing that is agreed, until `consent.ask_for_added` puts
    them on a change order that the customer agrees to, or a new quote for the job is agreed.
    """
    keys = unasked_tasks(session, {job_id}, dropped_too=dropped_too)
    return list(session.scalars(sa.select(Task).where(Task.id.in_(keys)).order_by(Task.place, Task.id)))


def unasked_tasks(session: Session, jobs: Collection[int], *, dropped_too: bool = False) -> set[int]:
    """Keys of the tasks of some jobs that nobody was asked about."""
    chosen = _agreed_with_job(session, jobs)
    # Asked of each line and task: as lists, every part a shop ever needed would be read for one job.
    left_out = sa.exists().where(AgreementLeftOut.quote_line_id == QuoteLine.id)
    lines = sa.select(QuoteLine.task_id).where(
        QuoteLine.quote_id.in_(chosen.values()),
        QuoteLine.task_id.is_not(None),
        ~left_out,
    )
    asked = set(session.scalars(lines))
    priced = sa.exists().where(Need.task_id == Task.id, Need.quantity > Need.called_off)
    query = (
        sa.select(Task.id, Task.split_from_id)
        .join(WorkOrder)
        .where(
            WorkOrder.job_id.in_({job_id for job_id, _ in chosen}),
            Task.change_order_id.is_(None),
            sa.or_(Task.dropped == False, sa.literal(dropped_too)),
            sa.or_(
                sa.and_(Task.station != OFFICE, Task.minutes_likely > 0),
                Task.outwork_cents > 0,
                priced,
            ),
        )
    )
    return {key for key, root in session.execute(query) if key not in asked and root not in asked}


def _agreed_with_job(session: Session, jobs: Collection[int]) -> dict[tuple[int, int], int]:
    """Agreed quotes that count, by job and place, of customers' jobs agreed beyond their teardown."""
    base: dict[int, int] = {}
    changes: list[tuple[int, int]] = []
    for job_id, step, key in session.execute(
        sa.select(Quote.job_id, Quote.step, Quote.id)
        .join(Agreement, Agreement.quote_id == Quote.id)
        .join(Job, Job.id == Quote.job_id)
        .where(Quote.job_id.in_(jobs), Quote.step != "teardown", Job.customer_id.is_not(None))
        .order_by(Agreement.id)
    ):
        if step == "job":
            base[job_id] = key
        else:
            changes.append((job_id, key))
    chosen = {(job_id, 0): key for job_id, key in base.items()}
    return chosen | {(job_id, key): key for job_id, key in changes if job_id in base}


def unconsented_changes(session: Session, job_id: int) -> dict[int, str]:
    """Change orders of a customer's job that nobody agreed to (yet), with their numbers."""
    agreed = sa.select(Agreement.quote_id).where(Agreement.job_id == job_id)
    query = (
        sa.select(ChangeOrder.id, ChangeOrder.number)
        .join(Job, Job.id == ChangeOrder.job_id)
        .where(
            ChangeOrder.job_id == job_id,
            Job.customer_id.is_not(None),
            sa.or_(ChangeOrder.quote_id.is_(None), ChangeOrder.quote_id.not_in(agreed)),
        )
    )
    return dict(session.execute(query).all())


def _tasks(session: Session, job_id: int) -> list[Task]:
    """All tasks of a job, dropped ones too."""
    query = sa.select(Task).join(WorkOrder).where(WorkOrder.job_id == job_id).order_by(Task.place, Task.id)
    return list(session.scalars(query))


def _shared(line: QuoteLine, members: list[Task], billed: dict[int, tuple[int, int]]) -> list[LabourShare]:
    gone = [t for t in members if t.id in billed]
    rest = [t for t in members if t.id not in billed]
    shares = [LabourShare(line, t, *billed[t.id], billed=True) for t in gone]
    if rest:
        weights = [t.minutes_likely for t in rest]
        minutes = share(max(0, line.quantity - sum(s.minutes for s in shares)), weights)
        cents = share(max(0, line.net_cents - sum(s.cents for s in shares)), minutes)
        shares += [
            LabourShare(line, t, m, c, billed=False) for t, m, c in zip(rest, minutes, cents, strict=True)
        ]
    return shares
