"""The counter: quotes, agreements, change orders, invoices, payments, papers."""

import datetime as dt
from decimal import Decimal
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, mapped_column, relationship

from shopdesk.storage.column_types import Blob, Cents, Count, Day, Doc, Flag, Percent, UtcTime
from shopdesk.storage.tables.base import SILENT, STRICT, Base, Keyed, Versioned, maybe_ref, money, ref, text
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job

_KINDS = "kind in ('labour','part','outwork','delivery','charge')"


class LineColumns:
    """What a quote line and an invoice line have in common; amounts in minor units before tax.

    Labour: `quantity` is minutes and `unit_cents` the price of an hour; else pieces and each.
    """

    place: Mapped[int] = mapped_column(Count)
    kind: Mapped[str] = text(None)
    what: Mapped[str] = text(None)
    quantity: Mapped[int] = mapped_column(Count)
    unit_cents: Mapped[int] = mapped_column(Cents)
    net_cents: Mapped[int] = mapped_column(Cents)
    tax_category: Mapped[str] = text("O")
    tax_percent: Mapped[Decimal] = mapped_column(Percent, default=Decimal(0))
    tax_name: Mapped[str] = text()
    condition: Mapped[str] = text()  # of a part: new, used, exchanged, made (disclosed)
    because: Mapped[str] = text()  # in words, as it stood
    adjust_cents: Mapped[int] = money()  # in the net: a discount below, a surcharge above zero
    adjust_why: Mapped[str] = text()


class AdjustmentColumns:
    """A discount (below zero) or surcharge on a whole paper, with its reason and its own tax."""

    place: Mapped[int] = mapped_column(Count)
    why: Mapped[str] = text(None)
    percent: Mapped[Decimal | None] = mapped_column(Percent, default=None)  # it was reckoned with, if any
    amount_cents: Mapped[int] = mapped_column(Cents)
    tax_category: Mapped[str] = text("O")
    tax_percent: Mapped[Decimal] = mapped_column(Percent, default=Decimal(0))
    tax_name: Mapped[str] = text()


class Quote(Versioned, Base):
    """A priced proposal; each version is a row of its own and is never edited once sent."""

    __tablename__ = "quote"
    job_id: Mapped[int] = ref("job.id")
    number: Mapped[str] = mapped_column(sa.Text, unique=True)
    step: Mapped[str] = text("job")  # teardown, job, change
    scope: Mapped[str] = text("mechanical")
    on_day: Mapped[dt.date] = mapped_column(Day)
    valid_until: Mapped[dt.date | None] = mapped_column(Day, default=None)
    deposit_cents: Mapped[int] = mapped_column(Cents, default=0)
    ceiling_cents: Mapped[int] = mapped_column(Cents, default=0)  # without tax; not to be passed unasked
    net_cents: Mapped[int] = mapped_column(Cents)
    tax_cents: Mapped[int] = mapped_column(Cents)
    gross_cents: Mapped[int] = mapped_column(Cents)
    currency: Mapped[str] = text("USD")
    declined_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    contingency_cents: Mapped[int] = money()  # what the spread of the hours may add, without tax
    job: Mapped[Job] = relationship()
    lines: Mapped[list["QuoteLine"]] = relationship(back_populates="quote", order_by="QuoteLine.place")
    adjustments: Mapped[list["QuoteAdjustment"]] = relationship(order_by="QuoteAdjustment.place")
    finishes: Mapped[list["QuoteFinish"]] = relationship(order_by="QuoteFinish.place")
    milestones: Mapped[list["QuoteMilestone"]] = relationship(order_by="QuoteMilestone.place")
    __table_args__ = (sa.CheckConstraint("step in ('teardown','job','change')", name="step"), STRICT)


class QuoteLine(Keyed, LineColumns, Base):
    __tablename__ = "quote_line"
    quote_id: Mapped[int] = ref("quote.id")
    task_id: Mapped[int | None] = maybe_ref("task.id")
    need_id: Mapped[int | None] = maybe_ref("need.id")
    quote: Mapped[Quote] = relationship(back_populates="lines")
    __table_args__ = (sa.CheckConstraint(_KINDS, name="kind"), STRICT)


