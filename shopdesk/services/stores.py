"""Stores: what tasks need, stock as a ledger of movements, orders and goods in."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.money import marked_up
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import settings
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.papers.purchase_order import purchase_order_facts
from shopdesk.services.seat import Seat
from shopdesk.services.thermostat_card import refuse_tasks_without_card
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.stores import GoodsIn, Need, Part, PartMovement, PurchaseLine, PurchaseOrder
from shopdesk.storage.tables.work import Task, WorkOrder
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say

CONDITIONS = ("new", "used", "exchanged", "made")


@dataclass(frozen=True, slots=True)
class NeedRow:
    """What a task needs; `short` is what is neither covered nor called off nor on order."""

    id: int
    name: str
    quantity: int
    covered: int
    on_order: int
    short: int
    cost_cents: int
    task: str
    job_id: int
    range_number: str
    promised_on: dt.date | None
    expected_on: dt.date | None
    in_stock: int


@dataclass(frozen=True, slots=True)
class OrderLine:
    """A line to be ordered: for a need, or for the shelf (`need_id` None)."""

    name: str
    quantity: int
    unit_cost_cents: int
    need_id: int | None = None
    part_id: int | None = None


@dataclass(frozen=True, slots=True)
class OrderLineRow:
    id: int
    name: str
    quantity: int
    received: int
    unit_cost_cents: int
    range_number: str


@dataclass(frozen=True, slots=True)
class OrderRow:
    """A purchase order; `standing` is open, part received, received, late or cancelled."""

    id: int
    number: str
    supplier: str
    ordered_on: dt.date
    expected_on: dt.date | None
    currency: str
    total_cents: int
    standing: str
    lines: tuple[OrderLineRow, ...]


@dataclass(frozen=True, slots=True)
class PartRow:
    id: int
    number: str
    name: str
    condition: str
    lies_at: str
    in_stock: int
    price_in_cents: int
    price_out_cents: int


def needs(seat: Seat, *, job_id: int | None = None, short_only: bool = False) -> list[NeedRow]:
    """What open jobs need, short ones first, then by promise."""
    query = (
        sa.select(Need, Task, Job, Range)
        .join(Task, Task.id == Need.task_id)
        .join(WorkOrder, WorkOrder.id == Task.work_order_id)
        .join(Job, Job.id == WorkOrder.job_id)
        .join(Range, Range.id == Job.range_id)
        .where(Task.dropped == False, Job.ended_as == "", Job.gone_on.is_(None))
        .order_by(Job.promised_on.is_(None), Job.promised_on, Job.id, Task.place, Need.id)
    )
    if job_id is not None:
        query = query.where(Job.id == job_id)
    with seat.look() as session:
        found = session.execute(query).all()
        ordered = _on_order(session)
        stock = _stock_by_name(session)
        rows = [_need_row(need, task, job, range_, ordered, stock) for need, task, job, range_ in found]
    return sorted((r for r in rows if r.short or not short_only), key=lambda r: r.short == 0)


def cover_from_stock(seat: Seat, need_id: int, part_id: int) -> int:
    """Takes what is there of a part for a need; returns how many were taken."""
    with seat.change(Action.KEEP_STORES) as work:
        need = work.get(Need, need_id, "need")
        part = work.get(Part, part_id, "part")
        taken = min(need.quantity - need.covered - need.called_off, in_stock(work.session, part_id))
        if taken <= 0:
            raise Problem("There is none of {part} left to take.", part=part.name)
        _cover(work, seat, need, part, taken, part.condition, part.price_in_cents)
        if part.price_out_cents:
            need.price_cents = part.price_out_cents
        return taken


def call_off(seat: Seat, need_id: int, why: str) -> None:
    """The rest of a need is not wanted after all."""
    if not why.strip():
        raise Problem("Say why it is not needed.", field="why")
    with seat.change(Action.KEEP_STORES) as work:
        need = work.get(Need, need_id, "need")
        need.called_off, need.called_off_because = need.quantity - need.covered, why.strip()
        work.about(need, need.task.work_order.job_id)


def order_parts(
    seat: Seat,
    supplier_id: int,
    lines: Sequence[OrderLine],
    *,
    expected_on: dt.date | None = None,
    note: str = "",
) -> int:
    """Orders from a supplier and issues the paper; returns the order's key."""
    if not lines:
        raise Problem("An order needs at least one line.", field="lines")
    for line in lines:
        if line.quantity < 1 or line.unit_cost_cents < 0:
            raise Problem(
                "The line “{name}” needs a count above zero and a price of zero or more.",
                field="lines",
                name=line.name,
            )
    with seat.change(Action.ORDER) as work:
        work.get(Party, supplier_id, "supplier")
        for line in lines:
            if line.need_id is not None:
                need = work.get(Need, line.need_id, "need")
                refuse_tasks_without_card(work.session, [need.task])
            if line.part_id is not None:
                work.get(Part, line.part_id, "part")
        order = work.add(
            PurchaseOrder(
                number=work.take_number("purchase order"),
                supplier_id=supplier_id,
                currency=seat.region.currency,
                ordered_on=seat.today,
                expected_on=expected_on,
                note=note.strip(),
            )
        )
        order.lines = [
            PurchaseLine(
                name=line.name,
                quantity=line.quantity,
                unit_cost_cents=line.unit_cost_cents,
                need_id=line.need_id,
                part_id=line.part_id,
            )
            for line in lines
        ]
        work.session.flush()
        facts = purchase_order_facts(seat, work.session, order)
        title = say("Order {number}", number=order.number)
        keep_paper(work, "purchase order", order.number, title, facts, party_id=supplier_id)
        work.about(order)
        work.jobs |= _jobs_of(order)
        return order.id


