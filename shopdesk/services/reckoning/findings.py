"""Where money is made and lost: what each kind of finding brought and cost, through the thread.

A finding's tasks bring what was billed for them and cost their hours, parts and outwork. A task that
several findings asked for is split over them in even parts, to the cent; one that another task asked for
belongs to the findings behind that task. What is billed of no task (discounts, delivery, storage) stands in
a line of its own. Ranges of the shop's own are left out: their price is for the whole range.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.money import share
from shopdesk.domain.rights import Action
from shopdesk.domain.work import CauseKind
from shopdesk.services.because import because
from shopdesk.services.reckoning.chosen import Chosen
from shopdesk.services.reckoning.costs import NOTHING, Jobs, Spent, outlays, spent_by, sums
from shopdesk.services.reckoning.ranges import billed_by_job, counting_agreements
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Agreement, AgreementLeftOut, Invoice, InvoiceLine, QuoteLine
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.stores import ConsignmentPiece, Need
from shopdesk.storage.tables.work import Task, TaskCause, WorkOrder
from shopdesk.wording import say

Key = tuple[str, str]  # kind of cause, code of the finding
REST: Key = ("rest", "")
_FINDING, _TASK = CauseKind.FINDING.value, CauseKind.TASK.value


@dataclass(frozen=True, slots=True)
class OnRange:
    """What one kind of finding came to on one job; minutes and minor units without tax."""

    job_id: int
    range_id: int
    number: str
    minutes_thought: int
    minutes: int
    quoted_cents: int
    billed_cents: int
    cost_cents: int

    @property
    def margin_cents(self) -> int:
        return self.billed_cents - self.cost_cents


@dataclass(frozen=True, slots=True)
class FindingFigures:
    """One kind of finding over all chosen jobs; `ranges` say where it stood."""

    key: Key
    name: str
    ranges: tuple[OnRange, ...]

    def sum(self, figure: str) -> int:
        """A figure of `OnRange` over all ranges."""
        return sum(getattr(one, figure) for one in self.ranges)

    @property
    def margin_cents(self) -> int:
        return self.sum("margin_cents")


@dataclass(frozen=True, slots=True)
class _Order:
    """The tasks of one job by key and by code, and what asked for each."""

    job_id: int
    codes: dict[str, int]
    causes: dict[int, list[Key]]

    def roots(self, task_id: int) -> tuple[Key, ...]:
        """The findings behind a task, each once; without any, what else it is there for."""
        findings: dict[Key, None] = {}
        others: dict[Key, None] = {}
        seen, open_ = {task_id}, [task_id]
        while open_:
            for key in self.causes.get(open_.pop(), ()):
                kind, code = key
                if kind == _FINDING:
                    findings[key] = None
                    continue
                before = self.codes.get(code) if kind == _TASK else None
                if before is None:
                    others[kind, ""] = None
                elif before not in seen:
                    seen.add(before)
                    open_.append(before)
        return tuple(sorted(findings)) or tuple(sorted(others))[:1] or ((CauseKind.HAND.value, ""),)


def finding_figures(seat: Seat, chosen: Chosen) -> list[FindingFigures]:
    """Every kind of finding of the chosen customers' ranges, what lost most first; the rest stands last."""
    jobs = chosen.jobs().where(Job.customer_id.is_not(None))
    with seat.look(Action.SEE_COSTS) as session:
        split = _split(seat, session, jobs)
        heads = {
            key: (range_id, number)
            for key, range_id, number in session.execute(
                sa.select(Job.id, Range.id, Range.number).join(Range).where(Job.id.in_(jobs))
            )
        }
    groups = [
        FindingFigures(
            key,
            _name(seat, key),
            tuple(OnRange(job, *heads[job], *figures) for job, figures in of_jobs.items()),
        )
        for key, of_jobs in split.items()
    ]
    return sorted(groups, key=lambda group: (group.key == REST, group.margin_cents, group.name))


def _split(seat: Seat, session: Session, jobs: Jobs) -> dict[Key, dict[int, tuple[int, ...]]]:
    """By kind and job: minutes thought and clocked, cents quoted, billed and spent."""
    spent = spent_by(session, seat.region, Task.id, jobs)
    quoted, billed = _quoted(session, jobs), _billed(session, jobs)
    split: dict[Key, dict[int, list[int]]] = defaultdict(lambda: defaultdict(lambda: [0] * 5))
    rest = {job: [cents, 0] for job, cents in billed_by_job(session, jobs).items()}
    for job, cents in outlays(session, jobs).items():
        rest.setdefault(job, [0, 0])[1] += cents
    orders, thought = _orders(session, jobs)
    for order in orders:
        for task_id in order.causes:
            figures = _of_task(
                thought.get(task_id, 0),
                spent.get(task_id, NOTHING),
                quoted.get(task_id, 0),
                billed.get(task_id, 0),
            )
            if not any(figures):
                continue
            if figures[3]:
                rest.setdefault(order.job_id, [0, 0])[0] -= figures[3]
            roots = order.roots(task_id)
            into = [split[root][order.job_id] for root in roots]
            for at, figure in enumerate(figures):
                _add_evenly(into, at, figure)
    for job, (cents, cost) in rest.items():
        if cents or cost:
            split[REST][job][3:] = [cents, cost]
    return {key: {job: tuple(row) for job, row in of.items() if any(row)} for key, of in split.items()}


