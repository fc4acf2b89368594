"""What a quote holds before it is written: lines priced from the work order, charges, tax, ceiling, deposit.

Writes nothing; `quotes` issues what this composes, `offers` shows it.
"""

import datetime as dt
from collections.abc import Sequence

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.adjust import Change
from shopdesk.domain.estimate.set_aside import set_aside
from shopdesk.domain.finishes import Finish
from shopdesk.domain.money import Spread, for_minutes, marked_up, part_of
from shopdesk.domain.problem import Problem
from shopdesk.services import settings, stages
from shopdesk.services.because import causes_in_words
from shopdesk.services.lines import (
    OFFICE,
    Line,
    changed,
    to_adjustment_row,
    to_row,
    totals_of,
    without_tax,
)
from shopdesk.services.seat import Seat
from shopdesk.services.shops import hourly_rate
from shopdesk.services.taxes import place_of, tax_on
from shopdesk.storage.tables.counter import Quote, QuoteAdjustment, QuoteFinish, QuoteLine
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.stores import Need
from shopdesk.storage.tables.work import Task
from shopdesk.wording import say

TEARDOWN = ("intake", "teardown")


def priced(seat: Seat, session: Session, job: Job, step: str, *, delivery: bool = True) -> list[Line]:
    """The lines of a quote as the work order stands, nothing written."""
    tasks = [t for t in stages.tasks_of(session, job.id) if t.change_order_id is None]
    if step == "teardown":
        tasks = [t for t in tasks if t.stage in TEARDOWN]
    lines = work_lines(seat, session, tasks, job.customer)
    if lines and step == "job":
        lines += charges(seat, session, lines, delivery, job.customer)
    return for_customer(seat, job, lines)


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


def finish_rows(finishes: Sequence[Finish]) -> list[QuoteFinish]:
    return [
        QuoteFinish(place=place, surface=each.surface, grade=each.grade.value, note=each.note)
        for place, each in enumerate(finishes, start=1)
    ]


def contingency(spreads: Sequence[Spread], cents_per_hour: int, net_cents: int, most_percent: int) -> int:
    """What may be charged above the estimate without asking, minor units before tax.

    What the spread of the hours may add to the labour (four jobs in five stay within it), and never more
    than the shop's share of the estimate: laws on written estimates commonly let a bill pass one by a
    tenth at most (common practice, no source; local law comes first).
    """
    return min(for_minutes(set_aside(spreads), cents_per_hour), part_of(net_cents, most_percent))


def _spreads(session: Session, lines: Sequence[Line]) -> list[Spread]:
    """Of the ordered tasks with labour on these lines."""
    keys = {line.task_id for line in lines if line.kind == "labour" and line.task_id is not None}
    tasks = session.scalars(sa.select(Task).where(Task.id.in_(keys)))
    return [Spread(t.minutes_low, t.minutes_likely, t.minutes_high) for t in tasks]


def composed(
    seat: Seat, session: Session, job: Job, step: str, lines: list[Line], deposit_cents: int | None = None,
    changes: Sequence[Change] = (), spreads: Sequence[Spread] | None = None,
) -> Quote:  # fmt: skip
    """A quote over these lines on today's terms, without its number and not added to the shop.

    `spreads` are the hours' of work that is not ordered yet. The ceiling is the estimate with the
    contingency: the one figure that is authorised when the customer agrees.
    """
    terms = settings.read(session, settings.Terms)
    lines, given = changed(lines, changes)
    sums = totals_of(lines, adjustments=given)
    if deposit_cents is None:
        deposit_cents = part_of(sums.with_tax, terms.deposit_percent) if step == "job" else 0
    spare = 0
    if step == "job":
        spreads = _spreads(session, lines) if spreads is None else spreads
        rate = hourly_rate(session, seat.today)
        spare = contingency(spreads, rate, sums.without_tax, terms.ceiling_percent)
    if not 0 <= deposit_cents <= sums.with_tax:
        raise Problem("A deposit lies between nothing and the whole sum.", field="deposit")
    quote = Quote(
        job_id=job.id,
        step=step,
        scope=job.scope,
        on_day=seat.today,
        valid_until=seat.today + dt.timedelta(days=terms.quote_valid_days),
        deposit_cents=deposit_cents,
        ceiling_cents=sums.without_tax + spare,
        net_cents=sums.without_tax,
        tax_cents=sums.tax,
        gross_cents=sums.with_tax,
        currency=seat.region.currency,
        contingency_cents=spare,
    )
    quote.lines = [to_row(line, place, QuoteLine()) for place, line in enumerate(lines, start=1)]
    quote.adjustments = [
        to_adjustment_row(entry, place, QuoteAdjustment()) for place, entry in enumerate(given, start=1)
    ]
    return quote