class QuoteAdjustment(Keyed, AdjustmentColumns, Base):
    __tablename__ = "quote_adjustment"
    quote_id: Mapped[int] = ref("quote.id")
    __table_args__ = (STRICT,)


class QuoteFinish(Keyed, Base):
    """The finish of one surface as this quote promises it."""

    __tablename__ = "quote_finish"
    quote_id: Mapped[int] = ref("quote.id")
    place: Mapped[int] = mapped_column(Count)
    surface: Mapped[str] = text(None)
    grade: Mapped[str] = text(None)
    note: Mapped[str] = text()
    __table_args__ = (STRICT,)


class QuoteMilestone(Keyed, Base):
    """A share of the agreed sum that is billed when something is reached."""

    __tablename__ = "quote_milestone"
    quote_id: Mapped[int] = ref("quote.id")
    place: Mapped[int] = mapped_column(Count)
    name: Mapped[str] = text(None)
    share_percent: Mapped[int] = mapped_column(Count)
    __table_args__ = (sa.CheckConstraint("share_percent between 1 and 100", name="share"), STRICT)


class FinishGrade(Versioned, Base):
    """The finish a customer and the shop settled on for one surface of a job."""

    __tablename__ = "finish_grade"
    job_id: Mapped[int] = ref("job.id")
    surface: Mapped[str] = text(None)
    grade: Mapped[str] = text(None)
    note: Mapped[str] = text()
    __table_args__ = (sa.UniqueConstraint("job_id", "surface"), STRICT)


class ChangeOrder(Versioned, Base):
    """Work added after the agreement; priced by a quote of step `change`, waiting for consent."""

    __tablename__ = "change_order"
    job_id: Mapped[int] = ref("job.id")
    number: Mapped[str] = mapped_column(sa.Text, unique=True)
    found_on: Mapped[dt.date] = mapped_column(Day)
    found_by_id: Mapped[int] = ref("staff.id", index=False)
    what: Mapped[str] = text(None)
    quote_id: Mapped[int | None] = maybe_ref("quote.id")
    quote: Mapped[Quote | None] = relationship()
    __table_args__ = (STRICT,)


class Agreement(Keyed, Base):
    """Consent to a quote: who, when, how, and for what amount."""

    __tablename__ = "agreement"
    job_id: Mapped[int] = ref("job.id")
    quote_id: Mapped[int] = mapped_column(sa.ForeignKey("quote.id"), unique=True)
    at: Mapped[dt.datetime] = mapped_column(UtcTime)
    who: Mapped[str] = text(None)
    how: Mapped[str] = text(None)  # signed, e-mail, telephone
    number_called: Mapped[str] = text()
    taken_by_id: Mapped[int] = ref("staff.id", index=False)
    amount_cents: Mapped[int] = mapped_column(Cents)  # without tax
    note: Mapped[str] = text()
    kept_text: Mapped[str] = text()  # the e-mail as it came
    quote: Mapped[Quote] = relationship()
    __table_args__ = (sa.CheckConstraint("how in ('signed','e-mail','telephone')", name="how"), STRICT)


class AgreementLeftOut(Keyed, Base):
    """A line of the quote that the customer did not agree to. Never edited."""

    __tablename__ = "agreement_left_out"
    agreement_id: Mapped[int] = ref("agreement.id")
    quote_line_id: Mapped[int] = ref("quote_line.id")
    __table_args__ = (sa.UniqueConstraint("agreement_id", "quote_line_id"), STRICT)


