"""Invoices, credits, taxes and payments of a period, in the order in which they were issued and taken.

Amounts are those of the stored papers: what stands in the tables is what stands on the papers, to the
cent. Credits and money given back stand below zero, so that a column sums to what is left.
"""

import datetime as dt
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.money import decimals
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.exchange.tables_out import Cell, Table
from shopdesk.services.books.summing import sums_of
from shopdesk.services.papers.words import method_name
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice, Paper, Payment, PaymentShare, WriteOff
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class Books:
    """The tables of one period, both days included."""

    since: dt.date
    until: dt.date
    papers: Table
    taxes: Table
    payments: Table
    set_against: Table
    written_off: Table
    sums: Table

    @property
    def tables(self) -> tuple[Table, ...]:
        return (self.papers, self.taxes, self.payments, self.set_against, self.written_off, self.sums)


def books(seat: Seat, since: dt.date, until: dt.date) -> Books:
    """Everything that was issued, taken and given back from `since` to `until`."""
    if until < since:
        raise Problem("The period ends before it begins. Turn the days round.", field="until")
    with seat.look(Action.INVOICE) as session:
        issued = _issued(session, since, until)
        papers = _papers(issued)
        taxes = _taxes(issued)
        payments = _payments(session, since, until)
        written = _written_off(session, since, until)
        return Books(since, until, papers, taxes, payments, _set_against(session, since, until), written,
                     sums_of(papers, taxes, payments, written))  # fmt: skip


def kind_name(kind: str) -> str:
    """What a row is, in words."""
    return {
        "invoice": say("Invoice"), "credit": say("Credit"),
        "payment": say("Payment"), "deposit": say("Deposit"), "refund": say("Refund"),
    }[kind]  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Issued:
    """An issued invoice or credit with the facts its paper was printed from."""

    row: Invoice
    facts: dict[str, Any]
    range_number: str
    corrects: str

    @property
    def amount(self) -> Callable[[int], Decimal]:
        """Minor units as an amount; a credit's stand below zero."""
        sign = -1 if self.row.kind == "credit" else 1
        return lambda cents: in_currency(sign * cents, self.row.currency)


def in_currency(cents: int, currency: str) -> Decimal:
    return Decimal(cents).scaleb(-decimals(currency))


def _issued(session: Session, since: dt.date, until: dt.date) -> list[_Issued]:
    corrected = sa.orm.aliased(Invoice)
    rows = session.execute(
        sa.select(Invoice, Paper.facts, Range.number, corrected.number)
        .join(Paper, sa.and_(Paper.number == Invoice.number, Paper.kind == Invoice.kind))
        .join(Job, Job.id == Invoice.job_id)
        .join(Range, Range.id == Job.range_id)
        .outerjoin(corrected, corrected.id == Invoice.corrects_id)
        .where(Invoice.on_day.between(since, until))
        .order_by(Invoice.on_day, Invoice.id)
    )
    return [_Issued(invoice, facts, number, of or "") for invoice, facts, number, of in rows]


def _papers(issued: Iterable[_Issued]) -> Table:
    heads = (
        say("Number"), say("Kind"), say("Date"), say("Due by"), say("Customer"), say("Range"),
        say("Corrects"), say("Lines"), say("Discounts and surcharges"), say("Without tax"), say("Tax"),
        say("With tax"), say("Tax within the price"), say("Currency"),
    )  # fmt: skip
    return Table(say("Papers"), heads, [_paper_row(each) for each in issued])


def _paper_row(each: _Issued) -> list[Cell]:
    row, totals, amount = each.row, each.facts["totals"], each.amount
    return [
        row.number or "", kind_name(row.kind), row.on_day, row.due_on if row.kind == "invoice" else None,
        str(each.facts["customer"]["name"]), each.range_number, each.corrects,
        *(amount(int(totals[name])) for name in ("lines", "adjustments", "without_tax", "tax", "with_tax")),
        amount(row.margin_tax_cents), row.currency,
    ]  # fmt: skip


def _taxes(issued: Iterable[_Issued]) -> Table:
    heads = (
        say("Number"), say("Date"), say("Tax"), say("Category"), say("Rate in %"), say("On"),
        say("Tax amount"), say("Currency"),
    )  # fmt: skip
    rows: list[list[Cell]] = []
    for each in issued:
        for group in each.facts["totals"]["groups"]:
            kind = group["tax_kind"]
            rows.append([
                each.row.number or "", each.row.on_day, str(kind["name"]), str(kind["category"]),
                Decimal(str(kind["percent"])), each.amount(int(group["base"])),
                each.amount(int(group["tax"])), each.row.currency,
            ])  # fmt: skip
    return Table(say("Taxes"), heads, rows)


def _payments(session: Session, since: dt.date, until: dt.date) -> Table:
    heads = (
        say("Number"), say("Kind"), say("Date"), say("Paid by"), say("Reference"), say("Customer"),
        say("Range"), say("Amount"), say("Currency"),
    )  # fmt: skip
    found = session.execute(
        sa.select(Payment, Party.name, Range.number)
        .join(Party, Party.id == Payment.party_id)
        .outerjoin(Job, Job.id == Payment.job_id)
        .outerjoin(Range, Range.id == Job.range_id)
        .where(Payment.on_day.between(since, until))
        .order_by(Payment.on_day, Payment.id)
    )
    rows: list[list[Cell]] = [
        [p.number, kind_name(p.kind), p.on_day, method_name(p.method), p.reference, name, number or "",
         in_currency(p.amount_cents, p.currency), p.currency]
        for p, name, number in found
    ]  # fmt: skip
    return Table(say("Payments"), heads, rows)


def _set_against(session: Session, since: dt.date, until: dt.date) -> Table:
    """Which invoice the money of the period settles, as it stands now."""
    heads = (say("Payment"), say("Paid on"), say("Invoice"), say("Amount"), say("Currency"))
    cents = sa.func.sum(PaymentShare.amount_cents)
    found = session.execute(
        sa.select(Payment.number, Payment.on_day, Invoice.number, cents, Payment.currency)
        .join(PaymentShare, PaymentShare.payment_id == Payment.id)
        .join(Invoice, Invoice.id == PaymentShare.invoice_id)
        .where(Payment.on_day.between(since, until))
        .group_by(Payment.id, Payment.number, Payment.on_day, Payment.currency, Invoice.id, Invoice.number)
        .having(cents != 0)
        .order_by(Payment.on_day, Payment.id, Invoice.id)
    )
    rows: list[list[Cell]] = [
        [number, day, invoice, in_currency(int(share), currency), currency]
        for number, day, invoice, share, currency in found
    ]
    return Table(say("Set against"), heads, rows)


def _written_off(session: Session, since: dt.date, until: dt.date) -> Table:
    heads = (say("Invoice"), say("Date"), say("Amount"), say("Why"), say("Currency"))
    found = session.execute(
        sa.select(WriteOff, Invoice)
        .join(Invoice, Invoice.id == WriteOff.invoice_id)
        .where(WriteOff.on_day.between(since, until))
        .order_by(WriteOff.on_day, WriteOff.id)
    )
    rows: list[list[Cell]] = [
        [invoice.number or "", off.on_day, in_currency(off.amount_cents, invoice.currency), off.why,
         invoice.currency]
        for off, invoice in found
    ]  # fmt: skip
    return Table(say("Written off"), heads, rows)
