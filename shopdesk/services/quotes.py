"""Quotes: priced from the work order, kept as sent; a new version is a new quote."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.adjust import Adjustment, Change
from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.totals import Totals
from shopdesk.services import stages
from shopdesk.services.finishes import for_quote
from shopdesk.services.lines import Line, from_adjustment_row, from_row, totals_of
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.papers.quote import quote_facts
from shopdesk.services.pricing import composed, finish_rows, for_customer, priced, work_lines
from shopdesk.services.seat import Seat
from shopdesk.services.thermostat_card import refuse_tasks_without_card
from shopdesk.storage.tables.counter import Agreement, ChangeOrder, Quote, QuoteMilestone
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.work import Task
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class QuoteRow:
    """A quote as lists show it; `answer` is open, agreed or declined."""

    id: int
    job_id: int
    number: str
    step: str
    scope: str
    on_day: dt.date
    valid_until: dt.date | None
    net_cents: int
    gross_cents: int
    deposit_cents: int
    ceiling_cents: int
    currency: str
    answer: str
    customer: str
    range_number: str


@dataclass(frozen=True, slots=True)
class QuoteView:
    """One quote with its lines and totals; `line_ids` are the keys of the lines, in their order."""

    row: QuoteRow
    lines: tuple[Line, ...]
    totals: Totals
    adjustments: tuple[Adjustment, ...] = ()
    line_ids: tuple[int, ...] = ()


def write_quote(
    seat: Seat, job_id: int, step: str = "job", *, deposit_cents: int | None = None, delivery: bool = True,
    changes: Sequence[Change] = (), milestones: Sequence[tuple[str, int]] = (),
) -> int:  # fmt: skip
    """Prices the teardown or the whole job from its work order, issues the paper, returns the key.

    `changes` are discounts and surcharges; what is promised and agreed is the sum with them.
    `milestones` are names with the share of the sum, in percent, that is billed when they are reached.
    """
    if step not in ("teardown", "job"):
        raise Problem("A quote is for the teardown or for the job.", field="step")
    with seat.change(Action.QUOTE) as work:
        job = work.get(Job, job_id, "job")
        lines = priced(seat, work.session, job, step, delivery=delivery)
        if not lines:
            raise Problem("There is nothing to price yet. Write the work order first.")
        _refuse_untested_thermostat(work.session, lines)
        quote = composed(seat, work.session, job, step, lines, deposit_cents, changes)
        quote.milestones = _milestones(milestones)
        if step == "job":
            quote.finishes = finish_rows(for_quote(work.session, job, Scope(job.scope)))
        return _keep(seat, work, job, quote)


def quote_change(seat: Seat, change_order_id: int) -> int:
    """Prices a change order from its tasks and parts; returns the quote's key."""
    with seat.change(Action.QUOTE) as work:
        change = work.get(ChangeOrder, change_order_id, "change order")
        number = _anew(seat, work, change) if change.quote is not None else change.number
        job = work.get(Job, change.job_id, "job")
        tasks = [t for t in stages.tasks_of(work.session, job.id) if t.change_order_id == change.id]
        lines = for_customer(seat, job, work_lines(seat, work.session, tasks, job.customer))
        _refuse_untested_thermostat(work.session, lines)
        quote = composed(seat, work.session, job, "change", lines, 0)
        quote_id = _keep(seat, work, job, quote, number=number)
        change.quote_id = quote_id
        return quote_id


def _anew(seat: Seat, work: UnitOfWork, change: ChangeOrder) -> str:
    """A change order that was declined, or whose price ran out, may be priced again: the tasks that were
    declined stand again. Returns the number of the new price."""
    quote = change.quote
    assert quote is not None, "only a priced change order is priced anew"
    agreed_ = work.session.scalar(sa.select(Agreement.id).where(Agreement.quote_id == quote.id))
    ran_out = quote.valid_until is not None and quote.valid_until < seat.today
    if agreed_ is not None or not (quote.declined_on or ran_out):
        raise Problem("{number} is priced already.", number=change.number)
    quote.declined_on = quote.declined_on or seat.today
    declined = {line.task_id for line in quote.lines}
    for task in work.session.scalars(sa.select(Task).where(Task.change_order_id == change.id)):
        if task.dropped and task.id in declined:
            task.dropped, task.by_hand = False, [word for word in task.by_hand if word != "dropped"]
    work.session.flush()
    priced_before = sa.select(sa.func.count()).where(Quote.number.startswith(f"{change.number}-"))
    return f"{change.number}-{int(work.session.scalar(priced_before) or 0) + 2}"