class Invoice(Versioned, Base):
    """An invoice or a credit. Once issued (numbered) it never changes: a trigger stands behind it."""

    __tablename__ = "invoice"
    job_id: Mapped[int] = ref("job.id")
    customer_id: Mapped[int] = ref("party.id")
    kind: Mapped[str] = text("invoice")  # invoice, credit
    number: Mapped[str | None] = mapped_column(sa.Text, unique=True, default=None)
    corrects_id: Mapped[int | None] = maybe_ref("invoice.id")
    issued_at: Mapped[dt.datetime | None] = mapped_column(UtcTime, default=None)
    on_day: Mapped[dt.date | None] = mapped_column(Day, default=None)
    due_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    currency: Mapped[str] = text("USD")
    net_cents: Mapped[int] = mapped_column(Cents, default=0)
    tax_cents: Mapped[int] = mapped_column(Cents, default=0)
    gross_cents: Mapped[int] = mapped_column(Cents, default=0)
    basis: Mapped[str] = text("work")  # work, progress, sale, withdrawal, warranty, storage
    milestone: Mapped[str] = text()  # of a progress invoice: what was reached
    margin_tax_cents: Mapped[int] = money()  # tax within the price under a margin scheme
    customer: Mapped[Party] = relationship()
    job: Mapped[Job] = relationship()
    adjustments: Mapped[list["InvoiceAdjustment"]] = relationship(
        cascade="all, delete-orphan", order_by="InvoiceAdjustment.place",
        foreign_keys="InvoiceAdjustment.invoice_id",
    )  # fmt: skip
    lines: Mapped[list["InvoiceLine"]] = relationship(
        back_populates="invoice", cascade="all, delete-orphan", order_by="InvoiceLine.place"
    )
    __table_args__ = (
        sa.CheckConstraint("kind in ('invoice','credit')", name="kind"),
        sa.Index("ix_invoice_day", "on_day"),
        STRICT,
    )


class InvoiceLine(Keyed, LineColumns, Base):
    __tablename__ = "invoice_line"
    invoice_id: Mapped[int] = ref("invoice.id")
    task_id: Mapped[int | None] = maybe_ref("task.id")
    need_id: Mapped[int | None] = maybe_ref("need.id")
    piece_id: Mapped[int | None] = maybe_ref("consignment_piece.id")
    agreed_cents: Mapped[int | None] = mapped_column(Cents, default=None)  # of its agreed line; none: its net
    invoice: Mapped[Invoice] = relationship(back_populates="lines")
    __table_args__ = (sa.CheckConstraint(_KINDS, name="kind"), STRICT)


class InvoiceAdjustment(Keyed, AdjustmentColumns, Base):
    """`deducts_id`: the progress invoice whose amount is taken off here."""

    __tablename__ = "invoice_adjustment"
    invoice_id: Mapped[int] = ref("invoice.id")
    deducts_id: Mapped[int | None] = maybe_ref("invoice.id")
    __table_args__ = (STRICT,)


class WriteOff(Keyed, Base):
    """What is no longer asked for on an invoice. Never edited; money that comes after all still counts."""

    __tablename__ = "write_off"
    invoice_id: Mapped[int] = ref("invoice.id")
    on_day: Mapped[dt.date] = mapped_column(Day)
    amount_cents: Mapped[int] = mapped_column(Cents)
    why: Mapped[str] = text(None)
    staff_id: Mapped[int] = ref("staff.id", index=False)
    __table_args__ = (sa.CheckConstraint("amount_cents > 0", name="amount"), STRICT)


class Payment(Keyed, Base):
    """Money taken (or given back, negative); shares of it settle invoices. Never edited."""

    __tablename__ = "payment"
    number: Mapped[str] = mapped_column(sa.Text, unique=True)
    party_id: Mapped[int] = ref("party.id")
    job_id: Mapped[int | None] = maybe_ref("job.id")
    kind: Mapped[str] = text("payment")  # deposit, payment, refund
    on_day: Mapped[dt.date] = mapped_column(Day)
    method: Mapped[str] = text(None)  # cash, card, transfer, cheque
    reference: Mapped[str] = text()
    amount_cents: Mapped[int] = mapped_column(Cents)
    currency: Mapped[str] = text("USD")
    taken_by_id: Mapped[int] = ref("staff.id", index=False)
    shares: Mapped[list["PaymentShare"]] = relationship(back_populates="payment")
    party: Mapped[Party] = relationship()
    __table_args__ = (
        sa.CheckConstraint("kind in ('deposit','payment','refund')", name="kind"),
        sa.CheckConstraint("amount_cents <> 0", name="amount"),
        STRICT,
    )


