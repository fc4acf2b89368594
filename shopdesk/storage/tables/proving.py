"""Proofs with their readings, and releases. Readings that do not meet stay on record."""

import datetime as dt
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, mapped_column

from shopdesk.storage.column_types import Doc, UtcTime
from shopdesk.storage.tables.base import STRICT, Base, Keyed, ref, text


class Proof(Keyed, Base):
    """One test with its readings; a later one is a new row."""

    __tablename__ = "proof"
    job_id: Mapped[int] = ref("job.id")
    kind: Mapped[str] = text(None)  # code of the catalogue's proof
    at: Mapped[dt.datetime] = mapped_column(UtcTime)
    staff_id: Mapped[int] = ref("staff.id", index=False)
    result: Mapped[str] = text(None)
    readings: Mapped[Any] = mapped_column(Doc, default=dict)
    instrument: Mapped[str] = text()
    limit_text: Mapped[str] = text()
    limit_source: Mapped[str] = text()
    signed_by: Mapped[str] = text()  # at home: the licensed fitter
    note: Mapped[str] = text()
    __table_args__ = (
        sa.CheckConstraint("result in ('meets','does not meet','cannot tell')", name="result"),
        STRICT,
    )


class Release(Keyed, Base):
    """The owner's word that the proofs stand; lapses, and is then given anew."""

    __tablename__ = "job_release"
    job_id: Mapped[int] = ref("job.id")
    at: Mapped[dt.datetime] = mapped_column(UtcTime)
    staff_id: Mapped[int] = ref("staff.id", index=False)
    without: Mapped[Any] = mapped_column(Doc, default=dict)  # lesser proof -> reason, signed for
    lapsed_at: Mapped[dt.datetime | None] = mapped_column(UtcTime, default=None)
    lapsed_because: Mapped[str] = text()
    __table_args__ = (STRICT,)
