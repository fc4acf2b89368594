"""Parts, their movements, what tasks need, orders and goods in, outwork out and back."""

import datetime as dt

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, mapped_column, relationship

from shopdesk.storage.column_types import Cents, Count, Day, UtcTime
from shopdesk.storage.tables.base import STRICT, Base, Keyed, Versioned, maybe_ref, ref, text
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.work import Task


class Part(Versioned, Base):
    """A kind of part the shop keeps; how many there are is the sum of its movements."""

    __tablename__ = "part"
    number: Mapped[str] = mapped_column(sa.Text, unique=True)
    name: Mapped[str] = text(None)
    condition: Mapped[str] = text("new")  # new, used, exchanged, made
    lies_at: Mapped[str] = text()
    price_in_cents: Mapped[int] = mapped_column(Cents, default=0)
    price_out_cents: Mapped[int] = mapped_column(Cents, default=0)
    from_range_id: Mapped[int | None] = maybe_ref("gas_range.id")
    note: Mapped[str] = text()
    __table_args__ = (
        sa.CheckConstraint("condition in ('new','used','exchanged','made')", name="condition"),
        STRICT,
    )


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
    __table_args__ = (sa.CheckConstraint("quantity <> 0", name="quantity"), STRICT)


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
    unit_cost_cents: Mapped[int] = mapped_column(Cents, default=0)
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
    unit_cost_cents: Mapped[int] = mapped_column(Cents)
    staff_id: Mapped[int] = ref("staff.id", index=False)
    line: Mapped[PurchaseLine] = relationship(back_populates="received")
    __table_args__ = (sa.CheckConstraint("quantity > 0", name="quantity"), STRICT)


class Consignment(Versioned, Base):
    """Pieces sent out together as outwork."""

    __tablename__ = "consignment"
    number: Mapped[str] = mapped_column(sa.Text, unique=True)
    firm_id: Mapped[int] = ref("party.id")
    sent_on: Mapped[dt.date] = mapped_column(Day)
    expected_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    note: Mapped[str] = text()
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
    consignment: Mapped[Consignment] = relationship(back_populates="pieces")
    task: Mapped[Task] = relationship()
    __table_args__ = (
        sa.CheckConstraint("count_out > 0 and count_back between 0 and count_out", name="count"),
        STRICT,
    )
