"""How likely every range is ready by a day, from living the plan through many times."""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from shopdesk.domain.planning.odds import Assumptions, Outlook, outlook
from shopdesk.domain.problem import Problem
from shopdesk.services.planning.making import Made, plan_close
from shopdesk.services.planning.open_work import OpenWork
from shopdesk.services.planning.record import ENOUGH_PIECES
from shopdesk.services.planning.suppose import Supposed, TakeIn
from shopdesk.services.seat import Seat
from shopdesk.wording import say

DRAWS = 300
_DRIVERS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Odds:
    """One range: `percent` that it is ready on its promised day, days ready at 50, 80 and 95 %.

    None where nothing can be told: `why_not` says why. `decides` are tasks whose length moves the
    end most, with their range's number where it is another.
    """

    job_id: int
    range_id: int
    number: str
    name: str
    customer: str
    promised_on: dt.date | None
    percent: int | None = None
    ready_50: dt.date | None = None
    ready_80: dt.date | None = None
    ready_95: dt.date | None = None
    planned_on: dt.date | None = None
    chosen_on: dt.date | None = None  # ready at the shop's chosen odds
    decides: tuple[str, ...] = ()
    why_not: str = ""


@dataclass(frozen=True, slots=True)
class ShopOdds:
    """All ranges, and what the figures rest on: kept with a promise."""

    rows: tuple[Odds, ...]
    assumptions: dict[str, Any]
    chosen_percent: int

    def of(self, job_id: int) -> Odds | None:
        return next((row for row in self.rows if row.job_id == job_id), None)


def shop_odds(
    seat: Seat, *, supposed: Sequence[Supposed] = (), draws: int = DRAWS,
    stop: Callable[[], bool] = lambda: False,
) -> ShopOdds:  # fmt: skip
    """The odds of every promise by the plan in force, mended to how things stand now."""
    made = plan_close(seat, seconds=0.5, supposed=supposed, stop=stop)
    return odds_of(made, draws=draws, stop=stop)


def ready_by(seat: Seat, job_id: int, *, draws: int = DRAWS) -> tuple[Odds, ShopOdds]:
    """The days for one range; one that waits for its answer is taken as answered today."""
    whole = shop_odds(seat, supposed=(TakeIn(job_id, seat.today),), draws=draws)
    found = whole.of(job_id)
    if found is None:
        raise Problem("Nothing is open on this range that could be planned. Write its work order first.")
    return found, whole


def odds_of(made: Made, *, draws: int = DRAWS, stop: Callable[[], bool] = lambda: False) -> ShopOdds:
    """Lives a plan through."""
    work = made.work
    assumptions = assumed(work, draws)
    found = outlook(
        work.instance, made.plan, work.spreads, assumptions, work_done=work.work_done, stop=stop
    )  # fmt: skip
    why_not = {task: each.sentence for each in made.left_out for task in each.tasks}
    blocked: dict[int, str] = {}
    for task in work.facts.tasks:
        if task.id in why_not:
            blocked.setdefault(task.job_id, why_not[task.id])
    rows = []
    planned = {each.id for each in work.instance.ranges}
    for job in work.facts.jobs.values():
        range_id = str(job.id)
        unanswered = job.id in work.facts.unanswered
        if range_id not in planned and job.id not in blocked and not unanswered:
            continue
        known: dict[str, Any] = {
            "job_id": job.id, "range_id": job.range_id, "number": job.number, "name": job.name,
            "customer": job.customer, "promised_on": job.promised_on,
        }  # fmt: skip
        if job.id in blocked:
            rows.append(Odds(**known, why_not=blocked[job.id]))
        elif unanswered:
            rows.append(Odds(**known, why_not=say("Its quote is not answered yet.")))
        else:
            rows.append(Odds(**known, **_figures(made, found, range_id, job.promised_on)))
    return ShopOdds(tuple(rows), _kept(work, assumptions), work.facts.terms.odds_percent)


def assumed(work: OpenWork, draws: int) -> Assumptions:
    """What the odds rest on: the shop's record, or its terms while the record is short."""
    record, terms = work.facts.record, work.facts.terms
    new, unsent = not record.jobs, record.pieces < ENOUGH_PIECES
    return Assumptions(
        draws=draws,
        seed=1,
        hours_factor=record.hours_factor,
        surprises_per_range=record.surprises,
        hours_doubt=terms.hours_doubt_percent / 100 if new else 0.0,
        wait_doubt=terms.wait_doubt_percent / 100 if unsent else 0.0,
        surprises_doubt=terms.surprises_doubt_percent / 100 if new else 0.0,
    )


def _figures(made: Made, found: Outlook, range_id: str, promised_on: dt.date | None) -> dict[str, Any]:
    axis = made.work.axis

    def ready(odds: float) -> dt.date:
        return axis.done_on(min(found.ready_by(range_id, odds), axis.end))

    percent = None
    if promised_on is not None:
        percent = round(100 * found.odds_by(range_id, axis.due_slot(promised_on)))
        percent = percent if promised_on >= made.work.today else 0
    decides = []
    for driver in found.drivers(range_id, 3 * _DRIVERS):
        task = made.work.tasks[driver.task]
        own = str(task.job_id) == range_id
        number = made.work.facts.jobs[task.job_id].number
        decides.append(task.name if own else say("{task} ({range})", task=task.name, range=number))
    return {
        "percent": percent,
        "ready_50": ready(0.5),
        "ready_80": ready(0.8),
        "ready_95": ready(0.95),
        "planned_on": axis.done_on(made.plan.finish(made.work.instance, range_id)),
        "chosen_on": ready(made.work.facts.terms.odds_percent / 100),
        "decides": tuple(dict.fromkeys(decides))[:_DRIVERS],
    }


def _kept(work: OpenWork, assumptions: Assumptions) -> dict[str, Any]:
    figures = asdict(assumptions)
    spread = assumptions.surprise
    figures["surprise"] = [spread.low, spread.likely, spread.high]
    record = work.facts.record
    figures["outwork"] = [round(float(share), 3) for share in record.outwork]
    figures["finished_jobs"], figures["returned_pieces"] = record.jobs, record.pieces
    figures["assumed"] = list(work.assumed)
    return figures