def take_goods_in(
    seat: Seat,
    line_id: int,
    quantity: int,
    *,
    on: dt.date | None = None,
    unit_cost_cents: int | None = None,
    condition: str = "new",
    lies_at: str = "",
) -> None:
    """Goods in: what came of an ordered line covers its need; what is over goes on the shelf."""
    if quantity < 1:
        raise Problem("Goods in are one piece or more.", field="quantity")
    if condition not in CONDITIONS:
        raise Problem("A part is new, used, exchanged or made.", field="condition")
    with seat.change(Action.RECEIVE) as work:
        line = work.get(PurchaseLine, line_id, "order line")
        if line.order.cancelled_on is not None:
            raise Problem("{number} is cancelled.", number=line.order.number)
        cost = line.unit_cost_cents if unit_cost_cents is None else unit_cost_cents
        goods = GoodsIn(
            on_day=on or seat.today, quantity=quantity, unit_cost_cents=cost, staff_id=seat.acting.staff_id
        )
        line.received.append(goods)
        part = work.session.get(Part, line.part_id) if line.part_id else None
        if part is None or part.condition != condition:
            part = _shelf_part(work, line.name, condition, cost, lies_at)
        line.part_id = part.id
        work.session.flush()
        _move(
            work,
            seat,
            part,
            quantity,
            say("goods in, {number}", number=line.order.number),
            goods_in_id=goods.id,
        )
        if line.need is not None:
            wanted = line.need.quantity - line.need.covered - line.need.called_off
            if wanted > 0:
                _cover(work, seat, line.need, part, min(wanted, quantity), condition, cost)
        work.about(line.order)
        work.jobs |= _jobs_of(line.order)


def cancel_order(seat: Seat, order_id: int) -> None:
    with seat.change(Action.ORDER) as work:
        order = work.get(PurchaseOrder, order_id, "order")
        if any(line.received for line in order.lines):
            raise Problem("Goods of {number} came in already; it cannot be cancelled.", number=order.number)
        order.cancelled_on = seat.today
        work.about(order)


