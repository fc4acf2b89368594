"""Bins counted, and pictures of what lies in the stores."""

import datetime as dt

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, mapped_column, relationship

from shopdesk.storage.column_types import Cents, Count, Day, UtcTime
from shopdesk.storage.tables.base import STRICT, Base, Keyed, maybe_ref, ref, text


class StoresPhotograph(Keyed, Base):
    """A picture of a part, of something on a donor, or of a piece that went out."""

    __tablename__ = "stores_photograph"
    photograph_id: Mapped[int] = ref("photograph.id")
    part_id: Mapped[int | None] = maybe_ref("part.id")
    donor_part_id: Mapped[int | None] = maybe_ref("donor_part.id")
    piece_id: Mapped[int | None] = maybe_ref("consignment_piece.id")
    caption: Mapped[str] = text()
    __table_args__ = (STRICT,)


class StockTake(Keyed, Base):
    """One bin counted on one day; rows are only ever added."""

    __tablename__ = "stock_take"
    at: Mapped[dt.datetime] = mapped_column(UtcTime)
    on_day: Mapped[dt.date] = mapped_column(Day)
    bin: Mapped[str] = text(None)
    staff_id: Mapped[int] = ref("staff.id", index=False)
    lines: Mapped[list["StockTakeLine"]] = relationship(order_by="StockTakeLine.id")
    __table_args__ = (STRICT,)


class StockTakeLine(Keyed, Base):
    __tablename__ = "stock_take_line"
    take_id: Mapped[int] = ref("stock_take.id")
    part_id: Mapped[int] = ref("part.id")
    expected: Mapped[int] = mapped_column(Count)
    counted: Mapped[int] = mapped_column(Count)
    because: Mapped[str] = text()
    cost_cents: Mapped[int] = mapped_column(Cents)
    __table_args__ = (sa.CheckConstraint("counted >= 0", name="counted"), STRICT)
