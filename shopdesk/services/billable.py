"""What may be billed now: agreed lines whose work is done, and never above what was agreed."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.adjust import Adjustment
from shopdesk.domain.money import for_minutes, round_half_up
from shopdesk.domain.problem import Problem
from shopdesk.domain.totals import Totals
from shopdesk.services.agreed_lines import (
    LabourShare,
    agreed_lines,
    labour_shares,
    standing_invoice_lines,
)
from shopdesk.services.agreements import agreed
from shopdesk.services.bill_adjustments import carried
from shopdesk.services.lines import Line, from_row, totals_of, without_tax
from shopdesk.services.pricing import exempt
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice, QuoteLine
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.stores import ConsignmentPiece, Need
from shopdesk.storage.tables.work import Task
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class ReadyToBill:
    """What an invoice written now would hold; `refusal` says why none can be written."""

    lines: tuple[Line, ...]
    totals: Totals
    refusal: Problem | None
    adjustments: tuple[Adjustment, ...] = ()


def ready_to_bill(seat: Seat, job_id: int) -> ReadyToBill:
    """What `draft_invoice` would write, nothing written."""
    with seat.look() as session:
        job = session.get_one(Job, job_id)
        if job.customer is None:
            return ReadyToBill((), totals_of(()), _own(job))
        lines = for_bill(seat, session, job)
        given = tuple(carried(session, job_id, lines))
        sums = totals_of(lines, adjustments=given)
        try:
            refuse_unbillable(session, job, lines, given)
        except Problem as problem:
            return ReadyToBill(tuple(lines), sums, problem, given)
        return ReadyToBill(tuple(lines), sums, None, given)


def for_bill(seat: Seat, session: Session, job: Job) -> list[Line]:
    """The lines of an invoice written now, as this customer pays them."""
    lines = billable(session, job.id)
    return without_tax(lines) if exempt(seat, job.customer) else lines


def refuse_unbillable(
    session: Session, job: Job, lines: list[Line], adjustments: Sequence[Adjustment] = ()
) -> None:
    """Refuses an empty bill and one above what was agreed."""
    if not lines:
        raise _nothing(session, job)
    refuse_above_agreed(session, job, totals_of(lines, adjustments=adjustments).without_tax)


def _nothing(session: Session, job: Job) -> Problem:
    number = job.range.number
    lines = agreed_lines(session, job.id)
    if not lines:
        return Problem("There is nothing to bill on {number} yet: nothing is agreed.", number=number)
    tasks = {line.task_id for line in lines if line.task_id is not None}
    kept = sa.or_(Task.id.in_(tasks), Task.split_from_id.in_(tasks))
    ticked = session.scalar(sa.select(Task.id).where(kept, Task.done_share == 100).limit(1))
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
    """Agreed lines ready to be billed: their task is ticked, and no invoice holds them yet.

    A line of labour is shared over the parts of a task that was split since; each part is billed
    when it is ticked. Of parts no more is billed than was agreed, however many were used.
    """
    shares: dict[int, list[LabourShare]] = {}
    for each in labour_shares(session, job_id):
        shares.setdefault(each.line.id, []).append(each)
    billed = _billed(session, job_id)
    lines: list[Line] = []
    for row in agreed_lines(session, job_id):
        task = session.get(Task, row.task_id) if row.task_id else None
        if row.kind == "labour" and task is not None:
            lines += [for_share(each) for each in shares.get(row.id, ()) if _is_due(each)]
        elif task is None or _is_done(task):
            lines += _other(session, row, billed)
    only_charges = all(line.kind in ("charge", "delivery") for line in lines)
    return [] if only_charges else lines


@dataclass(frozen=True, slots=True)
class _Billed:
    """What issued, uncredited invoices of a job hold: tasks by kind, needs, and its charges."""

    tasks: dict[str, set[int]]
    needs: set[int]
    charges: bool


def _billed(session: Session, job_id: int) -> _Billed:
    tasks: dict[str, set[int]] = {}
    needs: set[int] = set()
    charges = False
    for row in standing_invoice_lines(session, job_id):
        if row.need_id is not None:
            needs.add(row.need_id)
        elif row.task_id is not None:
            tasks.setdefault(row.kind, set()).add(row.task_id)
        charges = charges or row.kind in ("charge", "delivery")
    return _Billed(tasks, needs, charges)


def _is_done(task: Task) -> bool:
    return not task.dropped and task.done_share == 100


def _is_due(each: LabourShare) -> bool:
    return _is_done(each.task) and not each.billed and bool(each.minutes or each.cents)


def for_share(each: LabourShare) -> Line:
    """The line as agreed, or the part of it that lies on one of the tasks it was split over."""
    line = from_row(each.line)
    if (each.task.id, each.minutes, each.cents) == (line.task_id, line.quantity, line.net_cents):
        return line
    what = line.what if each.task.id == line.task_id else each.task.name
    because = " ".join(w for w in (line.because, say("Share of “{line}”.", line=line.what)) if w)
    if line.adjust_cents:  # its discount is shared too, so that what is printed still multiplies out
        less = each.cents - for_minutes(each.minutes, line.unit_cents)
        line = replace(line, share_cents=None, adjust_cents=less)
    else:
        line = replace(line, share_cents=each.cents)
    return replace(line, what=what, because=because, quantity=each.minutes, task_id=each.task.id)


def _other(session: Session, row: QuoteLine, billed: _Billed) -> list[Line]:
    """A part as it came, outwork as it was accepted, charges once; nothing where it is billed already."""
    line = from_row(row)
    if line.kind == "part":
        need = session.get(Need, row.need_id) if row.need_id else None
        if need is None or need.covered == 0 or need.id in billed.needs:
            return []
        return [_as_covered(line, need)]
    if line.kind == "outwork":
        return [] if line.task_id in billed.tasks.get("outwork", ()) else [_as_accepted(session, line)]
    if line.kind in ("charge", "delivery") and billed.charges:
        return []
    return [line]


def _as_covered(line: Line, need: Need) -> Line:
    """A part as it came: how many were covered, at most the agreed ones, and its condition, disclosed."""
    quantity = min(need.covered, line.quantity)
    less = round_half_up(Fraction(line.adjust_cents * quantity, line.quantity))
    return replace(line, quantity=quantity, condition=need.condition, need_id=need.id, adjust_cents=less)


def _as_accepted(session: Session, line: Line) -> Line:
    """An outwork line tied to the pieces that came back; the agreed price stands."""
    piece = session.scalars(
        sa.select(ConsignmentPiece).where(
            ConsignmentPiece.task_id == line.task_id, ConsignmentPiece.accepted == "accepted"
        )
    ).first()
    if piece is None:
        return line
    return replace(line, piece_id=piece.id)


def refuse_above_agreed(session: Session, job: Job, net_cents: int) -> None:
    """Refuses a bill that would take what is billed past the one figure that was agreed."""
    limit = agreed(session, job.id).ceiling_cents
    before = (
        session.scalar(
            sa.select(
                sa.func.sum(sa.case((Invoice.kind == "credit", -Invoice.net_cents), else_=Invoice.net_cents))
            ).where(Invoice.job_id == job.id, Invoice.number.is_not(None), Invoice.basis != "storage")
        )
        or 0
    )
    if before + net_cents > limit:
        raise Problem(
            "The bill for {number} would pass what the customer agreed to. "
            "Write a change order and get consent first.",
            number=job.range.number,
        )
