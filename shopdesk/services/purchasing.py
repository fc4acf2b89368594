"""Orders to suppliers: written and issued, sent, acknowledged, chased when late, called off, cancelled."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

import sqlalchemy as sa

from shopdesk.domain.money import decimals
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.needs import came_of
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.papers.purchase_order import purchase_order_facts
from shopdesk.services.seat import Seat
from shopdesk.services.thermostat_card import refuse_tasks_without_card
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.stores import GoodsIn, Need, Part, PurchaseLine, PurchaseOrder
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say

OPEN = ("open", "part received", "late")


@dataclass(frozen=True, slots=True)
class OrderLine:
    """A line to be ordered, for a need or for the shelf (`need_id` None); priced in the supplier's money."""

    name: str
    quantity: int
    unit_cost_cents: int
    need_id: int | None = None
    part_id: int | None = None
    theirs: str = ""


@dataclass(frozen=True, slots=True)
class OrderLineRow:
    """`received` came and stayed; `wrong` came as something else and is still here."""

    id: int
    name: str
    quantity: int
    received: int
    unit_cost_cents: int
    range_number: str
    theirs: str = ""
    called_off: int = 0
    wrong: int = 0
    promised_on: dt.date | None = None

    @property
    def left(self) -> int:
        """What is still to come; nothing when more came than was ordered."""
        return max(0, self.quantity - self.received - self.called_off)


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
    supplier_id: int = 0
    rate: Decimal | None = None
    sent_on: dt.date | None = None
    sent_how: str = ""
    acknowledged_on: dt.date | None = None
    their_number: str = ""
    chased_on: dt.date | None = None
    chased_answer: str = ""
    note: str = ""


def order_parts(
    seat: Seat,
    supplier_id: int,
    lines: Sequence[OrderLine],
    *,
    expected_on: dt.date | None = None,
    note: str = "",
    rate: Decimal | None = None,
) -> int:
    """Orders from a supplier in its currency and issues the paper; returns the order's key.

    Without a day the supplier's usual lead time says when it is expected.
    """
    _check(lines)
    with seat.change(Action.ORDER) as work:
        supplier = work.get(Party, supplier_id, "supplier")
        for line in lines:
            if line.need_id is not None:
                need = work.get(Need, line.need_id, "need")
                refuse_tasks_without_card(work.session, [need.task])
            if line.part_id is not None:
                work.get(Part, line.part_id, "part")
        currency = supplier.currency or seat.region.currency
        decimals(currency)  # a Problem names a currency nobody knows
        usual = seat.today + dt.timedelta(days=supplier.lead_days) if supplier.lead_days else None
        order = work.add(
            PurchaseOrder(
                number=work.take_number("purchase order"),
                supplier_id=supplier_id,
                currency=currency,
                rate=rate,
                ordered_on=seat.today,
                expected_on=expected_on or usual,
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
                theirs=line.theirs,
            )
            for line in lines
        ]
        work.session.flush()
        facts = purchase_order_facts(seat, work.session, order)
        title = say("Order {number}", number=order.number)
        keep_paper(work, "purchase order", order.number, title, facts, party_id=supplier_id)
        work.about(order)
        work.jobs |= jobs_of(order)
        return order.id


def note_sent(seat: Seat, order_id: int, how: str, on: dt.date | None = None) -> None:
    """The order went to the supplier: by mail, by post, on the telephone."""
    if not how.strip():
        raise Problem("Say how it was sent.", field="how")
    with seat.change(Action.ORDER) as work:
        order = _open(work, order_id)
        order.sent_on, order.sent_how = on or seat.today, how.strip()
        work.about(order)


def acknowledge(
    seat: Seat, order_id: int, *, their_number: str = "", expected_on: dt.date | None = None,
    on: dt.date | None = None,
) -> None:  # fmt: skip
    """The supplier says it has the order, under its own number, and when the goods come."""
    with seat.change(Action.ORDER) as work:
        order = _open(work, order_id)
        order.acknowledged_on, order.their_number = on or seat.today, their_number.strip()
        order.expected_on = expected_on or order.expected_on
        work.about(order)
        work.jobs |= jobs_of(order)


def note_chased(seat: Seat, order_id: int, answer: str, expected_on: dt.date | None = None) -> None:
    """A late order was asked after: what the supplier said, and the new day if there is one."""
    if not answer.strip():
        raise Problem("Write what the supplier said, or that nobody answered.", field="answer")
    with seat.change(Action.ORDER) as work:
        order = _open(work, order_id)
        order.chased_on, order.chased_answer = seat.today, answer.strip()
        order.expected_on = expected_on or order.expected_on
        work.about(order)
        work.jobs |= jobs_of(order)


