"""Quotes: priced from the work order, kept as sent; a new version is a new quote."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.adjust import Adjustment, Change
from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.estimate.set_aside import set_aside
from shopdesk.domain.finishes import Finish
from shopdesk.domain.money import Spread, for_minutes, marked_up, part_of
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.totals import Totals
from shopdesk.services import settings, stages
from shopdesk.services.because import causes_in_words
from shopdesk.services.finishes import for_quote
from shopdesk.services.lines import (
    OFFICE,
    Line,
    changed,
    from_adjustment_row,
    from_row,
    to_adjustment_row,
    to_row,
    totals_of,
    without_tax,
)
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.papers.quote import quote_facts
from shopdesk.services.seat import Seat
from shopdesk.services.shops import hourly_rate
from shopdesk.services.taxes import place_of, tax_on
from shopdesk.services.thermostat_card import refuse_tasks_without_card
from shopdesk.storage.tables.counter import (
    Agreement,
    ChangeOrder,
    Quote,
    QuoteAdjustment,
    QuoteFinish,
    QuoteLine,
    QuoteMilestone,
)
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.stores import Need
from shopdesk.storage.tables.work import Task
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say

TEARDOWN = ("intake", "teardown")


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


def finish_rows(finishes: Sequence[Finish]) -> list[QuoteFinish]:
    return [
        QuoteFinish(place=place, surface=each.surface, grade=each.grade.value, note=each.note)
        for place, each in enumerate(finishes, start=1)
    ]


def _refuse_untested_thermostat(session: Session, lines: list[Line]) -> None:
    tasks = {line.task_id for line in lines if line.task_id is not None}
    refuse_tasks_without_card(session, session.scalars(sa.select(Task).where(Task.id.in_(tasks))))


def priced(seat: Seat, session: Session, job: Job, step: str, *, delivery: bool = True) -> list[Line]:
    """The lines of a quote as the work order stands, nothing written."""
    tasks = [t for t in stages.tasks_of(session, job.id) if t.change_order_id is None]
    if step == "teardown":
        tasks = [t for t in tasks if t.stage in TEARDOWN]
    lines = work_lines(seat, session, tasks, job.customer)
    if lines and step == "job":
        lines += charges(seat, session, lines, delivery, job.customer)
    return for_customer(seat, job, lines)


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


def work_lines(seat: Seat, session: Session, tasks: Sequence[Task], customer: Party | None) -> list[Line]:
    """Labour at the likely minutes, then parts, then outwork, each with its cause."""
    day, places = seat.today, place_of(customer)
    rate = hourly_rate(session, day)
    handling = settings.read(session, settings.Terms).outwork_handling_percent
    labour, parts, outwork = [], [], []
    for task in tasks:
        why = causes_in_words(seat.catalogue, task.causes)
        if task.station != OFFICE and task.minutes_likely:
            labour.append(
                Line(
                    kind="labour",
                    what=task.name,
                    quantity=task.minutes_likely,
                    unit_cents=rate,
                    because=why,
                    tax=tax_on(session, "labour", day, places),
                    task_id=task.id,
                )
            )
        for need in session.scalars(sa.select(Need).where(Need.task_id == task.id).order_by(Need.id)):
            wanted = need.quantity - need.called_off
            if not wanted:
                continue
            parts.append(
                Line(
                    kind="part",
                    what=need.name,
                    quantity=wanted,
                    unit_cents=need.price_cents,
                    because=say("for “{task}”", task=task.name),
                    tax=tax_on(session, "part", day, places),
                    condition=need.condition,
                    task_id=task.id,
                    need_id=need.id,
                )
            )
        if task.outwork_cents:
            outwork.append(
                Line(
                    kind="outwork",
                    what=say("{task} ({trade})", task=task.name, trade=task.outwork_trade),
                    quantity=1,
                    unit_cents=marked_up(task.outwork_cents, handling),
                    because=why,
                    tax=tax_on(session, "outwork", day, places),
                    task_id=task.id,
                )
            )
    return labour + parts + outwork


def charges(
    seat: Seat, session: Session, lines: list[Line], delivery: bool, customer: Party | None
) -> list[Line]:
    """What comes on top of the work of a whole job: sundries, and delivery if wanted."""
    terms = settings.read(session, settings.Terms)
    day, places = seat.today, place_of(customer)
    labour = sum(line.net_cents for line in lines if line.kind == "labour")
    added = []
    if terms.sundries_percent:
        added.append(
            Line(
                kind="charge",
                what=say("Sundries: cleaners, paste, fluids, fasteners"),
                quantity=1,
                unit_cents=part_of(labour, terms.sundries_percent),
                because=say("{percent} % of the labour", percent=terms.sundries_percent),
                tax=tax_on(session, "charge", day, places),
            )
        )
    if delivery and terms.delivery_cents:
        added.append(
            Line(
                kind="delivery",
                what=say("Delivery and placing"),
                quantity=1,
                unit_cents=terms.delivery_cents,
                because=say("agreed with the job"),
                tax=tax_on(session, "delivery", day, places),
            )
        )
    return added


def for_customer(seat: Seat, job: Job, lines: list[Line]) -> list[Line]:
    """The lines as this customer pays them: without tax for one who is exempt."""
    return without_tax(lines) if exempt(seat, job.customer) else lines


def exempt(seat: Seat, party: Party | None) -> bool:
    """Whether someone is exempt from tax today: a certificate that has not run out."""
    if party is None or not party.exempt_certificate:
        return False
    return party.exempt_until is None or party.exempt_until >= seat.today


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


def contingency(session: Session, lines: Sequence[Line], cents_per_hour: int) -> int:
    """What the spread of the ordered tasks' hours may add to the labour, minor units before tax."""
    keys = {line.task_id for line in lines if line.kind == "labour" and line.task_id is not None}
    tasks = session.scalars(sa.select(Task).where(Task.id.in_(keys)))
    spreads = [Spread(t.minutes_low, t.minutes_likely, t.minutes_high) for t in tasks]
    return for_minutes(set_aside(spreads), cents_per_hour)


def composed(
    seat: Seat, session: Session, job: Job, step: str, lines: list[Line], deposit_cents: int | None = None,
    changes: Sequence[Change] = (),
) -> Quote:  # fmt: skip
    """A quote over these lines on today's terms, without its number and not added to the shop."""
    terms = settings.read(session, settings.Terms)
    lines, given = changed(lines, changes)
    sums = totals_of(lines, adjustments=given)
    if deposit_cents is None:
        deposit_cents = part_of(sums.with_tax, terms.deposit_percent) if step == "job" else 0
    if not 0 <= deposit_cents <= sums.with_tax:
        raise Problem("A deposit lies between nothing and the whole sum.", field="deposit")
    quote = Quote(
        job_id=job.id,
        step=step,
        scope=job.scope,
        on_day=seat.today,
        valid_until=seat.today + dt.timedelta(days=terms.quote_valid_days),
        deposit_cents=deposit_cents,
        ceiling_cents=marked_up(sums.without_tax, terms.ceiling_percent if step == "job" else 0),
        net_cents=sums.without_tax,
        tax_cents=sums.tax,
        gross_cents=sums.with_tax,
        currency=seat.region.currency,
        contingency_cents=contingency(session, lines, hourly_rate(session, seat.today)),
    )
    quote.lines = [to_row(line, place, QuoteLine()) for place, line in enumerate(lines, start=1)]
    quote.adjustments = [
        to_adjustment_row(entry, place, QuoteAdjustment()) for place, entry in enumerate(given, start=1)
    ]
    return quote
