"""Statements of a customer's account, and what is owed to the shop by age."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.documents.facts import OpenBill, StatementFacts, StatementRow
from shopdesk.documents.papers import render
from shopdesk.domain.days import refuse_odd_day
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import settings
from shopdesk.services.accounts import OpenInvoice, account_of, same_party
from shopdesk.services.owed import AGES, age_of, issued_invoices, open_of, still_owed
from shopdesk.services.papers.heads import party_facts, shop_head
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.papers.words import method_name
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice, Payment, WriteOff
from shopdesk.storage.tables.people import Party
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class Owing:
    """What one customer owes: `ages` not due yet, then past due to 30, 60, 90 days and longer."""

    party_id: int
    customer: str
    phone: str
    owed_cents: int
    ages: tuple[int, int, int, int, int]
    oldest_due: dt.date | None
    held_cents: int


def owed_by_age(seat: Seat) -> list[Owing]:
    """Every customer with an open bill, the longest past due first."""
    with seat.look() as session:
        bills = session.scalars(
            issued_invoices(*still_owed()).options(sa.orm.joinedload(Invoice.customer))
        ).all()
        standing = open_of(session, bills)
        found: dict[int, list[OpenInvoice]] = {}
        for bill in bills:
            asked = standing[bill.id].asked_cents
            if asked > 0:
                key = bill.customer.merged_into_id or bill.customer_id
                found.setdefault(key, []).append(
                    OpenInvoice(bill.id, bill.number or "", bill.job_id, bill.on_day or seat.today,
                                bill.due_on, bill.gross_cents, asked)
                )  # fmt: skip
        rows = [_owing(session, key, open_, seat.today) for key, open_ in found.items()]
        return sorted(rows, key=lambda row: (row.oldest_due or seat.today, row.customer))


def _owing(session: Session, party_id: int, bills: list[OpenInvoice], today: dt.date) -> Owing:
    party = session.get_one(Party, party_id)
    ages = [0, 0, 0, 0, 0]
    for bill in bills:
        ages[age_of(bill.due_on, today)] += bill.open_cents
    due = min((bill.due_on for bill in bills if bill.due_on), default=None)
    one, two, three, four, five = ages
    held = account_of(session, party_id).held_cents
    return Owing(party_id, party.name, party.phone, sum(ages), (one, two, three, four, five), due, held)


def age_names() -> tuple[str, ...]:
    first, second, third = AGES
    return (
        say("Not due yet"),
        say("Past due up to {days} days", days=first),
        say("Past due {first} to {last} days", first=first + 1, last=second),
        say("Past due {first} to {last} days", first=second + 1, last=third),
        say("Past due more than {days} days", days=third),
    )


def preview_statement(seat: Seat, party_id: int, from_day: dt.date, to_day: dt.date) -> bytes:
    """The statement as it would be, without a number; nothing is written."""
    _check_days(from_day, to_day)
    with seat.look() as session:
        return render(_facts(seat, session, party_id, from_day, to_day, ""))


def print_statement(seat: Seat, party_id: int, from_day: dt.date, to_day: dt.date) -> str:
    """Prints and keeps a statement over these days, both included; returns its number."""
    _check_days(from_day, to_day)
    with seat.change(Action.WRITE_LETTER) as work:
        party = work.get(Party, party_id, "customer")
        number = work.take_number("statement")
        facts = _facts(seat, work.session, party_id, from_day, to_day, number)
        title = say("Statement {number}", number=number)
        paper = keep_paper(work, "statement", number, title, facts, party_id=party.id)
        work.about(paper)
        return number


def _check_days(from_day: dt.date, to_day: dt.date) -> None:
    refuse_odd_day(from_day, field="from_day")
    refuse_odd_day(to_day, field="to_day")
    if to_day < from_day:
        raise Problem("A statement ends on or after the day it begins.", field="to_day")


@dataclass(frozen=True, slots=True)
class _Entry:
    """A movement of the account; `order` keeps bills before payments of the same day."""

    day: dt.date
    order: int
    key: int
    what: str
    cents: int


def _facts(
    seat: Seat, session: Session, party_id: int, from_day: dt.date, to_day: dt.date, number: str
) -> StatementFacts:
    party = session.get_one(Party, party_id)
    entries = sorted(_entries(session, same_party(session, party_id)), key=lambda e: (e.day, e.order, e.key))
    before = sum(entry.cents for entry in entries if entry.day < from_day)
    rows, balance = [], before
    for entry in entries:
        if from_day <= entry.day <= to_day:
            balance += entry.cents
            row = StatementRow(day=entry.day, what=entry.what, cents=entry.cents, balance_cents=balance)
            rows.append(row)
    standing = account_of(session, party_id)
    ages = [0, 0, 0, 0, 0]
    for bill in standing.open:
        ages[age_of(bill.due_on, seat.today)] += bill.open_cents
    texts = settings.read(session, settings.Texts)
    return StatementFacts(
        shop=shop_head(seat, session),
        number=number,
        day=seat.today,
        customer=party_facts(party),
        from_day=from_day,
        to_day=to_day,
        before_cents=before,
        rows=tuple(rows),
        closing_cents=balance,
        bills=tuple(open_bill(bill) for bill in standing.open),
        ages=tuple((name, cents) for name, cents in zip(age_names(), ages, strict=True) if cents),
        held_cents=standing.held_cents,
        how_to_pay=(texts.invoice,) if texts.invoice else (),
    )


def open_bill(bill: OpenInvoice) -> OpenBill:
    """As papers print it."""
    return OpenBill(
        number=bill.number, day=bill.on_day, due_on=bill.due_on, gross_cents=bill.gross_cents,
        open_cents=bill.open_cents,
    )  # fmt: skip


def _entries(session: Session, parties: list[int]) -> list[_Entry]:
    """Bills and credits, money in and back, and what was written off, as the customer's account moves."""
    found = []
    for bill in session.scalars(
        sa.select(Invoice).where(Invoice.customer_id.in_(parties), Invoice.number.is_not(None))
    ):
        credit = bill.kind == "credit"
        what = say("Credit {number}", number=bill.number) if credit else say(
            "Invoice {number}", number=bill.number
        )  # fmt: skip
        cents = -bill.gross_cents if credit else bill.gross_cents
        found.append(_Entry(bill.on_day or dt.date.min, int(credit), bill.id, what, cents))
    for money in session.scalars(sa.select(Payment).where(Payment.party_id.in_(parties))):
        kinds = {"deposit": say("Deposit"), "payment": say("Payment"), "refund": say("Paid back")}
        how = ", ".join(w for w in (method_name(money.method), money.reference) if w)
        what = say("{kind} {number}, {how}", kind=kinds[money.kind], number=money.number, how=how)
        found.append(_Entry(money.on_day, 2, money.id, what, -money.amount_cents))
    return found + _written_off(session, parties)


def _written_off(session: Session, parties: list[int]) -> list[_Entry]:
    """Only as far as no money came after all."""
    rows = session.execute(
        sa.select(WriteOff, Invoice)
        .join(Invoice, Invoice.id == WriteOff.invoice_id)
        .where(Invoice.customer_id.in_(parties))
        .order_by(WriteOff.id)
    ).all()
    standing = open_of(session, [bill for _, bill in rows])
    left = {key: min(each.open_cents, each.written_off_cents) for key, each in standing.items()}
    found = []
    for row, bill in rows:
        cents = min(row.amount_cents, left[bill.id])
        left[bill.id] -= cents
        if cents:
            what = say("No longer asked for, {number}", number=bill.number)
            found.append(_Entry(row.on_day, 3, row.id, what, -cents))
    return found
