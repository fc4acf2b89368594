"""What may be billed now: agreed lines whose work is done, and never above what was agreed."""

from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import Problem
from shopdesk.domain.totals import Totals
from shopdesk.services.agreements import agreed
from shopdesk.services.lines import Line, from_row, totals_of, without_tax
from shopdesk.services.quotes import exempt
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Agreement, Invoice, InvoiceLine, Quote, QuoteLine
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.stores import ConsignmentPiece, Need
from shopdesk.storage.tables.work import Task


@dataclass(frozen=True, slots=True)
class ReadyToBill:
    """What an invoice written now would hold; `refusal` says why none can be written."""

    lines: tuple[Line, ...]
    totals: Totals
    refusal: Problem | None


def ready_to_bill(seat: Seat, job_id: int) -> ReadyToBill:
    """What `draft_invoice` would write, nothing written."""
    with seat.look() as session:
        job = session.get_one(Job, job_id)
        if job.customer is None:
            return ReadyToBill((), totals_of(()), _own(job))
        lines = for_bill(seat, session, job)
        try:
            refuse_unbillable(session, job, lines)
        except Problem as problem:
            return ReadyToBill(tuple(lines), totals_of(lines), problem)
        return ReadyToBill(tuple(lines), totals_of(lines), None)


def for_bill(seat: Seat, session: Session, job: Job) -> list[Line]:
    """The lines of an invoice written now, as this customer pays them."""
    lines = billable(session, job.id)
    return without_tax(lines) if exempt(seat, job.customer) else lines


def refuse_unbillable(session: Session, job: Job, lines: list[Line]) -> None:
    """Refuses an empty bill and one above what was agreed."""
    if not lines:
        raise _nothing(session, job)
    _refuse_above_agreed(session, job, lines)


def _nothing(session: Session, job: Job) -> Problem:
    number = job.range.number
    lines = _agreed_lines(session, job.id)
    if not lines:
        return Problem("There is nothing to bill on {number} yet: nothing is agreed.", number=number)
    tasks = {line.task_id for line in lines if line.task_id is not None}
    ticked = session.scalar(sa.select(Task.id).where(Task.id.in_(tasks), Task.done_share == 100).limit(1))
    if ticked is None:
        return Problem("There is nothing to bill on {number} yet: no agreed task is ticked.", number=number)
    return Problem(
        "There is nothing to bill on {number} yet: all agreed work that is ticked is billed.", number=number
    )


def _own(job: Job) -> Problem:
    """Why the work on a range of the shop's own is not billed."""
    if job.range.owner_id is not None:
        return Problem("{number} is sold; the sale is billed.", number=job.range.number)
    return Problem("{number} is the shop's own: sell it, and the sale is billed.", number=job.range.number)


def billable(session: Session, job_id: int) -> list[Line]:
    """Agreed lines ready to be billed: their task is ticked, and no invoice holds them yet."""
    billed_tasks, billed_needs, charges_billed = _billed(session, job_id)
    lines = []
    for row in _agreed_lines(session, job_id):
        line = from_row(row)
        task = session.get(Task, row.task_id) if row.task_id else None
        if task is not None and (task.dropped or task.done_share < 100):
            continue
        if line.kind == "labour" and line.task_id in billed_tasks.get("labour", ()):
            continue
        if line.kind == "part":
            need = session.get(Need, row.need_id) if row.need_id else None
            if need is None or need.covered == 0 or need.id in billed_needs:
                continue
            line = _as_covered(line, need)
        if line.kind == "outwork":
            if line.task_id in billed_tasks.get("outwork", ()):
                continue
            line = _as_accepted(session, line)
        if line.kind in ("charge", "delivery") and charges_billed:
            continue
        lines.append(line)
    only_charges = all(line.kind in ("charge", "delivery") for line in lines)
    return [] if only_charges else lines


def _agreed_lines(session: Session, job_id: int) -> list[QuoteLine]:
    """The lines of the agreed quote (the job's, else the teardown's) and of agreed change orders."""
    quotes = list(
        session.scalars(sa.select(Quote).join(Agreement).where(Quote.job_id == job_id).order_by(Agreement.id))
    )
    base = [q for q in quotes if q.step == "job"] or [q for q in quotes if q.step == "teardown"]
    changes = [q for q in quotes if q.step == "change"]
    return [line for quote in (*base[-1:], *changes) for line in quote.lines]


def _billed(session: Session, job_id: int) -> tuple[dict[str, set[int]], set[int], bool]:
    """What issued, uncredited invoices of the job hold: tasks by kind, needs, and its charges."""
    corrected = sa.select(Invoice.corrects_id).where(Invoice.corrects_id.is_not(None))
    rows = session.scalars(
        sa.select(InvoiceLine)
        .join(Invoice)
        .where(
            Invoice.job_id == job_id,
            Invoice.kind == "invoice",
            Invoice.number.is_not(None),
            Invoice.id.not_in(corrected),
        )
    )
    tasks: dict[str, set[int]] = {}
    needs: set[int] = set()
    charges = False
    for row in rows:
        if row.need_id is not None:
            needs.add(row.need_id)
        elif row.task_id is not None:
            tasks.setdefault(row.kind, set()).add(row.task_id)
        charges = charges or row.kind in ("charge", "delivery")
    return tasks, needs, charges


def _as_covered(line: Line, need: Need) -> Line:
    """A part line as it came: how many were covered and in which condition, disclosed."""
    return Line(
        kind=line.kind,
        what=line.what,
        quantity=need.covered,
        unit_cents=line.unit_cents,
        because=line.because,
        tax=line.tax,
        condition=need.condition,
        task_id=line.task_id,
        need_id=need.id,
    )


def _as_accepted(session: Session, line: Line) -> Line:
    """An outwork line tied to the pieces that came back; the agreed price stands."""
    piece = session.scalars(
        sa.select(ConsignmentPiece).where(
            ConsignmentPiece.task_id == line.task_id, ConsignmentPiece.accepted == "accepted"
        )
    ).first()
    if piece is None:
        return line
    return Line(
        kind=line.kind,
        what=line.what,
        quantity=line.quantity,
        unit_cents=line.unit_cents,
        because=line.because,
        tax=line.tax,
        task_id=line.task_id,
        piece_id=piece.id,
    )


def _refuse_above_agreed(session: Session, job: Job, lines: list[Line]) -> None:
    limit = agreed(session, job.id).ceiling_cents
    before = (
        session.scalar(
            sa.select(
                sa.func.sum(sa.case((Invoice.kind == "credit", -Invoice.net_cents), else_=Invoice.net_cents))
            ).where(Invoice.job_id == job.id, Invoice.number.is_not(None))
        )
        or 0
    )
    if before + sum(line.net_cents for line in lines) > limit:
        raise Problem(
            "The bill for {number} would pass what the customer agreed to. "
            "Write a change order and get consent first.",
            number=job.range.number,
        )
