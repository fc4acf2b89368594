"""A range the shop owns: which way leaves most of it now, whatever was paid.

Common practice, no source: what was paid is spent on every way and decides none; the way that
leaves most, once it has cleared its margin at the shop's confidence, is the one to take.
"""

from shopdesk.domain.worth.route_words import brings, route_words
from shopdesk.domain.worth.routes import Route, RouteKind
from shopdesk.domain.worth.sentence import Amount, Length, Sentence, sentence


def own_range_reasons(chosen: Route, routes: tuple[Route, ...]) -> list[Sentence]:
    """What the chosen way brings and costs, and by how much the others fall behind."""
    told = [brings(chosen)]
    if chosen.kind is not RouteKind.SELL:
        told.append(
            sentence(
                "The work costs {low} to {high} and takes {least} to {most}.",
                low=Amount(chosen.cost.low),
                high=Amount(chosen.cost.high),
                least=Length(chosen.minutes.low),
                most=Length(chosen.minutes.high),
            )
        )
    told.append(
        sentence(
            "The {spent} paid for it are spent whichever way it goes, so they do not decide.",
            spent=Amount(chosen.price_cents),
        )
    )
    return told + [_behind(route, chosen) for route in _others(chosen, routes)]


def own_range_changes(chosen: Route, routes: tuple[Route, ...]) -> list[Sentence]:
    """By how much the next best way falls behind."""
    nearest = max(_others(chosen, routes), key=lambda r: r.limit_cents)
    return [
        sentence(
            "If it brought {gap} more, or cost that much less, this would be as good: {route}.",
            gap=Amount(chosen.limit_cents - nearest.limit_cents),
            route=route_words(nearest),
        )
    ]


def _behind(route: Route, chosen: Route) -> Sentence:
    return sentence(
        "{route}: it leaves {gap} less, its margin cleared.",
        route=route_words(route),
        gap=Amount(chosen.limit_cents - route.limit_cents),
    )


def _others(chosen: Route, routes: tuple[Route, ...]) -> list[Route]:
    """The best open one of every other kind; a donor and a sale as it stands are always among them."""
    best: dict[RouteKind, Route] = {}
    for route in routes:
        if route.open and route.kind is not chosen.kind:
            kept = best.get(route.kind)
            if kept is None or route.limit_cents > kept.limit_cents:
                best[route.kind] = route
    return list(best.values())