def _add_evenly(into: Sequence[list[int]], at: int, figure: int) -> None:
    """A figure in even parts that sum to it; what does not divide goes to the first ones."""
    if len(into) == 1 or not figure:
        into[0][at] += figure
        return
    for row, part in zip(into, share(figure, [1] * len(into)), strict=True):
        row[at] += part


def _of_task(thought: int, spent: Spent, quoted: int, billed: int) -> tuple[int, ...]:
    return thought, spent.minutes, quoted, billed, spent.cents


def _orders(session: Session, jobs: Jobs) -> tuple[Iterable[_Order], dict[int, int]]:
    """Each job's tasks with their causes, and the likely minutes of those that stand."""
    orders: dict[int, _Order] = {}
    thought: dict[int, int] = {}
    of_task: dict[int, list[Key]] = {}
    here = WorkOrder.job_id.in_(jobs)
    for job_id, key, code, likely, dropped in session.execute(
        sa.select(WorkOrder.job_id, Task.id, Task.code, Task.minutes_likely, Task.dropped)
        .join(Task, Task.work_order_id == WorkOrder.id).where(here).order_by(WorkOrder.job_id, Task.id)
    ):  # fmt: skip
        order = orders.setdefault(job_id, _Order(job_id, {}, {}))
        if code:
            order.codes[code] = key
        of_task[key] = order.causes[key] = []
        thought[key] = 0 if dropped else likely
    for task_id, kind, code in session.execute(
        sa.select(TaskCause.task_id, TaskCause.kind, TaskCause.code)
        .join(Task, Task.id == TaskCause.task_id).join(WorkOrder,
        WorkOrder.id == Task.work_order_id).where(here)
    ):  # fmt: skip
        of_task[task_id].append((kind, code))
    return orders.values(), thought


def _quoted(session: Session, jobs: Jobs) -> dict[int, int]:
    """By task: the agreed lines that count, parts among them, without what was left out."""
    task = sa.func.coalesce(QuoteLine.task_id, Need.task_id)
    out = sa.select(AgreementLeftOut.quote_line_id)
    query = (
        sa.select(task, sa.func.sum(QuoteLine.net_cents))
        .select_from(QuoteLine)
        .join(Agreement, Agreement.quote_id == QuoteLine.quote_id)
        .outerjoin(Need, Need.id == QuoteLine.need_id)
        .where(
            Agreement.job_id.in_(jobs), Agreement.id.in_(counting_agreements()), task.is_not(None),
            QuoteLine.id.not_in(out),
        )
        .group_by(task)
    )  # fmt: skip
    return sums(session.execute(query))


def _billed(session: Session, jobs: Jobs) -> dict[int, int]:
    """By task: lines of issued papers, parts and outwork among them; a credit's take off."""
    task = sa.func.coalesce(InvoiceLine.task_id, Need.task_id, ConsignmentPiece.task_id)
    net = sa.case((Invoice.kind == "credit", -InvoiceLine.net_cents), else_=InvoiceLine.net_cents)
    query = (
        sa.select(task, sa.func.sum(net))
        .select_from(InvoiceLine)
        .join(Invoice, Invoice.id == InvoiceLine.invoice_id)
        .outerjoin(Need, Need.id == InvoiceLine.need_id)
        .outerjoin(ConsignmentPiece, ConsignmentPiece.id == InvoiceLine.piece_id)
        .where(Invoice.job_id.in_(jobs), Invoice.number.is_not(None), task.is_not(None))
        .group_by(task)
    )
    return sums(session.execute(query))


def _name(seat: Seat, key: Key) -> str:
    kind, code = key
    if kind == _FINDING:
        return because(seat.catalogue, kind, code)
    named = {
        CauseKind.ROUTINE.value: say("The usual work of the scope"),
        CauseKind.NOT_SEEN.value: say("What could not be seen"),
        CauseKind.HAND.value: say("Written by hand or found more"),
        CauseKind.CONVERSION.value: say("For another gas"),
        _TASK: say("Needed for other work"),
        REST[0]: say("Of no task: discounts, delivery, storage, outlays"),
    }
    return named.get(kind, kind)
