"""What the Stores screen asks beside stock and orders: usual suppliers, several orders, work to send out."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import stores
from shopdesk.services.seat import Seat
from shopdesk.services.waiting import Wait, Waiting
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.stores import ConsignmentPiece, Part, PurchaseLine, PurchaseOrder
from shopdesk.storage.tables.work import Task, WorkOrder


@dataclass(frozen=True, slots=True)
class OutworkTask:
    """An open task whose pieces go to another trade; empty `waits` can leave now."""

    task_id: int
    range_id: int
    range_number: str
    name: str
    trade: str
    count: int
    cost_cents: int
    days: int
    promised_on: dt.date | None
    waits: tuple[Wait, ...]


def usual_suppliers(seat: Seat, names: Sequence[str]) -> dict[str, int]:
    """By part name: who it was ordered from last."""
    query = (
        sa.select(PurchaseLine.name, PurchaseOrder.supplier_id)
        .join(PurchaseOrder)
        .where(PurchaseLine.name.in_(names))
        .order_by(PurchaseOrder.id)
    )
    with seat.look() as session:
        return {name: supplier_id for name, supplier_id in session.execute(query)}  # noqa: C416 - a result is no mapping


def order_from_several(
    seat: Seat, wanted: Sequence[tuple[int, stores.OrderLine]], *, expected_on: dt.date | None, note: str = ""
) -> list[int]:
    """Lines, each with its supplier's key, as one order for each supplier; returns the orders' keys."""
    if not wanted:
        raise Problem("An order needs at least one line.", field="lines")
    by_supplier: dict[int, list[stores.OrderLine]] = {}
    for supplier_id, line in wanted:
        by_supplier.setdefault(supplier_id, []).append(line)
    return [
        stores.order_parts(seat, supplier_id, lines, expected_on=expected_on, note=note)
        for supplier_id, lines in by_supplier.items()
    ]


def range_of(seat: Seat, number: str) -> int | None:
    """The key of a range by its number, to open its jacket."""
    with seat.look() as session:
        return session.scalar(sa.select(Range.id).where(Range.number == number))


def lay_part(seat: Seat, part_id: int, lies_at: str) -> None:
    """Where a part lies from now on."""
    with seat.change(Action.KEEP_STORES) as work:
        part = work.get(Part, part_id, "part")
        part.lies_at = lies_at.strip()
        work.about(part)


def outwork_tasks(seat: Seat) -> list[OutworkTask]:
    """Open tasks with pieces for another trade of which nothing was sent yet, by trade and promise."""
    sent = sa.select(ConsignmentPiece.task_id)
    query = (
        sa.select(Task, Job, Range)
        .join(WorkOrder, WorkOrder.id == Task.work_order_id)
        .join(Job, Job.id == WorkOrder.job_id)
        .join(Range, Range.id == Job.range_id)
        .where(
            Task.outwork_trade != "",
            Task.dropped == False,
            Task.done_share < 100,
            Task.id.not_in(sent),
            Job.ended_as == "",
            Job.gone_on.is_(None),
        )
        .order_by(Task.outwork_trade, Job.promised_on.is_(None), Job.promised_on, Job.id, Task.place)
    )
    with seat.look() as session:
        found = session.execute(query).all()
        waiting = Waiting(session, {job.id for _, job, _ in found})
        return [
            OutworkTask(
                task.id,
                range_.id,
                range_.number,
                task.name,
                task.outwork_trade,
                task.count,
                task.outwork_cents,
                task.outwork_days,
                job.promised_on,
                waiting.of(task, job.id),
            )
            for task, job, range_ in found
        ]
