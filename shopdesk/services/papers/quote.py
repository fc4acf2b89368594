"""The quote and the change order."""

from collections.abc import Iterable

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.documents.facts import FinishFacts, MilestoneFacts, QuoteFacts
from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.finishes import Finish, Grade
from shopdesk.domain.money import part_of
from shopdesk.services import settings
from shopdesk.services.finishes import grade_name
from shopdesk.services.lines import adjustment_facts, from_adjustment_row, from_row, to_facts, totals_of
from shopdesk.services.papers.heads import party_facts, range_facts, shop_head
from shopdesk.services.papers.words import shortened
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Quote
from shopdesk.storage.tables.plan import Promise
from shopdesk.storage.tables.ranges import Job
from shopdesk.wording import say


def quote_facts(seat: Seat, session: Session, job: Job, quote: Quote, scope: Scope) -> QuoteFacts:
    assert job.customer is not None, "a quote has a customer"
    lines = [from_row(row) for row in quote.lines]
    given = [from_adjustment_row(row) for row in quote.adjustments]
    texts = settings.read(session, settings.Texts)
    replaced = _replaced(session, quote)
    earlier = _agreed_before(session, job, quote) if quote.step == "change" else ""
    return QuoteFacts(
        shop=shop_head(seat, session),
        number=quote.number,
        day=quote.on_day,
        customer=party_facts(job.customer),
        range=range_facts(job.range, seat.region),
        scope=say("Teardown only") if quote.step == "teardown" else scope_name(scope),
        scope_means=_how_far(quote.step, scope),
        lines=tuple(to_facts(line) for line in lines),
        totals=totals_of(lines, adjustments=given),
        adjustments=adjustment_facts(given),
        valid_until=quote.valid_until,
        received_on=job.booked_in_on,
        trouble=job.complaint,
        deposit_cents=quote.deposit_cents,
        ceiling_cents=quote.ceiling_cents,
        promise=_promise(seat, session, job),
        not_included=_not_included(),
        terms=tuple(t for t in (texts.quote, texts.warranty) if t),
        change_to=earlier,
        finishes=finish_facts(
            Finish(surface=row.surface, grade=Grade(row.grade), note=row.note) for row in quote.finishes
        ),
        milestones=tuple(
            MilestoneFacts(
                name=row.name,
                percent=row.share_percent,
                cents=part_of(quote.net_cents, row.share_percent),
            )
            for row in quote.milestones
        ),
        contingency_cents=quote.contingency_cents if quote.step == "job" else 0,
        replaces=replaced.number if replaced else "",
        changes=_changes(seat, replaced, quote) if replaced else (),
    )


def _how_far(step: str, scope: Scope) -> str:
    if step == "teardown":
        return say(
            "It is taken apart, looked at and tested; a quote for the job follows with what was found."
        )
    return scope_meaning(scope)


def _promise(seat: Seat, session: Session, job: Job) -> str:
    """The day promised, with its odds where a plan could tell them."""
    if job.promised_on is None:
        return ""
    day = seat.region.day_long(job.promised_on)
    last = session.scalars(
        sa.select(Promise).where(Promise.job_id == job.id).order_by(Promise.id.desc()).limit(1)
    ).first()
    odds = last.odds_percent if last is not None and last.on_day == job.promised_on else None
    if odds is None:
        return say("Promised for {day}. We tell you when that changes, and why.", day=day)
    return say(
        "Promised for {day}; as the plan stands that is kept in {odds} of 100 cases. We tell you when that "
        "changes, and why.",
        day=day,
        odds=odds,
    )


def finish_facts(finishes: Iterable[Finish]) -> tuple[FinishFacts, ...]:
    """As papers print them."""
    return tuple(
        FinishFacts(
            surface=say(each.surface), grade=grade_name(each.grade), note=each.note,
            kept=each.grade is Grade.AS_IT_IS,
        )
        for each in finishes
    )  # fmt: skip


def _replaced(session: Session, quote: Quote) -> Quote | None:
    """The version before: the newest quote of the same step and scope; other scopes are choices beside it."""
    if quote.step == "change":
        return None
    query = sa.select(Quote).where(
        Quote.job_id == quote.job_id, Quote.step == quote.step, Quote.scope == quote.scope
    )
    if quote.id is not None:
        query = query.where(Quote.id < quote.id)
    with session.no_autoflush:
        return session.scalars(query.order_by(Quote.id.desc()).limit(1)).first()


_MOST_CHANGES = 8


def _changes(seat: Seat, before: Quote, now: Quote) -> tuple[str, ...]:
    """What the new version holds that the one before did not, and the other way round, in words."""
    region = seat.region
    old, new = ({(row.kind, row.what): row for row in quote.lines} for quote in (before, now))
    said = [
        say("added: {what}, {amount}", what=row.what, amount=region.money(row.net_cents))
        for key, row in new.items()
        if key not in old
    ]
    said += [
        say("left out: {what}, {amount}", what=row.what, amount=region.money(row.net_cents))
        for key, row in old.items()
        if key not in new
    ]
    said += [
        say("{what}: {before} before, now {now}", what=row.what, before=region.money(old[key].net_cents),
            now=region.money(row.net_cents))
        for key, row in new.items()
        if key in old and old[key].net_cents != row.net_cents
    ]  # fmt: skip
    whole = say("Without tax {before} before, now {now}.", before=region.money(before.net_cents),
                now=region.money(now.net_cents))  # fmt: skip
    return (*shortened(said, _MOST_CHANGES), whole)


def scope_name(scope: Scope) -> str:
    names = {
        Scope.MECHANICAL: say("Mechanical-only"),
        Scope.EVERYDAY: say("Everyday finish"),
        Scope.SHOW: say("Show finish"),
    }
    return names[scope]


def scope_meaning(scope: Scope) -> str:
    """How far the work goes, with the reminder that a scope says nothing about use."""
    means = {
        Scope.MECHANICAL: say("Gas, burners, oven and wiring are put in order; finishes stay as they are."),
        Scope.EVERYDAY: say(
            "As mechanical-only, and cleaned, polished and mended where it shows in daily use."
        ),
        Scope.SHOW: say("As everyday finish, and re-enamelled and re-plated where the finish is lost."),
    }
    rule = say("Not to be lit before the proofs and the licensed fitter's connection.")
    return f"{means[scope]} {rule}"


def _agreed_before(session: Session, job: Job, quote: Quote) -> str:
    row = (
        session.query(Quote)
        .filter(Quote.job_id == job.id, Quote.step != "change", Quote.id < quote.id)
        .order_by(Quote.id.desc())
        .first()
    )
    return row.number if row else say("the agreed work")


def _not_included() -> tuple[str, ...]:
    return (
        say("Gas connection at the house by a licensed fitter, and its permit where one is required."),
        say("Work on hidden faults found when the range is apart; you are asked before it is done."),
        say("Removal of asbestos, should a laboratory find it; that is for a licensed firm."),
    )