def orders(seat: Seat, *, open_only: bool = False, limit: int = 200) -> list[OrderRow]:
    """Purchase orders, newest first."""
    query = (
        sa.select(PurchaseOrder)
        .options(
            sa.orm.joinedload(PurchaseOrder.supplier),
            sa.orm.selectinload(PurchaseOrder.lines).selectinload(PurchaseLine.received),
        )
        .order_by(PurchaseOrder.id.desc())
        .limit(limit)
    )
    with seat.look() as session:
        rows = [_order_row(order, seat.today) for order in session.scalars(query)]
    return [r for r in rows if not open_only or r.standing in ("open", "part received", "late")]


def keep_part(
    seat: Seat,
    name: str,
    *,
    condition: str = "new",
    lies_at: str = "",
    price_in_cents: int = 0,
    price_out_cents: int = 0,
    from_range_id: int | None = None,
    count: int = 0,
    reason: str = "",
) -> int:
    """A new kind of part on the shelf, with how many there are and why; returns its key."""
    if not name.strip():
        raise Problem("A part needs a name.", field="name")
    if condition not in CONDITIONS:
        raise Problem("A part is new, used, exchanged or made.", field="condition")
    if min(count, price_in_cents, price_out_cents) < 0:
        raise Problem("A count and a price are zero or more.", field="count")
    with seat.change(Action.KEEP_STORES) as work:
        part = work.add(
            Part(
                number=work.take_number("part"),
                name=name.strip(),
                condition=condition,
                lies_at=lies_at.strip(),
                price_in_cents=price_in_cents,
                price_out_cents=price_out_cents,
                from_range_id=from_range_id,
            )
        )
        work.session.flush()
        if count:
            _move(work, seat, part, count, reason.strip() or say("counted in"))
        work.about(part)
        return part.id


def move_part(seat: Seat, part_id: int, quantity: int, reason: str) -> None:
    """Parts in (positive) or out (negative); never below nothing, never without a reason."""
    if quantity == 0 or not reason.strip():
        raise Problem("A movement has a count and a reason.", field="reason")
    with seat.change(Action.KEEP_STORES) as work:
        part = work.get(Part, part_id, "part")
        if in_stock(work.session, part_id) + quantity < 0:
            raise Problem(
                "Only {count} of {part} are there.", count=in_stock(work.session, part_id), part=part.name
            )
        _move(work, seat, part, quantity, reason.strip())
        work.about(part)


def parts(seat: Seat, words: str = "", *, limit: int = 200) -> list[PartRow]:
    """Parts by name with how many there are."""
    count = sa.func.coalesce(sa.func.sum(PartMovement.quantity), 0)
    query = (
        sa.select(Part, count)
        .outerjoin(PartMovement)
        .group_by(Part.id)
        .order_by(Part.name, Part.id)
        .limit(limit)
    )
    if words.strip():
        query = query.where(sa.func.lower(Part.name).contains(words.strip().lower(), autoescape=True))
    with seat.look() as session:
        return [
            PartRow(
                p.id, p.number, p.name, p.condition, p.lies_at, int(n), p.price_in_cents, p.price_out_cents
            )
            for p, n in session.execute(query)
        ]


def in_stock(session: Session, part_id: int) -> int:
    return int(
        session.scalar(sa.select(sa.func.sum(PartMovement.quantity)).where(PartMovement.part_id == part_id))
        or 0
    )


def _cover(
    work: UnitOfWork, seat: Seat, need: Need, part: Part, quantity: int, condition: str, cost: int
) -> None:
    _move(work, seat, part, -quantity, say("used for {task}", task=need.task.name), need_id=need.id)
    need.covered += quantity
    need.condition, need.cost_cents = condition, cost
    work.session.flush()
    work.about(need, need.task.work_order.job_id)


