"""Consent: who agreed to which quote, when and how; and what is agreed altogether."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.adjust import Change
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.lines import changed, from_row, totals_of
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Agreement, AgreementLeftOut, ChangeOrder, Quote, QuoteLine
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
    left_out: Sequence[int] = (),
    kept_text: str = "",
) -> int:
    """Records the customer's agreement to a quote.

    `left_out` are keys of lines the customer did not want; with a line of work its whole task goes,
    parts and outwork too, and is off the work order. `kept_text`: the e-mail as it came.
    """
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
        without = _whole_tasks(quote, left_out)
        agreement = work.add(
            Agreement(
                job_id=quote.job_id,
                quote_id=quote.id,
                at=work.now,
                who=who.strip(),
                how=how,
                number_called=number_called.strip(),
                taken_by_id=seat.acting.staff_id,
                amount_cents=_net_without(quote, without) if amount_cents is None else amount_cents,
                note=note.strip(),
                kept_text=kept_text.strip(),
            )
        )
        work.session.flush()
        for line in without:
            work.add(AgreementLeftOut(agreement_id=agreement.id, quote_line_id=line.id))
            task = work.session.get(Task, line.task_id) if line.task_id is not None else None
            if task is not None:
                task.dropped, task.by_hand = True, sorted({*task.by_hand, "dropped"})
        work.session.flush()
        work.about(agreement, quote.job_id)
        return agreement.id


def _whole_tasks(quote: Quote, left_out: Sequence[int]) -> list[QuoteLine]:
    """The lines left out, with every other line of the same tasks."""
    lines = {line.id: line for line in quote.lines}
    unknown = next((key for key in left_out if key not in lines), None)
    if unknown is not None:
        raise Problem("{number} has no such line. Look at the quote again.", number=quote.number)
    tasks = {lines[key].task_id for key in left_out} - {None}
    found = [line for line in quote.lines if line.id in left_out or line.task_id in tasks]
    if found and len(found) == len(quote.lines):
        raise Problem("Nothing of {number} would be agreed; record it as declined.", number=quote.number)
    return found


def _net_without(quote: Quote, left_out: Sequence[QuoteLine]) -> int:
    """What the rest of a quote comes to before tax, its percentages reckoned on the rest."""
    if not left_out:
        return quote.net_cents
    rest = [from_row(line) for line in quote.lines if line not in left_out]
    changes: dict[tuple[str, Decimal | None], int] = {}
    for row in quote.adjustments:
        changes[row.why, row.percent] = changes.get((row.why, row.percent), 0) + row.amount_cents
    given = [
        Change(why=why, percent=percent) if percent is not None else Change(why=why, cents=cents)
        for (why, percent), cents in changes.items()
    ]
    made, adjustments = changed(rest, given)
    return totals_of(made, adjustments=adjustments).without_tax


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
        if "dropped" not in task.by_hand:  # the plan does not bring back what was declined
            task.by_hand = [*task.by_hand, "dropped"]


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
