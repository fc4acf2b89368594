"""What a condition report advises: verdict, scopes with their cost, cautions for the work."""

from dataclasses import dataclass

from shopdesk.documents.facts import ScopeFacts
from shopdesk.domain.answers import Look
from shopdesk.domain.catalogue.model import Catalogue, Figures, Purpose, Scope
from shopdesk.domain.money import Spread
from shopdesk.domain.work import CauseKind, WorkOrder, plan_work
from shopdesk.domain.worth import RouteKind, Verdict, scope_charges
from shopdesk.services.papers.quote import scope_meaning, scope_name
from shopdesk.services.papers.words import cautions_for, in_words, route_name, shortened
from shopdesk.wording import Region, say

_TASKS = 9  # named of a scope; the quote has them all
_GRAVE = frozenset({
    "gas", "flame", "carbon-monoxide", "combustion", "mains", "lead", "asbestos", "chromium", "dust",
    "rodents", "control-fill", "smoke", "weight",
})  # fmt: skip


@dataclass(frozen=True, slots=True)
class Advice:
    """What is advised; for a customer's range without the shop's own reckoning of a purchase."""

    verdict: str
    why: tuple[str, ...]
    scopes: tuple[ScopeFacts, ...]
    cautions: tuple[tuple[str, str, str], ...]


def advice(
    catalogue: Catalogue,
    look: Look,
    verdict: Verdict,
    region: Region,
    *,
    customers: bool,
    chosen: Scope | None,
    seed: int,
    figures: Figures,
) -> Advice:
    """`customers`: the range is a customer's, `chosen`: the scope its work order has, if any."""
    orders = {scope: plan_work(catalogue, look.build, look.answers, scope) for scope in Scope}
    scope = chosen or (None if customers else verdict.scope)
    if look.purpose is Purpose.DONOR:
        scopes: tuple[ScopeFacts, ...] = ()
    elif customers:
        scopes = _charged(catalogue, look, orders, region, scope, seed, figures)
    else:
        scopes = _own(verdict, orders, scope)
    said, why = _to_customer(catalogue, verdict, region) if customers else _to_shop(verdict, region)
    hazards = _hazards(orders[scope or Scope.MECHANICAL])
    cautions = tuple((c.name, c.text, c.defer_to) for c in cautions_for(catalogue, hazards))
    return Advice(said, why, scopes, cautions)


def _to_shop(verdict: Verdict, region: Region) -> tuple[str, tuple[str, ...]]:
    """The verdict with its offer, its reasons and what would change it."""
    words = route_name(verdict.route)
    if verdict.scope is not None:
        words = say("{route}, {scope}", route=words, scope=scope_name(verdict.scope).lower())
    if verdict.offer_cents:
        offer = region.money_whole(verdict.offer_cents)
        words = say("{route}; offer no more than {offer}", route=words, offer=offer)
    reasons = (*verdict.reasons, *verdict.would_change)
    return words, tuple(in_words(sentence, region) for sentence in reasons)


def _to_customer(catalogue: Catalogue, verdict: Verdict, region: Region) -> tuple[str, tuple[str, ...]]:
    """What rules restoring out, and what speaks against cooking on it as it stands."""
    ruled_out = tuple(catalogue.findings[code].decides for code in verdict.decisive)
    against = verdict.readiness.against if verdict.readiness else ()
    why = (*ruled_out, *(in_words(sentence, region) for sentence in against))
    if ruled_out:
        return say("not to be restored as it stands"), why
    if verdict.ready_to_cook is None:
        return "", ()
    if verdict.ready_to_cook:
        return say("go on to the proofs"), why
    return say("not to be cooked on as it stands"), why


def _charged(
    catalogue: Catalogue,
    look: Look,
    orders: dict[Scope, WorkOrder],
    region: Region,
    chosen: Scope | None,
    seed: int,
    figures: Figures,
) -> tuple[ScopeFacts, ...]:
    """A customer's own range: at the shop's hourly charge, beside what such a range brings then."""
    rows = []
    for charge in scope_charges(catalogue, look, figures, seed):
        brings = say("Such a range so finished brings about {value}.", value=region.money_range(charge.value))
        rows.append(_row(charge.scope, orders, charge.minutes, charge.charge, chosen, brings))
    return tuple(rows)


def _own(verdict: Verdict, orders: dict[Scope, WorkOrder], chosen: Scope | None) -> tuple[ScopeFacts, ...]:
    """The shop's own reckoning: what the work and the fetching cost the shop itself."""
    return tuple(
        _row(route.scope, orders, route.minutes, route.cost, chosen, say("At the shop's own cost."))
        for route in verdict.routes
        if route.kind is RouteKind.RESTORE and route.scope is not None
    )


def _row(
    scope: Scope,
    orders: dict[Scope, WorkOrder],
    minutes: Spread,
    cost: Spread,
    chosen: Scope | None,
    aside: str,
) -> ScopeFacts:
    return ScopeFacts(
        name=scope_name(scope),
        means=f"{scope_meaning(scope)} {aside}",
        minutes=minutes,
        cost=cost,
        work=shortened(_added_work(scope, orders), _TASKS),
        chosen=scope is chosen,
    )


def _added_work(scope: Scope, orders: dict[Scope, WorkOrder]) -> list[str]:
    """Tasks that findings call for, and that no smaller scope has already."""
    smaller = {code for other in Scope if other.rank < scope.rank for code in orders[other].codes}
    return [
        task.name
        for task in orders[scope].tasks
        if task.code not in smaller
        and task.stage != "intake"
        and any(cause.kind is CauseKind.FINDING for cause in task.because)
    ]


def _hazards(order: WorkOrder) -> set[str]:
    """What can harm whoever lives or works beside the range; the bench's own are on the traveller."""
    caused = (t for t in order.tasks if any(c.kind is CauseKind.FINDING for c in t.because))
    return {"gas", "carbon-monoxide"} | {code for task in caused for code in task.hazards if code in _GRAVE}
