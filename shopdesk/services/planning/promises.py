"""Days promised to customers: kept with their odds and what those rest on; a change asks for a reason."""

import datetime as dt
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import settings
from shopdesk.services.planning.outlook import Odds, ShopOdds
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.plan import Promise
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class PromiseRow:
    """One entry of a job's promises, newest first in lists."""

    id: int
    job_id: int
    at: dt.datetime
    on_day: dt.date | None
    instead_of: dt.date | None
    why: str
    note: str
    chosen_percent: int | None
    odds_percent: int | None
    ready_50: dt.date | None
    ready_80: dt.date | None
    ready_95: dt.date | None
    assumptions: dict[str, Any]


def promise(
    seat: Seat, job_id: int, on: dt.date | None, why: str = "", *, told: tuple[Odds, ShopOdds] | None = None
) -> str:
    """Promises a day, moves it or takes it back (None); answers the note to the customer.

    `told` are the odds it rests on, kept with it. Moving or taking back asks for a reason. The
    first promise has a note as well; a range of the shop's own has none.
    """
    with seat.change(Action.PROMISE) as work:
        job = work.get(Job, job_id, "job")
        return record(seat, work, job, on, why, told=told)


def record(
    seat: Seat,
    work: UnitOfWork,
    job: Job,
    on: dt.date | None,
    why: str,
    *,
    told: tuple[Odds, ShopOdds] | None = None,
) -> str:
    """The promise in a unit of work that may do more."""
    why, before = why.strip(), job.promised_on
    if on == before:
        return ""
    if before is not None and not why:
        raise Problem(
            "{number} is promised for another day already. Say why it changes; the customer will be told.",
            field="why",
            number=job.range.number,
        )
    note = _note(seat, work, job, on, why)
    odds = told[0] if told else None
    work.add(
        Promise(
            job_id=job.id,
            at=work.now,
            staff_id=work.acting.staff_id,
            on_day=on,
            instead_of=before,
            why=why,
            note=note,
            chosen_percent=told[1].chosen_percent if told and odds and odds.chosen_on == on else None,
            odds_percent=odds_on(odds, on),
            ready_50=odds.ready_50 if odds else None,
            ready_80=odds.ready_80 if odds else None,
            ready_95=odds.ready_95 if odds else None,
            assumptions=told[1].assumptions if told else {},
        )
    )
    job.promised_on = on
    work.about(job, job.id)
    return note


def odds_on(odds: Odds | None, on: dt.date | None) -> int | None:
    """The odds of a day among those that were worked out; None for one in between."""
    if odds is None or on is None:
        return None
    if on == odds.promised_on:
        return odds.percent
    known = {odds.ready_50: 50, odds.ready_80: 80, odds.ready_95: 95}  # one day may stand for several
    return known.get(on)


def promises(seat: Seat, job_id: int) -> list[PromiseRow]:
    """What was promised on a job, newest first."""
    query = sa.select(Promise).where(Promise.job_id == job_id).order_by(Promise.id.desc())
    with seat.look() as session:
        return [
            PromiseRow(*(getattr(row, name) for name in PromiseRow.__dataclass_fields__))
            for row in session.scalars(query)
        ]


def _note(seat: Seat, work: UnitOfWork, job: Job, on: dt.date | None, why: str) -> str:
    """What is sent to the customer; plain, with the reason and what holds now."""
    if job.customer is None:
        return ""
    shop = settings.read(work.session, settings.ShopIdentity)
    region, before = seat.region, job.promised_on
    name = " ".join(word for word in (job.range.maker, job.range.model) if word) or job.range.number
    lines = [say("Dear {customer},", customer=job.customer.name), ""]
    facts = {"range": name, "number": job.range.number}
    if before is None and on is not None:
        lines.append(
            say("your range {range} ({number}) will be ready on {day}.", day=region.day_long(on), **facts)
        )
    elif before is not None and on is not None:
        text = (
            say("your range {range} ({number}) will not be ready on {before}. It will be ready on {day}.",
                before=region.day_long(before), day=region.day_long(on), **facts)
            if on > before
            else say("your range {range} ({number}) will be ready sooner: on {day} instead of {before}.",
                     before=region.day_long(before), day=region.day_long(on), **facts)
        )  # fmt: skip
        lines += [text, "", say("The reason: {why}", why=why)]
    elif before is not None:
        lines += [
            say("we cannot keep {before} for your range {range} ({number}), and do not know a new day yet.",
                before=region.day_long(before), **facts),
            "", say("The reason: {why}", why=why), say("We will write as soon as we know."),
        ]  # fmt: skip
    lines += ["", say("We ring before, to arrange how it comes home."), "", shop.name]
    return "\n".join(lines)
