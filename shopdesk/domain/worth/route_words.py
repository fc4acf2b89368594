"""What is said of a route wherever it is weighed: its name, what it brings, what else would open."""

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.worth.routes import Route, RouteKind
from shopdesk.domain.worth.sentence import Amount, Sentence, sentence

SCOPE_WORDS = {
    Scope.MECHANICAL: "mechanical-only",
    Scope.EVERYDAY: "everyday finish",
    Scope.SHOW: "show finish",
}
_BRINGS = {
    RouteKind.DONOR: "Sold in parts it should bring {low} to {high}, most likely {likely}.",
    RouteKind.SELL: "Sold as it stands it should bring {low} to {high}, most likely {likely}.",
}


def route_words(route: Route) -> str:
    return f"{route.kind}, {SCOPE_WORDS[route.scope]}" if route.scope else str(route.kind)


def brings(route: Route) -> Sentence:
    return sentence(
        _BRINGS.get(route.kind, "Finished, it should bring {low} to {high}, most likely {likely}."),
        low=Amount(route.value.low),
        likely=Amount(route.value.likely),
        high=Amount(route.value.high),
    )


def wanted_otherwise(routes: tuple[Route, ...]) -> Sentence:
    """For a range wanted for its parts: how the best way of working on it compares."""
    donor = next(r for r in routes if r.kind is RouteKind.DONOR)
    best = max((r for r in routes if r.estimate), key=lambda r: r.limit_cents)
    gap = best.limit_cents - donor.limit_cents
    text = (
        "Wanted to be worked on instead, it would bear {gap} more than for its parts: {route}."
        if gap > 0
        else "Worked on instead, it would bear {gap} less than for its parts: {route}."
    )
    return sentence(text, gap=Amount(abs(gap)), route=route_words(best))
