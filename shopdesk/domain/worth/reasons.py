"""Why a verdict is what it is, and what would change it, in sentences with their facts."""

from shopdesk.domain.answers import Look
from shopdesk.domain.catalogue.model import Catalogue, Figures, Finding, Scope, Severity
from shopdesk.domain.estimate.result import DriverKind
from shopdesk.domain.work.roots import in_walk_order
from shopdesk.domain.worth.routes import Ground, Route, RouteKind
from shopdesk.domain.worth.sentence import Amount, Length, Sentence, sentence

SCOPE_WORDS = {
    Scope.MECHANICAL: "mechanical-only",
    Scope.EVERYDAY: "everyday finish",
    Scope.SHOW: "show finish",
}
_NAMED = 3


def decisive(catalogue: Catalogue, look: Look) -> list[Finding]:
    """What was found and rules out restoring by itself."""
    found = (catalogue.findings[a.finding or ""] for a in in_walk_order(catalogue, look.answers))
    return [finding for finding in found if finding.decides]


def reasons(ground: Ground, chosen: Route, routes: tuple[Route, ...]) -> tuple[Sentence, ...]:
    """At least two sentences for any verdict."""
    told = [sentence("{decides}", decides=f.decides) for f in decisive(ground.catalogue, ground.look)]
    if chosen.kind is RouteKind.LEAVE:
        told += [_short(route, ground.figures) for route in routes if route.kind is not RouteKind.LEAVE]
    else:
        told += _money(ground, chosen)
    if chosen.kind is RouteKind.DONOR:
        told += [_short(r, ground.figures) for r in routes if r.estimate and r.limit_cents <= 0]
    return tuple(told + _grave(ground) + _unseen(ground, chosen, routes) + _asking(ground, chosen))


def _money(ground: Ground, chosen: Route) -> list[Sentence]:
    told = [
        sentence(
            "Sold in parts it should bring {low} to {high}, most likely {likely}."
            if chosen.kind is RouteKind.DONOR
            else "Finished, it should bring {low} to {high}, most likely {likely}.",
            low=Amount(chosen.value.low),
            likely=Amount(chosen.value.likely),
            high=Amount(chosen.value.high),
        ),
        sentence(
            "The work and the fetching cost {low} to {high} and take {least} to {most}.",
            low=Amount(chosen.cost.low),
            high=Amount(chosen.cost.high),
            least=Length(chosen.minutes.low),
            most=Length(chosen.minutes.high),
        ),
        sentence(
            "The shop clears its margin up to a price of {limit}, in {confidence} of 100 cases.",
            limit=Amount(chosen.limit_cents),
            confidence=round(ground.figures.confidence * 100),
        ),
    ]
    if chosen.limit_cents > ground.cap:
        told.append(
            sentence(
                "Such a range fetches about {cap} as it stands, so the offer goes no higher.",
                cap=Amount(ground.cap),
            )
        )
    return told


def _short(route: Route, figures: Figures) -> Sentence:
    name = _named(route)
    if not route.open:
        return sentence("Not open to this range and purpose: {route}.", route=name)
    return sentence(
        "{route}: it falls {gap} short of the least offer.",
        route=name,
        gap=Amount(figures.offer_step - route.limit_cents),
    )


def _named(route: Route) -> str:
    return f"{route.kind}, {SCOPE_WORDS[route.scope]}" if route.scope else str(route.kind)


def _grave(ground: Ground) -> list[Sentence]:
    purpose = ground.look.purpose
    told = []
    for answer in in_walk_order(ground.catalogue, ground.look.answers):
        finding = ground.catalogue.findings[answer.finding or ""]
        if finding.severity.get(purpose, Severity.NONE) is Severity.GRAVE and not finding.decides:
            name = ground.catalogue.checkpoints[finding.checkpoint].name
            told.append(
                sentence(
                    "{checkpoint}: {finding}. For this purpose that is grave.",
                    checkpoint=name,
                    finding=finding.name,
                )
            )
    return told[:_NAMED]


def _unseen(ground: Ground, chosen: Route, routes: tuple[Route, ...]) -> list[Sentence]:
    count = len(ground.look.not_seen(ground.catalogue))
    estimate = chosen.estimate or next((r.estimate for r in routes if r.estimate), None)
    if not count or estimate is None:
        return []
    return [
        sentence(
            "{count} checkpoints were not seen. What may turn up there is counted at {amount}.",
            count=count,
            amount=Amount(estimate.unseen_cents),
        )
    ]


def _asking(ground: Ground, chosen: Route) -> list[Sentence]:
    asking = ground.look.asking_cents
    if asking is None:
        return []
    if chosen.kind is RouteKind.LEAVE or asking > chosen.offer_cents:
        return [
            sentence(
                "The seller asks {asking}, {gap} more than the highest sensible offer.",
                asking=Amount(asking),
                gap=Amount(asking - chosen.offer_cents),
            )
        ]
    return [
        sentence(
            "At the {asking} asked it ends in a loss in {chance} of 100 cases.",
            asking=Amount(asking),
            chance=round(chosen.chance_of_loss * 100),
        )
    ]


def would_change(ground: Ground, chosen: Route, routes: tuple[Route, ...]) -> tuple[Sentence, ...]:
    """At least one sentence: what to find out, or what would have to be different."""
    told = _to_look_at(ground, chosen, routes)
    for finding in decisive(ground.catalogue, ground.look):
        told.append(
            sentence("Restoring is open again once this no longer stands: {finding}.", finding=finding.name)
        )
    if chosen.kind in (RouteKind.LEAVE, RouteKind.DONOR):
        told += _nearest(ground, routes)
    else:
        told.append(
            sentence(
                "Hidden work or a lower sale price by more than {room} would take the margin.",
                room=Amount(max(chosen.limit_cents - chosen.offer_cents, 0)),
            )
        )
    return tuple(told)


def _nearest(ground: Ground, routes: tuple[Route, ...]) -> list[Sentence]:
    restoring = [r for r in routes if r.estimate]
    best = max(restoring, key=lambda r: r.limit_cents)
    gap = max(ground.figures.offer_step - best.limit_cents, ground.figures.offer_step)
    return [
        sentence(
            "A sale price higher or work cheaper by {gap} would be needed for this: {route}.",
            gap=Amount(gap),
            route=_named(best),
        )
    ]


def _to_look_at(ground: Ground, chosen: Route, routes: tuple[Route, ...]) -> list[Sentence]:
    """The places not seen that carry the most money, and those that could end it."""
    estimate = chosen.estimate or next((r.estimate for r in routes if r.estimate), None)
    told = []
    if estimate:
        risk: dict[str, int] = {}
        for driver in estimate.drivers:
            if driver.kind is DriverKind.NOT_SEEN and driver.expected > 0:
                place = ground.catalogue.findings[driver.code].checkpoint
                risk[place] = risk.get(place, 0) + driver.expected
        worst = sorted(risk, key=lambda code: (-risk[code], code))[:_NAMED]
        if worst:
            told.append(
                sentence(
                    "Looking at what was not seen would settle most, first: {places}.",
                    places="; ".join(ground.catalogue.checkpoints[code].name for code in worst),
                )
            )
    ending = [doubt.finding for doubt in ground.doubts if doubt.finding.decides]
    if ending and chosen.kind in (RouteKind.RESTORE, RouteKind.WORK_ONLY):
        names = "; ".join(finding.name for finding in ending[:_NAMED])
        told.append(sentence("Not ruled out yet, and each would end it: {findings}.", findings=names))
    return told
