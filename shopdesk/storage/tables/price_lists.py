"""What suppliers ask for their goods, the tables that were brought in, and what became of their lines."""

import datetime as dt

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, mapped_column

from shopdesk.storage.column_types import Cents, Count, Day, Key, UtcTime
from shopdesk.storage.tables.base import STRICT, Base, Keyed, maybe_ref, ref, text


class SupplierPrice(Keyed, Base):
    """A line of a supplier's price list, as it was last brought in."""

    __tablename__ = "supplier_price"
    supplier_id: Mapped[int] = ref("party.id", index=False)
    theirs: Mapped[str] = text(None)
    name: Mapped[str] = text(None)
    price_cents: Mapped[int] = mapped_column(Cents)
    currency: Mapped[str] = text("USD")
    pack: Mapped[int] = mapped_column(Count, default=1)
    lead_days: Mapped[int | None] = mapped_column(Count, default=None)
    on_day: Mapped[dt.date] = mapped_column(Day)
    folded: Mapped[str] = mapped_column(sa.Text, index=True)  # the name, folded for searching
    __table_args__ = (
        sa.UniqueConstraint("supplier_id", "theirs"),
        sa.CheckConstraint("price_cents >= 0 and pack > 0", name="price"),
        STRICT,
    )


class TableIn(Keyed, Base):
    """A table of somebody else's that was brought in; rows are only ever added."""

    __tablename__ = "table_in"
    at: Mapped[dt.datetime] = mapped_column(UtcTime)
    kind: Mapped[str] = text(None)  # price list, ...
    file_name: Mapped[str] = text(None)
    sha256: Mapped[str] = text(None)
    party_id: Mapped[int | None] = maybe_ref("party.id")
    taken: Mapped[int] = mapped_column(Count)
    refused: Mapped[int] = mapped_column(Count)
    staff_id: Mapped[int] = ref("staff.id", index=False)
    __table_args__ = (STRICT,)


class BroughtRecord(Keyed, Base):
    """Which record a line of the shop's older books became; rows are only ever added."""

    __tablename__ = "brought_record"
    kind: Mapped[str] = text(None)  # of the table: customers, parts, open jobs
    theirs: Mapped[str] = text(None)  # the line's number in the older books
    record_id: Mapped[int] = mapped_column(Key)
    __table_args__ = (sa.UniqueConstraint("kind", "theirs"), STRICT)
