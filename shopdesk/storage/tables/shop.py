"""The shop itself: settings, number series, journal, staff, wages, rates and taxes."""

import datetime as dt
from decimal import Decimal
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, mapped_column

from shopdesk.storage.column_types import Cents, Day, Doc, Flag, Key, Percent, UtcTime
from shopdesk.storage.tables.base import SILENT, STRICT, Base, Keyed, Versioned, ref, text, whole


class Setting(Base):
    """One named setting of the shop; its value is a JSON document."""

    __tablename__ = "setting"
    name: Mapped[str] = mapped_column(sa.Text, primary_key=True)
    value: Mapped[Any] = mapped_column(Doc)
    version: Mapped[int] = mapped_column(sa.Integer)
    __mapper_args__ = {"version_id_col": version}
    __table_args__ = (STRICT,)


class NumberSeries(Base):
    """Gapless numbers: taken in the transaction that uses them, under the row's lock."""

    __tablename__ = "number_series"
    name: Mapped[str] = mapped_column(sa.Text, primary_key=True)
    prefix: Mapped[str] = text()
    next: Mapped[int] = mapped_column(sa.Integer, default=1)
    __table_args__ = (STRICT,)


class Journal(Base):
    """One row per change: who, when, what, before, after, chained by hashes."""

    __tablename__ = "journal"
    id: Mapped[int] = mapped_column(sa.BigInteger().with_variant(sa.Integer(), "sqlite"), primary_key=True)
    at: Mapped[dt.datetime] = mapped_column(UtcTime)
    staff_id: Mapped[int | None] = mapped_column(sa.BigInteger().with_variant(sa.Integer(), "sqlite"))
    who: Mapped[str] = mapped_column(sa.Text)
    action: Mapped[str] = mapped_column(sa.Text)
    record: Mapped[str] = mapped_column(sa.Text)
    record_id: Mapped[int | None] = mapped_column(sa.BigInteger().with_variant(sa.Integer(), "sqlite"))
    job_id: Mapped[int | None] = mapped_column(sa.BigInteger().with_variant(sa.Integer(), "sqlite"))
    before: Mapped[Any] = mapped_column(Doc)
    after: Mapped[Any] = mapped_column(Doc)
    previous_hash: Mapped[str] = mapped_column(sa.Text)
    hash: Mapped[str] = mapped_column(sa.Text)
    salt: Mapped[str] = text()  # nobody guesses an erased text from the hash; goes with the texts
    __table_args__ = (
        sa.Index("ix_journal_record", "record", "record_id", "id"),
        sa.Index("ix_journal_job", "job_id", "id"),
        STRICT,
    )


class Erasure(Keyed, Base):
    """A person's words were taken out of a row that never changes otherwise. Never edited.

    `holds`, of a journal row: the hash of what stands there since. The row's own hash stays, so that the
    chain stands, and this row is in the journal of the erasing.
    """

    __tablename__ = "erasure"
    record: Mapped[str] = text(None)  # journal, agreement
    record_id: Mapped[int] = mapped_column(Key)
    holds: Mapped[str] = text()
    __table_args__ = (sa.Index("ix_erasure_record", "record", "record_id"), STRICT)


class Staff(Versioned, Base):
    """Someone who works here."""

    __tablename__ = "staff"
    name: Mapped[str] = text(None)
    initials: Mapped[str] = text()
    role: Mapped[str] = text(None)
    skills: Mapped[Any] = mapped_column(Doc, default=list)  # trade words as the catalogue's tasks ask for
    active: Mapped[bool] = mapped_column(Flag, default=True)
    passphrase_hash: Mapped[str] = mapped_column(
        sa.Text, default="", server_default=sa.text("''"), info=SILENT
    )
    signed_in_at: Mapped[dt.datetime | None] = mapped_column(UtcTime, default=None)
    failed_count: Mapped[int] = whole()  # tries to sign in that failed since the last one that did not
    failed_at: Mapped[dt.datetime | None] = mapped_column(UtcTime, default=None)
    login: Mapped[str] = text()  # the account at the database server that is this person's; empty: none
    __table_args__ = (sa.CheckConstraint("role in ('owner','technician','desk')", name="role"), STRICT)


class Wage(Keyed, Base):
    """What an hour of a person costs the shop from a day on; kept apart from the person."""

    __tablename__ = "wage"
    staff_id: Mapped[int] = ref("staff.id")
    from_day: Mapped[dt.date] = mapped_column(Day)
    cost_cents_per_hour: Mapped[int] = mapped_column(Cents)
    __table_args__ = (
        sa.UniqueConstraint("staff_id", "from_day"),
        sa.CheckConstraint("cost_cents_per_hour >= 0", name="cost"),
        STRICT,
    )


class LabourRate(Keyed, Base):
    """What an hour is charged at from a day on."""

    __tablename__ = "labour_rate"
    name: Mapped[str] = text(None)
    from_day: Mapped[dt.date] = mapped_column(Day)
    cents_per_hour: Mapped[int] = mapped_column(Cents)
    __table_args__ = (
        sa.UniqueConstraint("name", "from_day"),
        sa.CheckConstraint("cents_per_hour >= 0", name="rate"),
        STRICT,
    )


class TaxRate(Keyed, Base):
    """The tax on a kind of line (labour, part, outwork, delivery, charge) from a day on."""

    __tablename__ = "tax_rate"
    kind: Mapped[str] = text(None)
    from_day: Mapped[dt.date] = mapped_column(Day)
    name: Mapped[str] = text(None)
    category: Mapped[str] = text("S")
    percent: Mapped[Decimal] = mapped_column(Percent)
    __table_args__ = (sa.UniqueConstraint("kind", "from_day", "name"), STRICT)


class LocalTaxRate(Keyed, Base):
    """A tax that takes the place of the shop's usual one for customers of a place (see `TaxRate`)."""

    __tablename__ = "local_tax_rate"
    place: Mapped[str] = text(None)  # folded: a postcode or its beginning, a town, a region or a country
    kind: Mapped[str] = text(None)
    from_day: Mapped[dt.date] = mapped_column(Day)
    name: Mapped[str] = text(None)
    category: Mapped[str] = text("S")
    percent: Mapped[Decimal] = mapped_column(Percent)
    __table_args__ = (sa.UniqueConstraint("place", "kind", "from_day", "name"), STRICT)
