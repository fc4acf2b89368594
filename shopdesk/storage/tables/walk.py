"""Walk-rounds: what was looked at, what was found, how it is known, what was decided."""

import datetime as dt
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, mapped_column, relationship

from shopdesk.storage.column_types import Cents, Count, Day, Doc, UtcTime
from shopdesk.storage.tables.base import STRICT, Base, Keyed, Versioned, maybe_ref, ref, text
from shopdesk.storage.tables.ranges import Job


class WalkRound(Versioned, Base):
    """One inspection of one range, with purpose, date and examiner."""

    __tablename__ = "walk_round"
    job_id: Mapped[int] = ref("job.id")
    on_day: Mapped[dt.date] = mapped_column(Day)
    purpose: Mapped[str] = text("full")
    examiner_id: Mapped[int | None] = maybe_ref("staff.id")
    place: Mapped[str] = text()
    circumstances: Mapped[str] = text()
    asking_cents: Mapped[int | None] = mapped_column(Cents, default=None)
    accessories: Mapped[Any] = mapped_column(Doc, default=list)
    catalogue_version: Mapped[str] = text()
    seed: Mapped[int] = mapped_column(Count, default=1)
    finished_at: Mapped[dt.datetime | None] = mapped_column(UtcTime, default=None)
    job: Mapped[Job] = relationship()
    observations: Mapped[list["Observation"]] = relationship(
        back_populates="walk_round", cascade="all, delete-orphan", order_by="Observation.id"
    )
    __table_args__ = (STRICT,)


class Observation(Versioned, Base):
    """One answer: a finding at a checkpoint, or that it is sound (finding empty)."""

    __tablename__ = "observation"
    walk_round_id: Mapped[int] = ref("walk_round.id")
    checkpoint: Mapped[str] = text(None)
    finding: Mapped[str] = text()
    extent: Mapped[int] = mapped_column(Count, default=1)
    evidence: Mapped[str] = text("seen")
    way: Mapped[str] = text()
    note: Mapped[str] = text()
    filed_for: Mapped[str] = text()  # what the program filed it from; empty: a person did
    at: Mapped[dt.datetime] = mapped_column(UtcTime)
    walk_round: Mapped[WalkRound] = relationship(back_populates="observations")
    __table_args__ = (
        sa.UniqueConstraint("walk_round_id", "checkpoint", "finding"),
        sa.CheckConstraint("extent between 1 and 99", name="extent"),
        sa.CheckConstraint("evidence in ('not seen','claimed','seen','tested')", name="evidence"),
        STRICT,
    )


class Verdict(Keyed, Base):
    """What the owner decided after a walk-round, with the figures it was decided on."""

    __tablename__ = "verdict"
    walk_round_id: Mapped[int] = ref("walk_round.id")
    at: Mapped[dt.datetime] = mapped_column(UtcTime)
    staff_id: Mapped[int] = ref("staff.id", index=False)
    route: Mapped[str] = text(None)
    offer_cents: Mapped[int] = mapped_column(Cents)
    cost_low_cents: Mapped[int] = mapped_column(Cents)
    cost_likely_cents: Mapped[int] = mapped_column(Cents)
    cost_high_cents: Mapped[int] = mapped_column(Cents)
    reasons: Mapped[Any] = mapped_column(Doc)
    walk_round: Mapped[WalkRound] = relationship()
    __table_args__ = (STRICT,)
