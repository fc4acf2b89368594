"""Parts, their movements, what tasks need, orders and goods in, outwork out and back."""

import datetime as dt
from decimal import Decimal

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, mapped_column, relationship

from shopdesk.storage.column_types import Cents, Count, Day, Flag, Percent, UtcTime
from shopdesk.storage.tables.base import STRICT, Base, Keyed, Versioned, maybe_ref, money, ref, text, whole
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.work import Task


class Part(Versioned, Base):
    """A kind of part the shop keeps; how many there are is the sum of its movements."""

    __tablename__ = "part"
    number: Mapped[str] = mapped_column(sa.Text, unique=True)
    name: Mapped[str] = text(None)
    condition: Mapped[str] = text("new")  # where it comes from: new, used, exchanged, made
    state: Mapped[str] = text()  # how it is, in words
    lies_at: Mapped[str] = text()
    price_in_cents: Mapped[int] = mapped_column(Cents, default=0)
    price_out_cents: Mapped[int] = mapped_column(Cents, default=0)
    from_range_id: Mapped[int | None] = maybe_ref("gas_range.id")
    note: Mapped[str] = text()
    consumable: Mapped[bool] = mapped_column(Flag, default=False, server_default=sa.false())  # kept up
    lead_days: Mapped[int] = whole()
    served_percent: Mapped[int] = whole(95)  # how often it is to be there when asked for
    pack: Mapped[int] = whole(1)  # it is bought by so many
    fits: Mapped[list["PartFit"]] = relationship(cascade="all, delete-orphan", order_by="PartFit.id")
    __table_args__ = (
        sa.CheckConstraint("condition in ('new','used','exchanged','made')", name="condition"),
        STRICT,
    )


class PartFit(Keyed, Base):
    """Ranges a part goes on: by maker, model and features of the build; empty ones ask nothing."""

    __tablename__ = "part_fit"
    part_id: Mapped[int] = ref("part.id")
    maker: Mapped[str] = text()
    model: Mapped[str] = text()
    build: Mapped[str] = text()  # feature words, joined by commas
    certain: Mapped[bool] = mapped_column(Flag, default=True)  # fits; else it may fit
    note: Mapped[str] = text()
    __table_args__ = (STRICT,)


class PartMovement(Keyed, Base):
    """Parts in or out; rows are only ever added."""

    __tablename__ = "part_movement"
    part_id: Mapped[int] = ref("part.id")
    at: Mapped[dt.datetime] = mapped_column(UtcTime)
    quantity: Mapped[int] = mapped_column(Count)
    reason: Mapped[str] = text(None)
    need_id: Mapped[int | None] = maybe_ref("need.id")
    goods_in_id: Mapped[int | None] = maybe_ref("goods_in.id")
    staff_id: Mapped[int] = ref("staff.id", index=False)
    kind: Mapped[str] = text("moved")
    cost_cents: Mapped[int] = money()  # of all of it, with the sign of the quantity
    price_cents: Mapped[int] = money()  # what it fetched, when sold
    __table_args__ = (
        sa.CheckConstraint("quantity <> 0", name="quantity"),
        sa.Index("ix_part_movement_at", "at"),
        STRICT,
    )


class Need(Versioned, Base):
    """What a task uses up; covered once `covered` reaches `quantity`."""

    __tablename__ = "need"
    task_id: Mapped[int] = ref("task.id")
    name: Mapped[str] = text(None)
    quantity: Mapped[int] = mapped_column(Count, default=1)
    covered: Mapped[int] = mapped_column(Count, default=0)
    cost_cents: Mapped[int] = mapped_column(Cents, default=0)  # each, expected or paid
    price_cents: Mapped[int] = mapped_column(Cents, default=0)  # each, charged
    condition: Mapped[str] = text("new")
    called_off: Mapped[int] = mapped_column(Count, default=0)
    called_off_because: Mapped[str] = text()
    task: Mapped[Task] = relationship()
    __table_args__ = (
        sa.CheckConstraint("quantity > 0 and covered between 0 and quantity", name="covered"),
        STRICT,
    )


class PurchaseOrder(Versioned, Base):
    """Parts asked of a supplier."""

    __tablename__ = "purchase_order"
    number: Mapped[str] = mapped_column(sa.Text, unique=True)
    supplier_id: Mapped[int] = ref("party.id")
    currency: Mapped[str] = text("USD")
    ordered_on: Mapped[dt.date] = mapped_column(Day)
    expected_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    cancelled_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    note: Mapped[str] = text()
    rate: Mapped[Decimal | None] = mapped_column(Percent, default=None)  # one of theirs in our money
    sent_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    sent_how: Mapped[str] = text()
    acknowledged_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    their_number: Mapped[str] = text()
    chased_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    chased_answer: Mapped[str] = text()
    supplier: Mapped[Party] = relationship()
    lines: Mapped[list["PurchaseLine"]] = relationship(
        back_populates="order", cascade="all, delete-orphan", order_by="PurchaseLine.id"
    )
    __table_args__ = (STRICT,)


