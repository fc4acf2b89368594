"""A quote before it is written: what it would hold at each scope, priced as it will be priced then."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy.orm import Session

from shopdesk.documents.facts import ChoiceFacts, ChoicesFacts
from shopdesk.documents.papers import render
from shopdesk.domain.adjust import Adjustment, Change
from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.finishes import Finish
from shopdesk.domain.money import Spread, marked_up
from shopdesk.domain.problem import Problem
from shopdesk.domain.totals import Totals
from shopdesk.domain.work import PlannedTask, plan_work
from shopdesk.services import conversions, observing, pricing, settings, walks
from shopdesk.services.because import causes_in_words
from shopdesk.services.finishes import for_quote
from shopdesk.services.lines import OFFICE, Line, from_adjustment_row, from_row, totals_of
from shopdesk.services.papers.heads import party_facts, range_facts, shop_head
from shopdesk.services.papers.quote import finish_facts, quote_facts, scope_meaning, scope_name
from shopdesk.services.seat import Seat
from shopdesk.services.shops import hourly_rate
from shopdesk.services.stages import build_of, tasks_of
from shopdesk.services.taxes import place_of, tax_on
from shopdesk.storage.tables.counter import Quote
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.work import TaskCause
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class Offer:
    """A quote as it would be written today; `as_ordered` when the work order stands at this scope."""

    scope: Scope
    step: str
    lines: tuple[Line, ...]
    totals: Totals
    deposit_cents: int
    ceiling_cents: int
    valid_until: dt.date | None
    as_ordered: bool
    adjustments: tuple[Adjustment, ...] = ()
    contingency_cents: int = 0
    finishes: tuple[Finish, ...] = ()


def offer(
    seat: Seat, job_id: int, scope: Scope, step: str = "job", *, delivery: bool = True,
    changes: Sequence[Change] = (),
) -> Offer:  # fmt: skip
    """What a quote of this scope would hold, nothing written."""
    with seat.look() as session:
        job = session.get_one(Job, job_id)
        quote, as_ordered = _composed(seat, session, job, scope, step, delivery, changes=changes)
        lines = tuple(from_row(row) for row in quote.lines)
        given = tuple(from_adjustment_row(row) for row in quote.adjustments)
        return Offer(
            scope,
            step,
            lines,
            totals_of(lines, adjustments=given),
            quote.deposit_cents,
            quote.ceiling_cents,
            quote.valid_until,
            as_ordered,
            given,
            quote.contingency_cents,
            for_quote(session, job, scope) if step == "job" else (),
        )


def offer_pdf(
    seat: Seat, job_id: int, scope: Scope, step: str = "job", *, delivery: bool = True,
    deposit_cents: int | None = None, changes: Sequence[Change] = (),
) -> bytes:  # fmt: skip
    """The paper such a quote would be, without a number; nothing is written."""
    with seat.look() as session:
        job = session.get_one(Job, job_id)
        if job.customer is None:
            raise Problem("{number} is the shop's own; it needs no quote.", number=job.range.number)
        quote, _ = _composed(seat, session, job, scope, step, delivery, deposit_cents, changes)
        quote.number = say("not written yet")
        return render(quote_facts(seat, session, job, quote, scope))


def _composed(
    seat: Seat, session: Session, job: Job, scope: Scope, step: str, delivery: bool,
    deposit_cents: int | None = None, changes: Sequence[Change] = (),
) -> tuple[Quote, bool]:  # fmt: skip
    ordered, lines, spreads = _lines(seat, session, job, scope, step, delivery=delivery)
    if not lines:
        raise Problem(
            "There is nothing to price on {number} yet. Walk round it first; the work follows from that.",
            number=job.range.number,
        )
    quote = pricing.composed(
        seat, session, job, step, lines, deposit_cents, changes, None if ordered else spreads
    )
    quote.scope = scope.value
    if step == "job":
        quote.finishes = pricing.finish_rows(for_quote(session, job, scope))
    return quote, ordered


def _lines(
    seat: Seat, session: Session, job: Job, scope: Scope, step: str, *, delivery: bool
) -> tuple[bool, list[Line], list[Spread]]:
    """Whether the order stands at this scope, the lines, and the spreads of what would be ordered."""
    if job.scope == scope.value and tasks_of(session, job.id).first() is not None:
        return True, pricing.priced(seat, session, job, step, delivery=delivery), []
    return False, *_planned(seat, session, job, scope, step, delivery)


def _planned(
    seat: Seat, session: Session, job: Job, scope: Scope, step: str, delivery: bool
) -> tuple[list[Line], list[Spread]]:
    walk = walks.newest(session, job.id)
    if walk is None:
        return [], []
    answers = [observing.answer_of(o) for o in walk.observations]
    asked = conversions.roots_of(session, job.id)
    tasks = plan_work(seat.catalogue, build_of(job), answers, scope, asked=asked).tasks
    if step == "teardown":
        tasks = tuple(t for t in tasks if t.stage in pricing.TEARDOWN)
    lines = _work_lines(seat, session, tasks, job.customer)
    if lines and step == "job":
        lines += pricing.charges(seat, session, lines, delivery, job.customer)
    spreads = [task.minutes for task in tasks if task.station != OFFICE]
    return pricing.for_customer(seat, job, lines), spreads


def _work_lines(
    seat: Seat, session: Session, tasks: tuple[PlannedTask, ...], customer: Party | None
) -> list[Line]:
    """Labour at the likely minutes, then parts, then outwork: the same rules as for a written order."""
    rate, terms = hourly_rate(session, seat.today), settings.read(session, settings.Terms)
    taxes = {
        kind: tax_on(session, kind, seat.today, place_of(customer)) for kind in ("labour", "part", "outwork")
    }
    labour, parts, outwork = [], [], []
    for task in tasks:
        why = _why(seat, task)
        if task.station != OFFICE and task.minutes.likely:
            labour.append(
                Line(kind="labour", what=task.name, quantity=task.minutes.likely, unit_cents=rate,
                     because=why, tax=taxes["labour"])
            )  # fmt: skip
        parts += [
            Line(kind="part", what=part.name, quantity=max(part.count, 1),
                 unit_cents=marked_up(part.each.likely, terms.part_markup_percent),
                 because=say("for “{task}”", task=task.name), tax=taxes["part"])
            for part in task.parts
        ]  # fmt: skip
        if task.outwork and task.outwork.cents.likely:
            outwork.append(
                Line(kind="outwork",
                     what=say("{task} ({trade})", task=task.name, trade=task.outwork.trade), quantity=1,
                     unit_cents=marked_up(task.outwork.cents.likely, terms.outwork_handling_percent),
                     because=why, tax=taxes["outwork"])
            )  # fmt: skip
    return labour + parts + outwork


def _why(seat: Seat, task: PlannedTask) -> str:
    """All causes in one line, as on a written quote."""
    causes = [TaskCause(kind=cause.kind.value, code=cause.code) for cause in task.because]
    return causes_in_words(seat.catalogue, causes)


def choices_pdf(seat: Seat, job_id: int, *, delivery: bool = True) -> bytes:
    """The scopes side by side as a paper for choosing; nothing is written."""
    found = [offer(seat, job_id, scope, delivery=delivery) for scope in Scope]
    with seat.look() as session:
        job = session.get_one(Job, job_id)
        if job.customer is None:
            raise Problem("{number} is the shop's own; it needs no quote.", number=job.range.number)
        _, first, _ = _lines(seat, session, job, Scope(job.scope), "teardown", delivery=False)
        texts = settings.read(session, settings.Texts)
        facts = ChoicesFacts(
            shop=shop_head(seat, session),
            day=seat.today,
            customer=party_facts(job.customer),
            range=range_facts(job.range, seat.region),
            choices=tuple(_choice(each) for each in found),
            teardown_cents=totals_of(first).without_tax,
            valid_until=found[0].valid_until,
            terms=(texts.quote,) if texts.quote else (),
        )
    return render(facts)


def _choice(each: Offer) -> ChoiceFacts:
    sums: dict[str, int] = {}
    for line in each.lines:
        sums[line.kind] = sums.get(line.kind, 0) + line.net_cents
    return ChoiceFacts(
        scope=scope_name(each.scope),
        means=scope_meaning(each.scope),
        kinds=tuple(sums.items()),  # type: ignore[arg-type]  # the kinds of lines
        totals=each.totals,
        deposit_cents=each.deposit_cents,
        ceiling_cents=each.ceiling_cents,
        contingency_cents=each.contingency_cents,
        finishes=finish_facts(each.finishes),
    )