class PaymentShare(Keyed, Base):
    """The part of a payment that settles an invoice."""

    __tablename__ = "payment_share"
    payment_id: Mapped[int] = ref("payment.id")
    invoice_id: Mapped[int] = ref("invoice.id")
    amount_cents: Mapped[int] = mapped_column(Cents)
    payment: Mapped[Payment] = relationship(back_populates="shares")
    __table_args__ = (sa.CheckConstraint("amount_cents <> 0", name="amount"), STRICT)


class Paper(Keyed, Base):
    """An issued paper: a snapshot with its PDF bytes. No update, no delete (trigger)."""

    __tablename__ = "paper"
    kind: Mapped[str] = text(None)
    number: Mapped[str] = mapped_column(sa.Text, unique=True)
    job_id: Mapped[int | None] = maybe_ref("job.id")
    party_id: Mapped[int | None] = maybe_ref("party.id")
    title: Mapped[str] = text(None)
    issued_at: Mapped[dt.datetime] = mapped_column(UtcTime)
    issued_by_id: Mapped[int] = ref("staff.id", index=False)
    corrects_id: Mapped[int | None] = maybe_ref("paper.id")
    facts: Mapped[Any] = mapped_column(Doc, info=SILENT)
    pdf: Mapped[bytes] = mapped_column(Blob, deferred=True, info=SILENT)
    sha256: Mapped[str] = text(None)
    __table_args__ = (sa.Index("ix_paper_kind", "kind", "id"), STRICT)


class Letter(Keyed, Base):
    """A letter that went out by the shop's own clocks; the paper holds its text. Never edited."""

    __tablename__ = "letter"
    kind: Mapped[str] = text(None)
    job_id: Mapped[int | None] = maybe_ref("job.id")
    invoice_id: Mapped[int | None] = maybe_ref("invoice.id")
    party_id: Mapped[int] = ref("party.id")
    on_day: Mapped[dt.date] = mapped_column(Day)
    paper_id: Mapped[int] = ref("paper.id", index=False)
    __table_args__ = (STRICT,)


class Dispute(Versioned, Base):
    """A customer questions a job or a bill; while it is open no storage runs and no reminder goes out."""

    __tablename__ = "dispute"
    job_id: Mapped[int] = ref("job.id")
    raised_on: Mapped[dt.date] = mapped_column(Day)
    what: Mapped[str] = text(None)
    closed_on: Mapped[dt.date | None] = mapped_column(Day, default=None)
    outcome: Mapped[str] = text()
    __table_args__ = (STRICT,)


class Comeback(Keyed, Base):
    """A job that came back after another on the same range; `free` when it is done at no charge."""

    __tablename__ = "comeback"
    job_id: Mapped[int] = mapped_column(sa.ForeignKey("job.id"), unique=True)
    of_job_id: Mapped[int] = ref("job.id")
    free: Mapped[bool] = mapped_column(Flag, default=False)
    why: Mapped[str] = text()
    __table_args__ = (STRICT,)


class Outlay(Keyed, Base):
    """Money spent on a range the shop owns beside parts, hours and outwork: haulage, a fee. Only added."""

    __tablename__ = "outlay"
    job_id: Mapped[int] = ref("job.id")
    on_day: Mapped[dt.date] = mapped_column(Day)
    what: Mapped[str] = text(None)
    amount_cents: Mapped[int] = mapped_column(Cents)
    staff_id: Mapped[int] = ref("staff.id", index=False)
    __table_args__ = (sa.CheckConstraint("amount_cents <> 0", name="amount"), STRICT)