class PurchaseLine(Keyed, Base):
    __tablename__ = "purchase_line"
    order_id: Mapped[int] = ref("purchase_order.id")
    need_id: Mapped[int | None] = maybe_ref("need.id")
    part_id: Mapped[int | None] = maybe_ref("part.id")
    name: Mapped[str] = text(None)
    quantity: Mapped[int] = mapped_column(Count)
    unit_cost_cents: Mapped[int] = mapped_column(Cents, default=0)  # in the order's currency
    theirs: Mapped[str] = text()  # the supplier's own number for it
    called_off: Mapped[int] = whole()
    called_off_because: Mapped[str] = text()
    order: Mapped[PurchaseOrder] = relationship(back_populates="lines")
    need: Mapped[Need | None] = relationship()
    received: Mapped[list["GoodsIn"]] = relationship(back_populates="line", order_by="GoodsIn.id")
    __table_args__ = (sa.CheckConstraint("quantity > 0", name="quantity"), STRICT)


class GoodsIn(Keyed, Base):
    """What arrived of an ordered line, and when."""

    __tablename__ = "goods_in"
    line_id: Mapped[int] = ref("purchase_line.id")
    on_day: Mapped[dt.date] = mapped_column(Day)
    quantity: Mapped[int] = mapped_column(Count)
    unit_cost_cents: Mapped[int] = mapped_column(Cents)  # in the order's currency
    staff_id: Mapped[int] = ref("staff.id", index=False)
    wrong_as: Mapped[str] = text()  # what came instead of what was ordered
    freight_cents: Mapped[int] = money()  # its share of the freight, in our money
    landed_cents: Mapped[int | None] = mapped_column(Cents, default=None)  # all of it, freight in
    line: Mapped[PurchaseLine] = relationship(back_populates="received")
    went_back: Mapped[list["GoodsBack"]] = relationship(order_by="GoodsBack.id")
    __table_args__ = (sa.CheckConstraint("quantity > 0", name="quantity"), STRICT)


class GoodsBack(Keyed, Base):
    """Goods sent back to the supplier; rows are only ever added."""

    __tablename__ = "goods_back"
    goods_in_id: Mapped[int] = ref("goods_in.id")
    on_day: Mapped[dt.date] = mapped_column(Day)
    quantity: Mapped[int] = mapped_column(Count)
    because: Mapped[str] = text(None)
    cost_cents: Mapped[int] = mapped_column(Cents)  # what it had cost, in our money
    credit_cents: Mapped[int] = mapped_column(Cents)  # what the supplier gives back, in our money
    staff_id: Mapped[int] = ref("staff.id", index=False)
    __table_args__ = (sa.CheckConstraint("quantity > 0", name="quantity"), STRICT)


class Consignment(Versioned, Base):
    """Pieces sent out together as outwork."""

    __tablename__ = "consignment"
    number: Mapped[str] = mapped_column(sa.Text, unique=True)
    firm_id: Mapped[int] = ref("party.id")
    sent_on: Mapped[dt.date] = mapped_column(Day)
    expected_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    note: Mapped[str] = text()
    bill_number: Mapped[str] = text()
    bill_cents: Mapped[int | None] = mapped_column(Cents, default=None)
    billed_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    firm: Mapped[Party] = relationship()
    pieces: Mapped[list["ConsignmentPiece"]] = relationship(
        back_populates="consignment", cascade="all, delete-orphan", order_by="ConsignmentPiece.id"
    )
    __table_args__ = (STRICT,)


class ConsignmentPiece(Versioned, Base):
    __tablename__ = "consignment_piece"
    consignment_id: Mapped[int] = ref("consignment.id")
    task_id: Mapped[int] = ref("task.id")
    name: Mapped[str] = text(None)
    base_metal: Mapped[str] = text()
    finish: Mapped[str] = text()
    count_out: Mapped[int] = mapped_column(Count, default=1)
    count_back: Mapped[int] = mapped_column(Count, default=0)
    back_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    accepted: Mapped[str] = text()  # empty: not looked at yet; accepted; rejected
    cost_cents: Mapped[int] = mapped_column(Cents, default=0)  # for all of the piece's count
    price_cents: Mapped[int] = mapped_column(Cents, default=0)
    insured_cents: Mapped[int] = mapped_column(Cents, default=0)
    priced_by: Mapped[str] = text("piece")  # piece or area
    unit_price_cents: Mapped[int] = money()  # for one piece, or for one measure of area
    area: Mapped[Decimal | None] = mapped_column(Percent, default=None)  # of one piece, in the shop's measure
    count_rejected: Mapped[int] = whole()  # here, rejected, not sent again yet
    times_redone: Mapped[int] = whole()
    count_lost: Mapped[int] = whole()
    lost_because: Mapped[str] = text()
    lost_cents: Mapped[int] = money()
    consignment: Mapped[Consignment] = relationship(back_populates="pieces")
    task: Mapped[Task] = relationship()
    __table_args__ = (
        sa.CheckConstraint("count_out > 0 and count_back between 0 and count_out", name="count"),
        sa.Index("ix_consignment_piece_back", "back_on"),
        STRICT,
    )


class PieceEvent(Keyed, Base):
    """What happened to a piece, with its count: out, back, rejected, sent again, lost, billed; only added."""

    __tablename__ = "piece_event"
    piece_id: Mapped[int] = ref("consignment_piece.id")
    on_day: Mapped[dt.date] = mapped_column(Day)
    kind: Mapped[str] = text(None)
    count: Mapped[int] = mapped_column(Count)
    cents: Mapped[int] = mapped_column(Cents, default=0)
    note: Mapped[str] = text()
    staff_id: Mapped[int] = ref("staff.id", index=False)
    __table_args__ = (STRICT,)
