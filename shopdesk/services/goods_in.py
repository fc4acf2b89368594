"""Goods in and goods back: counted against what was ordered, landed with their freight, to the cent."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

import sqlalchemy as sa

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.stock import Landed, landed
from shopdesk.services import stock
from shopdesk.services.needs import cover, forget_other_ways, release
from shopdesk.services.purchasing import jobs_of
from shopdesk.services.seat import Seat
from shopdesk.services.stock import CONDITIONS
from shopdesk.storage.tables.stores import (
    GoodsBack,
    GoodsIn,
    Part,
    PartMovement,
    PurchaseLine,
    PurchaseOrder,
)
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrived:
    """What came of one line; `unit_cost_cents` None: as ordered, in the order's currency.

    `wrong_as` names what came instead of what was ordered; it waits to go back.
    """

    line_id: int
    quantity: int
    unit_cost_cents: int | None = None
    condition: str = "new"
    lies_at: str = ""
    wrong_as: str = ""


@dataclass(frozen=True, slots=True)
class GoodsRow:
    """Goods that came in, for sending some of them back; cents landed, for all of them."""

    id: int
    name: str
    on_day: dt.date
    quantity: int
    here: int
    landed_cents: int
    freight_cents: int
    wrong: bool


def take_delivery(
    seat: Seat,
    arrived: Sequence[Arrived],
    *,
    on: dt.date | None = None,
    freight_cents: int = 0,
    rate: Decimal | None = None,
) -> None:
    """Goods of one order that came together: each covers its need, what is over lies on the shelf.

    The freight (in our money) is shared over them by value; `rate` is what one unit of the
    supplier's money is in ours, the order's own unless given.
    """
    _check(arrived)
    with seat.change(Action.RECEIVE) as work:
        lines = [work.get(PurchaseLine, a.line_id, "order line") for a in arrived]
        order = lines[0].order
        if any(line.order_id != order.id for line in lines):
            raise Problem("Goods of one order are taken in together; count another order by itself.")
        if order.cancelled_on is not None:
            raise Problem("{number} is cancelled.", number=order.number)
        order.rate = rate or order.rate
        goods = [(a.quantity, _price(a, line)) for a, line in zip(arrived, lines, strict=True)]
        costs = landed(goods, freight_cents, order.currency, seat.region.currency, order.rate)
        for one, line, cost in zip(arrived, lines, costs, strict=True):
            _take_in(work, seat, one, line, cost, on or seat.today)
        work.about(order)
        work.jobs |= jobs_of(order)


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
    """Goods of one line."""
    one = Arrived(
        line_id=line_id, quantity=quantity, unit_cost_cents=unit_cost_cents, condition=condition,
        lies_at=lies_at,
    )  # fmt: skip
    take_delivery(seat, [one], on=on)


def send_back(
    seat: Seat, goods_in_id: int, quantity: int, because: str, *, credit_cents: int = 0,
    on: dt.date | None = None,
) -> None:  # fmt: skip
    """Goods go back to the supplier: wrong, faulty, too many. What was set aside of them is let go first.

    `credit_cents`: what the supplier gives back for them, in our money.
    """
    if not because.strip():
        raise Problem("Say why it goes back.", field="because")
    if credit_cents < 0:
        raise Problem("A credit is zero or more.", field="credit")
    with seat.change(Action.RECEIVE) as work:
        goods = work.get(GoodsIn, goods_in_id, "goods in")
        here = goods.quantity - sum(back.quantity for back in goods.went_back)
        if not 1 <= quantity <= here:
            raise Problem("{count} of {name} came in then and are here.", field="quantity", count=here,
                          name=goods.line.name)  # fmt: skip
        part = work.get(Part, _part_of(work, goods), "part")
        _free(work, seat, goods, part, quantity, because.strip())
        reason = say("sent back, {number}: {why}", number=goods.line.order.number, why=because.strip())
        moved = stock.move(work, seat, part, -quantity, reason, kind="sent back")
        goods.went_back.append(
            GoodsBack(
                goods_in_id=goods.id,
                on_day=on or seat.today,
                quantity=quantity,
                because=because.strip(),
                cost_cents=-moved.cost_cents,
                credit_cents=credit_cents,
                staff_id=seat.acting.staff_id,
            )
        )
        work.session.flush()
        work.about(goods.line.order)
        work.jobs |= jobs_of(goods.line.order)


def goods_of(seat: Seat, order_id: int) -> list[GoodsRow]:
    """What came in of an order, newest first."""
    query = (
        sa.select(GoodsIn)
        .join(PurchaseLine)
        .where(PurchaseLine.order_id == order_id)
        .options(sa.orm.selectinload(GoodsIn.went_back))
        .order_by(GoodsIn.id.desc())
    )
    with seat.look() as session:
        session.get_one(PurchaseOrder, order_id)
        return [
            GoodsRow(
                g.id,
                g.wrong_as or g.line.name,
                g.on_day,
                g.quantity,
                g.quantity - sum(b.quantity for b in g.went_back),
                g.landed_cents or 0,
                g.freight_cents,
                bool(g.wrong_as),
            )
            for g in session.scalars(query)
        ]


def _take_in(
    work: UnitOfWork, seat: Seat, one: Arrived, line: PurchaseLine, cost: Landed, on: dt.date
) -> None:
    goods = GoodsIn(
        on_day=on,
        quantity=one.quantity,
        unit_cost_cents=_price(one, line),
        staff_id=seat.acting.staff_id,
        wrong_as=one.wrong_as.strip(),
        freight_cents=cost.freight_cents,
        landed_cents=cost.total_cents,
    )
    line.received.append(goods)
    part = _shelf(work, one, line, stock.each(cost.total_cents, one.quantity))
    work.session.flush()
    number = line.order.number
    reason = say("goods in, {number}", number=number)
    if goods.wrong_as:
        reason = say("came in {number} instead of {name}", number=number, name=line.name)
    kind = "wrong part" if goods.wrong_as else "goods in"
    stock.move(work, seat, part, one.quantity, reason, kind=kind, cost_cents=cost.total_cents,
               goods_in_id=goods.id)  # fmt: skip
    if line.need is not None and not goods.wrong_as:
        wanted = line.need.quantity - line.need.covered - line.need.called_off
        count = min(wanted, one.quantity, stock.in_stock(work.session, part.id))
        if count > 0:
            cover(work, seat, line.need, part, count)
            if line.need.covered + line.need.called_off == line.need.quantity:
                forget_other_ways(work, line.need)


def _shelf(work: UnitOfWork, one: Arrived, line: PurchaseLine, cost_each: int) -> Part:
    """Where it lies from now on: the line's own part, or the one of that name and source."""
    if one.wrong_as.strip():
        return stock.shelf_part(work, one.wrong_as.strip(), one.condition, cost_each, one.lies_at)
    part = work.session.get(Part, line.part_id) if line.part_id else None
    if part is None or part.condition != one.condition:
        part = stock.shelf_part(work, line.name, one.condition, cost_each, one.lies_at)
    line.part_id = part.id
    if cost_each:
        part.price_in_cents = cost_each
    return part


