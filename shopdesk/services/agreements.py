"""Consent: who agreed to which quote, when and how; and what is agreed altogether."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Agreement, ChangeOrder, Quote
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.work import Task

HOWS = ("signed", "e-mail", "telephone")


@dataclass(frozen=True, slots=True)
class Agreed:
    """What a customer consented to, without tax: the amount, and the ceiling not passed unasked."""

    cents: int
    ceiling_cents: int


def agree(
    seat: Seat,
    quote_id: int,
    *,
    who: str,
    how: str,
    number_called: str = "",
    amount_cents: int | None = None,
    note: str = "",
) -> int:
    """Records the customer's agreement to a quote."""
    if not who.strip():
        raise Problem("Write who agreed.", field="who")
    if how not in HOWS:
        raise Problem("An agreement is signed, by e-mail or by telephone.", field="how")
    if how == "telephone" and not number_called.strip():
        raise Problem("Write the number called; consent by word of mouth needs it.", field="number_called")
    if amount_cents is not None and amount_cents < 0:
        raise Problem("An agreed amount is zero or more.", field="amount")
    with seat.change(Action.AGREE) as work:
        quote = work.get(Quote, quote_id, "quote")
        if work.session.scalar(sa.select(Agreement.id).where(Agreement.quote_id == quote_id)):
            raise Problem("{number} is agreed already.", number=quote.number)
        if quote.declined_on is not None:
            raise Problem("{number} was declined. Write a new quote.", number=quote.number)
        if quote.valid_until is not None and quote.valid_until < seat.today:
            raise Problem(
                "{number} was valid until {day}. Write it anew, so that its prices stand.",
                number=quote.number,
                day=seat.region.day(quote.valid_until),
            )
        agreement = work.add(
            Agreement(
                job_id=quote.job_id,
                quote_id=quote.id,
                at=work.now,
                who=who.strip(),
                how=how,
                number_called=number_called.strip(),
                taken_by_id=seat.acting.staff_id,
                amount_cents=quote.net_cents if amount_cents is None else amount_cents,
                note=note.strip(),
            )
        )
        work.session.flush()
        work.about(agreement, quote.job_id)
        return agreement.id


@dataclass(frozen=True, slots=True)
class AgreementRow:
    """One consent as it was recorded; the amount is without tax."""

    id: int
    quote_id: int
    number: str  # of the quote
    step: str
    at: dt.datetime
    who: str
    how: str
    number_called: str
    taken_by: str
    amount_cents: int
    note: str


def agreements(seat: Seat, job_id: int) -> list[AgreementRow]:
    """Every consent given for a job, in the order in which it was given."""
    query = (
        sa.select(Agreement, Quote.number, Quote.step, Staff.name)
        .join(Quote, Quote.id == Agreement.quote_id)
        .join(Staff, Staff.id == Agreement.taken_by_id)
        .where(Agreement.job_id == job_id)
        .order_by(Agreement.at, Agreement.id)
    )
    with seat.look() as session:
        return [
            AgreementRow(
                a.id, a.quote_id, number, step, a.at, a.who, a.how, a.number_called, taken_by,
                a.amount_cents, a.note,
            )
            for a, number, step, taken_by in session.execute(query)
        ]  # fmt: skip


def decline(seat: Seat, quote_id: int) -> None:
    """The customer said no to a quote; what a change order would have added is off the work order."""
    with seat.change(Action.AGREE) as work:
        quote = work.get(Quote, quote_id, "quote")
        if work.session.scalar(sa.select(Agreement.id).where(Agreement.quote_id == quote_id)):
            raise Problem("{number} is agreed; it cannot be declined.", number=quote.number)
        quote.declined_on = seat.today
        if quote.step == "change":
            _drop_tasks(work.session, quote.id)
        work.about(quote, quote.job_id)


def _drop_tasks(session: Session, quote_id: int) -> None:
    change = sa.select(ChangeOrder.id).where(ChangeOrder.quote_id == quote_id)
    for task in session.scalars(sa.select(Task).where(Task.change_order_id.in_(change))):
        task.dropped = True


def agreed(session: Session, job_id: int) -> Agreed:
    """The one figure that bench and invoice obey, without tax.

    The last agreed quote for the job takes the place of an agreed teardown; agreed change
    orders are added.
    """
    rows = session.execute(
        sa.select(Quote.step, Agreement.amount_cents, Quote.net_cents, Quote.ceiling_cents)
        .join(Quote, Quote.id == Agreement.quote_id)
        .where(Agreement.job_id == job_id)
        .order_by(Agreement.id)
    ).all()
    base = Agreed(0, 0)
    for step in ("teardown", "job"):
        for of_step, cents, net, ceiling in rows:
            if of_step == step:
                base = Agreed(cents, max(cents, ceiling if cents == net else cents))
    more = sum(cents for step, cents, _, _ in rows if step == "change")
    return Agreed(base.cents + more, base.ceiling_cents + more)