def _milestones(wanted: Sequence[tuple[str, int]]) -> list[QuoteMilestone]:
    names = [name.strip() for name, _ in wanted]
    if not all(names):
        raise Problem("Name what is reached when a share is billed.", field="milestones")
    if len(set(names)) < len(names):
        raise Problem("Two milestones have the same name. Tell them apart.", field="milestones")
    shares = [percent for _, percent in wanted]
    if any(not 1 <= percent <= 100 for percent in shares) or sum(shares) > 100:
        raise Problem("The shares of the milestones come to 100 percent at most.", field="milestones")
    return [
        QuoteMilestone(place=place, name=name.strip(), share_percent=percent)
        for place, (name, percent) in enumerate(wanted, start=1)
    ]


def _refuse_untested_thermostat(session: Session, lines: list[Line]) -> None:
    tasks = {line.task_id for line in lines if line.task_id is not None}
    refuse_tasks_without_card(session, session.scalars(sa.select(Task).where(Task.id.in_(tasks))))


def quote_view(seat: Seat, quote_id: int) -> QuoteView:
    """One quote with its lines as they were written."""
    with seat.look() as session:
        quote = session.get_one(Quote, quote_id)
        agreement_id = session.scalar(sa.select(Agreement.id).where(Agreement.quote_id == quote_id))
        lines = tuple(from_row(row) for row in quote.lines)
        given = tuple(from_adjustment_row(row) for row in quote.adjustments)
        keys = tuple(row.id for row in quote.lines)
        return QuoteView(_row(quote, agreement_id), lines, totals_of(lines, adjustments=given), given, keys)


def quotes(
    seat: Seat, *, job_id: int | None = None, open_only: bool = False, limit: int = 200
) -> list[QuoteRow]:
    """Quotes, newest first; `open_only` those the customer has not answered."""
    query = (
        sa.select(Quote, Agreement.id)
        .outerjoin(Agreement, Agreement.quote_id == Quote.id)
        .options(
            sa.orm.joinedload(Quote.job).joinedload(Job.customer),
            sa.orm.joinedload(Quote.job).joinedload(Job.range),
        )
        .order_by(Quote.id.desc())
    )
    if job_id is not None:
        query = query.where(Quote.job_id == job_id)
    if open_only:
        query = query.where(Agreement.id.is_(None), Quote.declined_on.is_(None))
    with seat.look() as session:
        return [_row(quote, agreement_id) for quote, agreement_id in session.execute(query.limit(limit))]


def _row(quote: Quote, agreement_id: int | None) -> QuoteRow:
    answer = "agreed" if agreement_id else "declined" if quote.declined_on else "open"
    return QuoteRow(
        quote.id,
        quote.job_id,
        quote.number,
        quote.step,
        quote.scope,
        quote.on_day,
        quote.valid_until,
        quote.net_cents,
        quote.gross_cents,
        quote.deposit_cents,
        quote.ceiling_cents,
        quote.currency,
        answer,
        quote.job.customer.name if quote.job.customer else "",
        quote.job.range.number,
    )


def _keep(seat: Seat, work: UnitOfWork, job: Job, quote: Quote, number: str = "") -> int:
    if job.customer_id is None:
        raise Problem("{number} is the shop's own; it needs no quote.", number=job.range.number)
    quote.number = number or work.take_number("quote")
    work.add(quote)
    work.session.flush()
    title = (
        say("Change order {number}", number=quote.number)
        if quote.step == "change"
        else say("Quote {number}", number=quote.number)
    )
    facts = quote_facts(seat, work.session, job, quote, Scope(job.scope))
    kind = "change order" if quote.step == "change" else "quote"
    keep_paper(work, kind, quote.number, title, facts, job_id=job.id, party_id=job.customer_id)
    work.about(quote, job.id)
    return quote.id
