"""What the bench keeps beside its tasks: tags, cautions read, thermostat cards, words on own hours."""

import datetime as dt
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, mapped_column, relationship

from shopdesk.storage.column_types import Count, Doc, Flag, UtcTime
from shopdesk.storage.tables.base import STRICT, Base, Keyed, Versioned, maybe_ref, ref, text
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.stores import ConsignmentPiece
from shopdesk.storage.tables.work import Task


class Tag(Versioned, Base):
    """A label on what was taken off a range; out until it is put back or done with otherwise."""

    __tablename__ = "tag"
    number: Mapped[str] = mapped_column(sa.Text, unique=True)
    job_id: Mapped[int] = ref("job.id")
    what: Mapped[str] = text(None)
    how_many: Mapped[int] = mapped_column(Count, default=1)
    goes_back: Mapped[str] = text()  # a part of the drawing; empty when none of them says it
    goes_back_words: Mapped[str] = text()
    lies_at: Mapped[str] = text()
    task_id: Mapped[int | None] = maybe_ref("task.id")  # the task that took it off
    piece_id: Mapped[int | None] = maybe_ref("consignment_piece.id")  # sent out as this piece
    taken_off_at: Mapped[dt.datetime] = mapped_column(UtcTime)
    taken_off_by_id: Mapped[int] = ref("staff.id", index=False)
    back_at: Mapped[dt.datetime | None] = mapped_column(UtcTime, default=None)
    back_by_id: Mapped[int | None] = maybe_ref("staff.id", index=False)
    not_back_because: Mapped[str] = text()  # it never goes back: replaced, scrapped, given to the customer
    job: Mapped[Job] = relationship()
    task: Mapped[Task | None] = relationship()
    piece: Mapped[ConsignmentPiece | None] = relationship()
    __table_args__ = (
        sa.CheckConstraint("how_many > 0", name="how_many"),
        sa.Index("ix_tag_out", "job_id", "back_at"),
        STRICT,
    )


class CautionSeen(Keyed, Base):
    """A person read the cautions of a kind of task; rows are only ever added."""

    __tablename__ = "caution_seen"
    staff_id: Mapped[int] = ref("staff.id", index=False)
    task_kind: Mapped[str] = text(None)  # the catalogue's code, or empty for tasks made by hand
    hazards: Mapped[Any] = mapped_column(Doc, default=list)
    at: Mapped[dt.datetime] = mapped_column(UtcTime)
    __table_args__ = (sa.Index("ix_caution_seen_kind", "staff_id", "task_kind"), STRICT)


class ThermostatCard(Versioned, Base):
    """Questions answered and the forced test made before a thermostat may be condemned."""

    __tablename__ = "thermostat_card"
    job_id: Mapped[int] = ref("job.id")
    oven: Mapped[str] = text()  # which one, where there are two
    answers: Mapped[Any] = mapped_column(Doc, default=dict)  # question -> answer
    notes: Mapped[Any] = mapped_column(Doc, default=dict)  # question -> what was seen, in words
    forced_test: Mapped[str] = text()
    begun_at: Mapped[dt.datetime] = mapped_column(UtcTime)
    staff_id: Mapped[int] = ref("staff.id", index=False)  # who answered last
    complete_at: Mapped[dt.datetime | None] = mapped_column(UtcTime, default=None)
    job: Mapped[Job] = relationship()
    __table_args__ = (STRICT,)


class HoursWord(Keyed, Base):
    """The owner's word on hours the shop's own work proposed; rows are only ever added."""

    __tablename__ = "hours_word"
    task_code: Mapped[str] = text(None)
    at: Mapped[dt.datetime] = mapped_column(UtcTime)
    staff_id: Mapped[int] = ref("staff.id", index=False)
    taken: Mapped[bool] = mapped_column(Flag)
    jobs: Mapped[int] = mapped_column(Count)  # how many stood behind the proposal
    shipped: Mapped[Any] = mapped_column(Doc)  # minutes low, likely, high
    proposed: Mapped[Any] = mapped_column(Doc)
    __table_args__ = (sa.Index("ix_hours_word_task", "task_code", "id"), STRICT)
