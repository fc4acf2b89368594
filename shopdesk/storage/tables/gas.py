"""The gas bench's memory of a range: inputs of its calculators, and conversions that were worked out."""

import datetime as dt
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, mapped_column, relationship

from shopdesk.storage.column_types import Day, Doc, UtcTime
from shopdesk.storage.tables.base import STRICT, Base, Keyed, Versioned, maybe_ref, ref, text
from shopdesk.storage.tables.ranges import Range


class GasReckoning(Versioned, Base):
    """What was last typed into one calculator for one range."""

    __tablename__ = "gas_reckoning"
    range_id: Mapped[int] = ref("gas_range.id", index=False)
    kind: Mapped[str] = text(None)  # flow, drill, convert, clock, wobbe, supply
    at: Mapped[dt.datetime] = mapped_column(UtcTime)
    staff_id: Mapped[int] = ref("staff.id", index=False)
    inputs: Mapped[Any] = mapped_column(Doc, default=dict)
    __table_args__ = (sa.UniqueConstraint("range_id", "kind"), STRICT)


class GasConversion(Keyed, Base):
    """One working-out of a whole range for another gas; a later one stands beside it, none is changed."""

    __tablename__ = "gas_conversion"
    range_id: Mapped[int] = ref("gas_range.id")
    job_id: Mapped[int | None] = maybe_ref("job.id")
    at: Mapped[dt.datetime] = mapped_column(UtcTime)
    staff_id: Mapped[int] = ref("staff.id", index=False)
    from_gas: Mapped[str] = text(None)
    to_gas: Mapped[str] = text(None)
    inputs: Mapped[Any] = mapped_column(Doc, default=dict)  # pressures, heating values, elevation, spuds
    burners: Mapped[Any] = mapped_column(
        Doc, default=list
    )  # a line for each spud: what it was, what it becomes
    decided_by: Mapped[str] = text()  # the licensed fitter; empty: worked out only
    decided_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    note: Mapped[str] = text()
    range: Mapped[Range] = relationship()
    __table_args__ = (STRICT,)
