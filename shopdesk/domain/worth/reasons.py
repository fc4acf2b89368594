"""Why a verdict is what it is, and what would change it, in sentences with their facts."""

from shopdesk.domain.answers import Look
from shopdesk.domain.catalogue.model import Catalogue, Figures, Finding, Purpose, Severity
from shopdesk.domain.estimate.result import DriverKind
from shopdesk.domain.work.roots import in_walk_order
from shopdesk.domain.worth.own_range import own_range_changes, own_range_reasons
from shopdesk.domain.worth.route_words import brings, route_words, wanted_otherwise
from shopdesk.domain.worth.routes import Ground, Route, RouteKind
from shopdesk.domain.worth.sentence import Amount, Length, Sentence, sentence

_NAMED = 3


def decisive(catalogue: Catalogue, look: Look) -> list[Finding]:
    """What was found and rules out restoring by itself."""
    found = (catalogue.findings[a.finding or ""] for a in in_walk_order(catalogue, look.answers))
    return [finding for finding in found if finding.decides]


def reasons(ground: Ground, chosen: Route, routes: tuple[Route, ...]) -> tuple[Sentence, ...]:
    """At least two sentences for any verdict."""
    told = [sentence("{decides}", decides=f.decides) for f in decisive(ground.catalogue, ground.look)]
    told += _closed(ground, chosen, routes)
    if ground.owned:
        told += own_range_reasons(chosen, routes)
    elif chosen.kind is RouteKind.LEAVE:
        told += [_short(r, ground.figures) for r in routes if r.open and r.kind is not RouteKind.LEAVE]
    else:
        told += _money(ground, chosen)
    if chosen.kind is RouteKind.DONOR and not ground.owned:
        told += [_short(r, ground.figures) for r in routes if r.estimate and r.open and r.limit_cents <= 0]
    return tuple(told + _grave(ground) + _unseen(ground, chosen, routes) + _asking(ground, chosen))


def _closed(ground: Ground, chosen: Route, routes: tuple[Route, ...]) -> list[Sentence]:
    """Once, why ways of working on it are not open; where a finding decides, it says so already."""
    closed = [route for route in routes if not route.open]
    if not closed or decisive(ground.catalogue, ground.look):
        return []
    if ground.look.purpose is Purpose.DONOR:
        return [sentence("It is wanted for its parts, so restoring it and making it work are not open.")]
    if chosen.kind is not RouteKind.LEAVE:
        return []
    names = "; ".join(route_words(route) for route in closed)
    return [sentence("Left out by the purpose or the scope: {routes}.", routes=names)]


def _money(ground: Ground, chosen: Route) -> list[Sentence]:
    told = [
        brings(chosen),
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
    return sentence(
        "{route}: it falls {gap} short of the least offer.",
        route=route_words(route),
        gap=Amount(figures.offer_step - route.limit_cents),
    )


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
    if asking is None or ground.owned:
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
    if ground.owned:
        told += own_range_changes(chosen, routes)
    elif chosen.kind in (RouteKind.LEAVE, RouteKind.DONOR):
        told += _nearest(ground, chosen, routes)
    if ground.look.purpose is Purpose.DONOR and not decisive(ground.catalogue, ground.look):
        told.append(wanted_otherwise(routes))
    if not ground.owned and chosen.kind in (RouteKind.RESTORE, RouteKind.WORK_ONLY):
        told.append(
            sentence(
                "Hidden work or a lower sale price by more than {room} would take the margin.",
                room=Amount(max(chosen.limit_cents - chosen.offer_cents, 0)),
            )
        )
    return tuple(told)


def _nearest(ground: Ground, chosen: Route, routes: tuple[Route, ...]) -> list[Sentence]:
    """How much is missing for the next best open way; for a range wanted for parts, what restoring bears."""
    step = ground.figures.offer_step
    to_beat = step if chosen.kind is RouteKind.LEAVE else max(chosen.limit_cents, step)
    others = [r for r in routes if r.open and r.kind not in (chosen.kind, RouteKind.LEAVE)]
    told = []
    if others:
        best = max(others, key=lambda r: r.limit_cents)
        told.append(
            sentence(
                "A sale price higher or work cheaper by {gap} would be needed for this: {route}.",
                gap=Amount(max(to_beat - best.limit_cents, step)),
                route=route_words(best),
            )
        )
    return told


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