def _move(
    work: UnitOfWork,
    seat: Seat,
    part: Part,
    quantity: int,
    reason: str,
    *,
    need_id: int | None = None,
    goods_in_id: int | None = None,
) -> None:
    work.add(
        PartMovement(
            part_id=part.id,
            at=work.now,
            quantity=quantity,
            reason=reason,
            need_id=need_id,
            goods_in_id=goods_in_id,
            staff_id=seat.acting.staff_id,
        )
    )
    work.session.flush()


def _shelf_part(work: UnitOfWork, name: str, condition: str, cost: int, lies_at: str) -> Part:
    """The part of that name and condition, or a new one on the shelf."""
    part = work.session.scalars(sa.select(Part).where(Part.name == name, Part.condition == condition)).first()
    if part is None:
        markup = settings.read(work.session, settings.Terms).part_markup_percent
        part = work.add(
            Part(
                number=work.take_number("part"),
                name=name,
                condition=condition,
                lies_at=lies_at.strip(),
                price_in_cents=cost,
                price_out_cents=marked_up(cost, markup),
            )
        )
        work.session.flush()
    return part


def _jobs_of(order: PurchaseOrder) -> set[int]:
    return {line.need.task.work_order.job_id for line in order.lines if line.need is not None}


def _on_order(session: Session) -> dict[int, tuple[int, dt.date | None]]:
    """By need: how many are ordered and not in yet, and when the last is expected."""
    found: dict[int, tuple[int, dt.date | None]] = {}
    query = (
        sa.select(PurchaseLine)
        .join(PurchaseOrder)
        .options(sa.orm.joinedload(PurchaseLine.order), sa.orm.selectinload(PurchaseLine.received))
        .where(PurchaseLine.need_id.is_not(None), PurchaseOrder.cancelled_on.is_(None))
    )
    for line in session.scalars(query):
        assert line.need_id is not None
        left = max(0, line.quantity - sum(g.quantity for g in line.received))
        if left:
            count, _ = found.get(line.need_id, (0, None))
            found[line.need_id] = (count + left, line.order.expected_on)
    return found


def _stock_by_name(session: Session) -> dict[str, int]:
    rows = session.execute(
        sa.select(Part.name, sa.func.sum(PartMovement.quantity)).join(PartMovement).group_by(Part.name)
    )
    return {name: int(count or 0) for name, count in rows}


def _need_row(
    need: Need,
    task: Task,
    job: Job,
    range_: Range,
    ordered: dict[int, tuple[int, dt.date | None]],
    stock: dict[str, int],
) -> NeedRow:
    count, expected = ordered.get(need.id, (0, None))
    open_count = need.quantity - need.covered - need.called_off
    return NeedRow(
        need.id,
        need.name,
        need.quantity,
        need.covered,
        count,
        max(0, open_count - count),
        need.cost_cents,
        task.name,
        job.id,
        range_.number,
        job.promised_on,
        expected,
        max(0, stock.get(need.name, 0)),
    )


def _order_row(order: PurchaseOrder, today: dt.date) -> OrderRow:
    lines = tuple(
        OrderLineRow(
            line.id,
            line.name,
            line.quantity,
            sum(g.quantity for g in line.received),
            line.unit_cost_cents,
            line.need.task.work_order.job.range.number if line.need else "",
        )
        for line in order.lines
    )
    return OrderRow(
        order.id,
        order.number,
        order.supplier.name,
        order.ordered_on,
        order.expected_on,
        order.currency,
        sum(x.quantity * x.unit_cost_cents for x in lines),
        _order_standing(order, lines, today),
        lines,
    )


def _order_standing(order: PurchaseOrder, lines: tuple[OrderLineRow, ...], today: dt.date) -> str:
    if order.cancelled_on is not None:
        return "cancelled"
    if all(line.received >= line.quantity for line in lines):
        return "received"
    if order.expected_on is not None and order.expected_on < today:
        return "late"
    return "part received" if any(line.received for line in lines) else "open"
