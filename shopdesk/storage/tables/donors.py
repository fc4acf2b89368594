"""Ranges kept for their parts, parts the shop makes, and parts looked for over all ranges."""

import datetime as dt

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, mapped_column, relationship

from shopdesk.storage.column_types import Cents, Count, Day
from shopdesk.storage.tables.base import STRICT, Base, Keyed, Versioned, maybe_ref, ref, text


class Donor(Versioned, Base):
    """A range kept for its parts, with what it cost to have here."""

    __tablename__ = "donor"
    range_id: Mapped[int] = mapped_column(sa.ForeignKey("gas_range.id"), unique=True)
    cost_cents: Mapped[int] = mapped_column(Cents, default=0)
    opened_on: Mapped[dt.date] = mapped_column(Day)
    note: Mapped[str] = text()
    parts: Mapped[list["DonorPart"]] = relationship(back_populates="donor", order_by="DonorPart.id")
    __table_args__ = (STRICT,)


class DonorPart(Versioned, Base):
    """Something on a donor: still on it, taken, or lost in the taking."""

    __tablename__ = "donor_part"
    donor_id: Mapped[int] = ref("donor.id")
    name: Mapped[str] = text(None)
    checkpoint: Mapped[str] = text()  # the walk-round's, where it was seen
    quantity: Mapped[int] = mapped_column(Count, default=1)
    value_cents: Mapped[int] = mapped_column(Cents, default=0)  # what all of it should bring
    cost_cents: Mapped[int] = mapped_column(Cents, default=0)  # its share of what the donor cost
    standing: Mapped[str] = text("on it")
    ended_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    ended_because: Mapped[str] = text()
    part_id: Mapped[int | None] = maybe_ref("part.id")  # on the shelf as
    need_id: Mapped[int | None] = maybe_ref("need.id")  # it is to be taken off for
    task_id: Mapped[int | None] = maybe_ref("task.id")  # the task that takes it off
    donor: Mapped[Donor] = relationship(back_populates="parts")
    __table_args__ = (
        sa.CheckConstraint("standing in ('on it','taken','lost')", name="standing"),
        sa.CheckConstraint("quantity > 0 and value_cents >= 0", name="quantity"),
        STRICT,
    )


class Making(Keyed, Base):
    """A need that the shop makes itself, with the task that makes it."""

    __tablename__ = "making"
    need_id: Mapped[int] = mapped_column(sa.ForeignKey("need.id"), unique=True)
    task_id: Mapped[int] = ref("task.id")
    __table_args__ = (STRICT,)


class Want(Versioned, Base):
    """A part looked for, over all ranges."""

    __tablename__ = "want"
    need_id: Mapped[int | None] = maybe_ref("need.id")
    range_id: Mapped[int | None] = maybe_ref("gas_range.id")
    party_id: Mapped[int | None] = maybe_ref("party.id")  # somebody outside who asked for it
    name: Mapped[str] = text(None)
    quantity: Mapped[int] = mapped_column(Count, default=1)
    maker: Mapped[str] = text()
    model: Mapped[str] = text()
    build: Mapped[str] = text()
    worth_cents: Mapped[int] = mapped_column(Cents, default=0)  # what one is worth to us
    note: Mapped[str] = text()
    opened_on: Mapped[dt.date] = mapped_column(Day)
    ended_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    ended_because: Mapped[str] = text()
    __table_args__ = (sa.CheckConstraint("quantity > 0", name="quantity"), STRICT)
