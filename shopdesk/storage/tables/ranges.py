"""Ranges, the jobs done on them, their pictures and appointments."""

import datetime as dt
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, mapped_column, relationship

from shopdesk.storage.column_types import Blob, Cents, Count, Day, Doc, Flag, Key, UtcTime
from shopdesk.storage.tables.base import SILENT, STRICT, Base, Keyed, Versioned, maybe_ref, ref, text
from shopdesk.storage.tables.people import Party


class Range(Versioned, Base):
    """One range, for as long as the shop knows it."""

    __tablename__ = "gas_range"
    number: Mapped[str] = mapped_column(sa.Text, unique=True)
    maker: Mapped[str] = text()
    model: Mapped[str] = text()
    serial: Mapped[str] = text()
    colour: Mapped[str] = text()
    made_about: Mapped[str] = text()
    gas_on_plate: Mapped[str] = text()
    spuds_found: Mapped[str] = text()
    house_gas: Mapped[str] = text()
    house_pressure_inwc: Mapped[str] = text()
    set_to_gas: Mapped[str] = text()
    gas_label: Mapped[str] = text()
    build: Mapped[Any] = mapped_column(Doc, default=dict)
    width_in: Mapped[str] = text()
    weight_lb: Mapped[str] = text()
    depth_in: Mapped[str] = text()
    height_in: Mapped[str] = text()
    door_in: Mapped[str] = text()  # the narrowest door or turn on the way to its kitchen
    opening_in: Mapped[str] = text()  # the kitchen's opening it is to stand in
    stairs: Mapped[str] = text()  # steps on the way; empty: not counted
    stands_at: Mapped[str] = text()
    owner_id: Mapped[int | None] = maybe_ref("party.id")  # nobody: the shop owns it
    note: Mapped[str] = text()
    search_text: Mapped[str] = mapped_column(sa.Text, default="", server_default=sa.text("''"), info=SILENT)
    owner: Mapped[Party | None] = relationship()
    jobs: Mapped[list["Job"]] = relationship(back_populates="range", order_by="Job.id")
    __table_args__ = (STRICT,)


class Job(Versioned, Base):
    """One run of work on a range; a comeback is another job on the same range."""

    __tablename__ = "job"
    range_id: Mapped[int] = ref("gas_range.id")
    customer_id: Mapped[int | None] = maybe_ref("party.id")  # nobody: for the shop itself
    opened_on: Mapped[dt.date] = mapped_column(Day)
    purpose: Mapped[str] = text("full")
    scope: Mapped[str] = text("mechanical")
    complaint: Mapped[str] = text()  # the customer's account of the trouble
    asking_cents: Mapped[int | None] = mapped_column(Cents, default=None)
    bought_cents: Mapped[int | None] = mapped_column(Cents, default=None)
    booked_in_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    promised_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    gone_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    red_tagged: Mapped[bool] = mapped_column(Flag, default=False)
    warranty_until: Mapped[dt.date | None] = mapped_column(Day, default=None)  # as promised when it left
    ended_as: Mapped[str] = text()
    ended_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    ended_why: Mapped[str] = text()
    # derived from the facts in every transaction that touches the job
    stage: Mapped[str] = text("looked at")
    held_for: Mapped[str] = text()
    held_what: Mapped[str] = text()
    held_since: Mapped[dt.date | None] = mapped_column(Day, default=None)
    range: Mapped[Range] = relationship(back_populates="jobs")
    customer: Mapped[Party | None] = relationship()
    __table_args__ = (
        sa.Index("ix_job_stage_promised", "stage", "promised_on", "id"),
        sa.Index("ix_job_stage_id", "stage", "id"),
        sa.Index("ix_job_promised", "promised_on", "id"),
        sa.Index("ix_job_held_since", "held_since", "id"),
        sa.Index(
            "ix_job_held",
            "held_for",
            sqlite_where=sa.text("held_for <> ''"),
            postgresql_where=sa.text("held_for <> ''"),
        ),
        STRICT,
    )


class Photograph(Keyed, Base):
    """A picture as taken in (turned, stripped of its location, made smaller); kept once by SHA-256."""

    __tablename__ = "photograph"
    sha256: Mapped[str] = mapped_column(sa.Text, unique=True)
    media_type: Mapped[str] = text("image/jpeg")
    width: Mapped[int] = mapped_column(Count)
    height: Mapped[int] = mapped_column(Count)
    taken_in_at: Mapped[dt.datetime] = mapped_column(UtcTime)
    data: Mapped[bytes] = mapped_column(Blob, deferred=True, info=SILENT)
    thumbnail: Mapped[bytes] = mapped_column(Blob, deferred=True, info=SILENT)
    __table_args__ = (STRICT,)


class PhotographEdit(Keyed, Base):
    """A picture turned, cropped or marked is a copy; this says of which untouched original, and how."""

    __tablename__ = "photograph_edit"
    photograph_id: Mapped[int] = mapped_column(Key, sa.ForeignKey("photograph.id"), unique=True)
    original_id: Mapped[int] = ref("photograph.id")
    changes: Mapped[Any] = mapped_column(Doc)
    at: Mapped[dt.datetime] = mapped_column(UtcTime)
    __table_args__ = (STRICT,)


class PhotographUse(Keyed, Base):
    """Where a picture belongs: a range always; an answer, a task, an agreement, a tag or a proof if any."""

    __tablename__ = "photograph_use"
    photograph_id: Mapped[int] = ref("photograph.id")
    range_id: Mapped[int] = ref("gas_range.id")
    observation_id: Mapped[int | None] = maybe_ref("observation.id")
    task_id: Mapped[int | None] = maybe_ref("task.id")
    agreement_id: Mapped[int | None] = maybe_ref("agreement.id")
    tag_id: Mapped[int | None] = maybe_ref("tag.id")
    proof_id: Mapped[int | None] = maybe_ref("proof.id")
    caption: Mapped[str] = text()
    photograph: Mapped[Photograph] = relationship()
    __table_args__ = (STRICT,)


class Appointment(Versioned, Base):
    """A pick-up, delivery, home visit or viewing at an hour."""

    __tablename__ = "appointment"
    kind: Mapped[str] = text(None)
    job_id: Mapped[int | None] = maybe_ref("job.id")
    party_id: Mapped[int | None] = maybe_ref("party.id")
    starts_at: Mapped[dt.datetime] = mapped_column(UtcTime, index=True)
    minutes: Mapped[int] = mapped_column(Count, default=60)
    place: Mapped[str] = text()
    note: Mapped[str] = text()
    called_off: Mapped[bool] = mapped_column(Flag, default=False)
    __table_args__ = (STRICT,)