def call_line_off(seat: Seat, line_id: int, because: str) -> None:
    """What has not come of a line is not waited for any more; its need is short again."""
    if not because.strip():
        raise Problem("Say why it is not coming.", field="because")
    with seat.change(Action.ORDER) as work:
        line = work.get(PurchaseLine, line_id, "order line")
        left = line.quantity - came_of(line) - line.called_off
        if left <= 0:
            raise Problem("All of {name} came already.", name=line.name)
        line.called_off += left
        line.called_off_because = because.strip()
        work.about(line.order)
        work.jobs |= jobs_of(line.order)


def cancel_order(seat: Seat, order_id: int) -> None:
    with seat.change(Action.ORDER) as work:
        order = work.get(PurchaseOrder, order_id, "order")
        if any(line.received for line in order.lines):
            raise Problem("Goods of {number} came in already; it cannot be cancelled.", number=order.number)
        order.cancelled_on = seat.today
        work.about(order)
        work.jobs |= jobs_of(order)


def orders(seat: Seat, *, open_only: bool = False, limit: int = 200) -> list[OrderRow]:
    """Purchase orders, newest first."""
    lines = sa.orm.selectinload(PurchaseOrder.lines)
    query = (
        sa.select(PurchaseOrder)
        .options(
            sa.orm.joinedload(PurchaseOrder.supplier),
            lines.selectinload(PurchaseLine.received).selectinload(GoodsIn.went_back),
        )
        .order_by(PurchaseOrder.id.desc())
        .limit(limit)
    )
    with seat.look() as session:
        rows = [_order_row(order, seat.today) for order in session.scalars(query)]
    return [r for r in rows if not open_only or r.standing in OPEN]


def late_orders(seat: Seat) -> list[OrderRow]:
    """Orders that should be here, the latest first."""
    late = [row for row in orders(seat, open_only=True) if row.standing == "late"]
    return sorted(late, key=lambda row: row.expected_on or seat.today)


def jobs_of(order: PurchaseOrder) -> set[int]:
    return {line.need.task.work_order.job_id for line in order.lines if line.need is not None}


def _check(lines: Sequence[OrderLine]) -> None:
    if not lines:
        raise Problem("An order needs at least one line.", field="lines")
    for line in lines:
        if line.quantity < 1 or line.unit_cost_cents < 0:
            raise Problem(
                "The line “{name}” needs a count above zero and a price of zero or more.",
                field="lines",
                name=line.name,
            )


def _open(work: UnitOfWork, order_id: int) -> PurchaseOrder:
    order = work.get(PurchaseOrder, order_id, "order")
    if order.cancelled_on is not None:
        raise Problem("{number} is cancelled.", number=order.number)
    return order


def _order_row(order: PurchaseOrder, today: dt.date) -> OrderRow:
    lines = tuple(_line_row(line) for line in order.lines)
    return OrderRow(
        order.id,
        order.number,
        order.supplier.name,
        order.ordered_on,
        order.expected_on,
        order.currency,
        sum(x.quantity * x.unit_cost_cents for x in lines),
        _standing(order, lines, today),
        lines,
        order.supplier_id,
        order.rate,
        order.sent_on,
        order.sent_how,
        order.acknowledged_on,
        order.their_number,
        order.chased_on,
        order.chased_answer,
        order.note,
    )


def _line_row(line: PurchaseLine) -> OrderLineRow:
    job = line.need.task.work_order.job if line.need else None
    wrong = sum(g.quantity - sum(b.quantity for b in g.went_back) for g in line.received if g.wrong_as)
    return OrderLineRow(
        line.id,
        line.name,
        line.quantity,
        came_of(line),
        line.unit_cost_cents,
        job.range.number if job else "",
        line.theirs,
        line.called_off,
        wrong,
        job.promised_on if job else None,
    )


def _standing(order: PurchaseOrder, lines: tuple[OrderLineRow, ...], today: dt.date) -> str:
    if order.cancelled_on is not None:
        return "cancelled"
    if not any(line.left for line in lines):
        return "received"
    if order.expected_on is not None and order.expected_on < today:
        return "late"
    return "part received" if any(line.received for line in lines) else "open"
