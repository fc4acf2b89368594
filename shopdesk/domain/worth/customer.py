"""A customer's own range: what each scope is charged, against what the range is worth then."""

from dataclasses import dataclass

from shopdesk.domain.answers import Look
from shopdesk.domain.catalogue.model import Catalogue, Figures, Scope
from shopdesk.domain.estimate.result import Estimate, estimate
from shopdesk.domain.money import Spread
from shopdesk.domain.work.order import total
from shopdesk.domain.worth.value import accessory_worths, features_cents


@dataclass(frozen=True, slots=True)
class ScopeCharge:
    """One scope: `charge` at the shop's hourly charge with parts and outwork at cost, without tax."""

    scope: Scope
    charge: Spread
    minutes: Spread
    value: Spread
    estimate: Estimate


def scope_charges(
    catalogue: Catalogue, look: Look, figures: Figures | None = None, seed: int = 1
) -> tuple[ScopeCharge, ...]:
    """The three scopes side by side, from little to much."""
    figures = figures or catalogue.figures
    extras = accessory_worths(catalogue, look)
    features = features_cents(look.build, figures)
    charges = []
    for scope in Scope:
        found = estimate(catalogue, look, scope, figures, seed, cents_per_hour=figures.charge_per_hour)
        worth = total([figures.finished[scope], Spread(features, features, features), *extras])
        charges.append(ScopeCharge(scope, found.cost, found.minutes, worth, found))
    return tuple(charges)
