"""What the `sheet` command tells of a walk-round sheet, and how it records one."""

from pathlib import Path
from typing import Any

from shopdesk import paths
from shopdesk.domain import condition
from shopdesk.domain.catalogue.model import Catalogue, Scope
from shopdesk.domain.catalogue.reading import read_catalogue
from shopdesk.domain.clock import now
from shopdesk.domain.gas_facts import FACTS, Disagreement, with_finding
from shopdesk.domain.work import plan_work
from shopdesk.domain.work.plan import causes_by_task
from shopdesk.domain.worth import judge
from shopdesk.exchange.sheet import Sheet, SheetProblem, examine_sheet, read_sheet
from shopdesk.exchange.sheet_range import Identity
from shopdesk.services.gas_identity import written_disagreement
from shopdesk.services.seat import open_shop
from shopdesk.services.sheets import record_sheet
from shopdesk.wording import say, say_problem


def tell(file: Path) -> dict[str, Any]:
    """The answer in JSON shapes; money in minor units, hours as decimals with two places.

    What could not be read stands under `problems`, a sentence each, and the rest is answered for; a
    SheetProblem where there is no rest.
    """
    catalogue = read_catalogue(paths.resource("catalogue"))
    sheet, problems = examine_sheet(file, catalogue)
    if sheet is None:
        raise SheetProblem(problems)
    told = _told(catalogue, sheet)
    return {**told, "problems": [say_problem(each) for each in problems]} if problems else told


def _told(catalogue: Catalogue, sheet: Sheet) -> dict[str, Any]:
    look = with_finding(sheet.look, _gas_disagrees(sheet.identity))
    verdict = judge(catalogue, look, scope=sheet.scope)
    scope = sheet.scope or verdict.scope or Scope.MECHANICAL
    order = plan_work(catalogue, look.build, look.answers, scope)
    because = causes_by_task(order)
    told = condition.condition(catalogue, look)
    return {
        "verdict": verdict.route.value,
        "scope": scope.value,
        "offer_cents": verdict.offer_cents,
        "cost_low_cents": verdict.cost.low,
        "cost_likely_cents": verdict.cost.likely,
        "cost_high_cents": verdict.cost.high,
        "condition": told.overall.value if told.overall else None,
        "reasons": [str(reason) for reason in verdict.reasons],
        "would_change": [str(reason) for reason in verdict.would_change],
        "not_seen": [c.code for c in look.not_seen(catalogue)],
        "tasks": [
            {
                "code": task.code,
                "name": task.name,
                "because": list(because[task.code]),
                "after": list(task.after),
                "hours_low": round(task.minutes.low / 60, 2),
                "hours_likely": round(task.minutes.likely / 60, 2),
                "hours_high": round(task.minutes.high / 60, 2),
            }
            for task in order.tasks
        ],
    }


def _gas_disagrees(known: Identity) -> Disagreement | None:
    """The five facts of the gas on a sheet, where they disagree."""
    facts = {name: getattr(known, name) for name in FACTS}
    return written_disagreement(facts, known.house_pressure_inwc)


def record(file: Path, shop: str) -> str:
    """Records the sheet in a shop; returns the range's number."""
    seat = open_shop(shop, now)
    try:
        return record_sheet(seat, read_sheet(file, seat.catalogue, seat.region.currency)).taken.number
    finally:
        seat.file.close()


def told_in_words(told: dict[str, Any]) -> str:
    """The same for people at a terminal."""
    lines = [
        say("Verdict: {verdict}", verdict=told["verdict"]),
        say("Highest sensible offer: {offer}", offer=_amount(told["offer_cents"])),
        say(
            "Cost: {likely} ({low} to {high})",
            likely=_amount(told["cost_likely_cents"]),
            low=_amount(told["cost_low_cents"]),
            high=_amount(told["cost_high_cents"]),
        ),
        say("Overall condition: {condition}", condition=told["condition"] or say("nothing was looked at")),
        *(f"- {reason}" for reason in told["reasons"]),
        "",
        say("Tasks in order:"),
        *(f"{n:3}. {t['name']}  ({', '.join(t['because'])})" for n, t in enumerate(told["tasks"], start=1)),
    ]
    if "range" in told:
        lines.append(say("Recorded as {number}.", number=told["range"]))
    return "\n".join(lines)


def _amount(cents: int) -> str:
    return f"{cents // 100:,}.{cents % 100:02d}"