def _free(work: UnitOfWork, seat: Seat, goods: GoodsIn, part: Part, quantity: int, why: str) -> None:
    """Lets go of what was set aside of these goods, as far as the shelf lacks it."""
    missing = quantity - stock.in_stock(work.session, part.id)
    need = goods.line.need
    if missing > 0 and need is not None and need.task.done_share < 100:
        missing -= release(work, seat, need, missing, why)
    if missing > 0:
        raise Problem("{count} of {part} are used already.", field="quantity", count=missing, part=part.name)


def _part_of(work: UnitOfWork, goods: GoodsIn) -> int:
    query = sa.select(PartMovement.part_id).where(PartMovement.goods_in_id == goods.id).limit(1)
    return int(work.session.scalars(query).one())


def _price(one: Arrived, line: PurchaseLine) -> int:
    return line.unit_cost_cents if one.unit_cost_cents is None else one.unit_cost_cents


def _check(arrived: Sequence[Arrived]) -> None:
    if not arrived:
        raise Problem("Count at least one line in.", field="quantity")
    for one in arrived:
        if one.quantity < 1:
            raise Problem("Goods in are one piece or more.", field="quantity")
        if one.condition not in CONDITIONS:
            raise Problem("A part is new, used, exchanged or made.", field="condition")
        if one.unit_cost_cents is not None and one.unit_cost_cents < 0:
            raise Problem("A price is zero or more.", field="cost")
