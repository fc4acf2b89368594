"""Instruments, proofs with their readings, and releases. Readings that do not meet stay on record."""

import datetime as dt
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, mapped_column

from shopdesk.storage.column_types import Day, Doc, Flag, UtcTime
from shopdesk.storage.tables.base import STRICT, Base, Keyed, Versioned, ref, text


class Instrument(Versioned, Base):
    """A gauge, thermometer, analyser or tester of the shop."""

    __tablename__ = "instrument"
    name: Mapped[str] = text(None)
    serial: Mapped[str] = text()
    measures: Mapped[Any] = mapped_column(Doc, default=list)  # pressure, temperature, carbon monoxide, ...
    divisions: Mapped[Any] = mapped_column(Doc, default=dict)  # what it measures -> smallest step, US unit
    calibration_due: Mapped[dt.date | None] = mapped_column(Day, default=None)
    note: Mapped[str] = text()
    retired: Mapped[bool] = mapped_column(Flag, default=False)
    __table_args__ = (STRICT,)


class Proof(Keyed, Base):
    """One test with its readings; a later one is a new row."""

    __tablename__ = "proof"
    job_id: Mapped[int] = ref("job.id")
    kind: Mapped[str] = text(None)  # code of the catalogue's proof
    at: Mapped[dt.datetime] = mapped_column(UtcTime)
    staff_id: Mapped[int] = ref("staff.id", index=False)
    result: Mapped[str] = text(None)
    readings: Mapped[Any] = mapped_column(Doc, default=list)  # name and text, as they were asked
    figures: Mapped[Any] = mapped_column(Doc, default=dict)  # the same in US units, by field
    says: Mapped[Any] = mapped_column(Doc, default=list)  # what they amount to, in sentences
    curves: Mapped[Any] = mapped_column(Doc, default=list)
    instruments: Mapped[Any] = mapped_column(Doc, default=list)  # keys of the instruments used
    instrument: Mapped[str] = text()  # the same in words, with what their calibration was on the day
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
