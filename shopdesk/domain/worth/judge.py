"""The verdict on one look at one range."""

from dataclasses import dataclass

from shopdesk.domain.answers import Look, unknown
from shopdesk.domain.catalogue.model import Catalogue, Figures, Purpose, Scope
from shopdesk.domain.estimate.streams import DRAWS, Streams
from shopdesk.domain.estimate.unknown import unknowns
from shopdesk.domain.money import Spread
from shopdesk.domain.worth.readiness import Readiness, readiness
from shopdesk.domain.worth.reasons import decisive, reasons, would_change
from shopdesk.domain.worth.routes import (
    Ground,
    Route,
    RouteKind,
    donating,
    donor_draws,
    leaving,
    restoring,
    selling,
)
from shopdesk.domain.worth.sentence import Sentence

SEED = 1


@dataclass(frozen=True, slots=True)
class Verdict:
    """What to do with a range, and at what price; cents and minutes.

    `route` is the verdict and `scope` how far the work goes on it. `offer_cents` is the highest
    price at which buying still makes sense by any open route. `cost` and `minutes` are those of
    the chosen route; when nothing is worth doing, those of the stated scope or of the mechanical
    one. `ready_to_cook` is None when the range is wanted for its parts. `spent_cents` is what the
    shop paid for a range it owns: nothing is offered for that one.
    """

    route: RouteKind
    scope: Scope | None
    offer_cents: int
    cost: Spread
    minutes: Spread
    routes: tuple[Route, ...]
    reasons: tuple[Sentence, ...]
    would_change: tuple[Sentence, ...]
    decisive: tuple[str, ...]
    chance_of_loss: float
    cap_cents: int
    readiness: Readiness | None
    spent_cents: int | None = None

    @property
    def ready_to_cook(self) -> bool | None:
        return None if self.readiness is None else self.readiness.ready

    @property
    def chosen(self) -> Route:
        return next(r for r in self.routes if (r.kind, r.scope) == (self.route, self.scope))


def judge(
    catalogue: Catalogue,
    look: Look,
    figures: Figures | None = None,
    seed: int = SEED,
    *,
    scope: Scope | None = None,
    draws: int = DRAWS,
) -> Verdict:
    """Verdict and offer with all routes side by side; `scope` limits restoring to that scope.

    `figures` None: the catalogue's.

    The same seed gives the same figures. The offer never rises when a checkpoint seen turns
    from sound to a finding that only costs, and never falls when one not seen turns out
    sound. Raises Problem for codes the catalogue does not have.
    """
    for problem in unknown(catalogue, look):
        raise problem
    figures = figures or catalogue.figures
    streams = Streams(seed, figures.correlation, draws)
    doubts = tuple(unknowns(catalogue, look, figures, streams))
    ground = Ground(catalogue, look, figures, streams, doubts)
    routes = _routes(ground, scope)
    chosen = best_kept(routes) if ground.owned else choose(routes, figures)
    idle = chosen.kind in (RouteKind.LEAVE, RouteKind.SELL)
    shown = _stated(routes, scope) if idle else chosen
    return Verdict(
        route=chosen.kind,
        scope=chosen.scope,
        offer_cents=max(route.offer_cents for route in routes),
        cost=shown.cost,
        minutes=shown.minutes,
        routes=routes,
        reasons=reasons(ground, chosen, routes),
        would_change=would_change(ground, chosen, routes),
        decisive=tuple(finding.code for finding in decisive(catalogue, look)),
        chance_of_loss=chosen.chance_of_loss,
        cap_cents=ground.cap,
        readiness=None if look.purpose is Purpose.DONOR else readiness(catalogue, look),
        spent_cents=look.spent_cents,
    )


def _routes(ground: Ground, scope: Scope | None) -> tuple[Route, ...]:
    donor = donor_draws(ground)
    net = donor[-1]
    ruled_out = bool(decisive(ground.catalogue, ground.look)) or ground.look.purpose is Purpose.DONOR
    wanted = wanted_scopes(ground.look.purpose, scope)
    restore = [
        restoring(ground, s, bare=False, open_=not ruled_out and s in wanted, donor_net=net) for s in Scope
    ]
    work = restoring(ground, Scope.MECHANICAL, bare=True, open_=not ruled_out, donor_net=net)
    last = selling(ground, donor) if ground.owned else leaving()
    return (*restore, work, donating(ground, donor), last)


def wanted_scopes(purpose: Purpose, stated: Scope | None) -> tuple[Scope, ...]:
    """The scopes open to a purpose: the stated one, else a full restoration is more than mechanical."""
    if stated is not None:
        return (stated,)
    return (Scope.EVERYDAY, Scope.SHOW) if purpose is Purpose.FULL else tuple(Scope)


def choose(routes: tuple[Route, ...], figures: Figures) -> Route:
    """The open route that bears the highest price; leave it when none bears the least offer."""
    best = max((r for r in routes if r.open), key=lambda r: r.limit_cents)
    if best.limit_cents >= figures.offer_step and best.kind is not RouteKind.LEAVE:
        return best
    return next(r for r in routes if r.kind is RouteKind.LEAVE)


def best_kept(routes: tuple[Route, ...]) -> Route:
    """For a range the shop owns: the open route that leaves most once it has cleared its margin."""
    return max((r for r in routes if r.open), key=lambda r: r.limit_cents)


def _stated(routes: tuple[Route, ...], scope: Scope | None) -> Route:
    return next(r for r in routes if r.scope == (scope or Scope.MECHANICAL))
