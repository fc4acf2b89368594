"""An estimate as figures: likely ranges of cost and time, and what drives their spread.

The low and high figure of every range are the 10 % and 90 % points of the draws. The likely
figure is the median: as often more as less. The mean stands beside it as `expected`,
because means may be added up and medians may not.
"""

from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

import numpy as np

from shopdesk.domain.answers import Look
from shopdesk.domain.catalogue.model import Catalogue, Figures, Scope
from shopdesk.domain.estimate.lines import Sum
from shopdesk.domain.estimate.simulate import Simulation, simulate
from shopdesk.domain.estimate.streams import DRAWS, Places, Streams
from shopdesk.domain.money import Spread, round_half_up
from shopdesk.domain.work.order import Cause, CauseKind

LOW, HIGH = 0.1, 0.9
SWUNG = 10  # drivers of which the swing is worth computing


class DriverKind(StrEnum):
    ROUTINE = "routine"
    FOUND = "found"
    NOT_SEEN = "not seen"


@dataclass(frozen=True, slots=True)
class Driver:
    """One bar of the tornado chart.

    `code`: finding, checkpoint to be sampled, or empty for routine. `cost`: cents this adds
    at its own 10 %, 50 % and 90 %; for what was not seen, those of the draws in which it
    turns up, and `chance` how often that is. `expected`: its mean over all draws. `share`:
    its part of the whole variance (covariance with the total; the shares sum to one).
    `swing`, of the strongest only: the expected cost of everything when this is among its
    cheapest tenth, as it stands, and among its dearest; for what was not seen when it does
    not turn up, as it stands, and when it does.
    """

    kind: DriverKind
    code: str
    cost: Spread
    expected: int
    share: float
    chance: float = 1.0
    swing: Spread | None = None


@dataclass(frozen=True, slots=True)
class Estimate:
    """Cents and minutes of an order with what may turn up; `unseen_cents` is the part not known."""

    cost: Spread
    expected_cost: int
    minutes: Spread
    expected_minutes: int
    labour: Spread
    parts: Spread
    outwork: Spread
    unseen_cents: int
    drivers: tuple[Driver, ...]


def whole(value: float) -> int:
    """A drawn figure as whole cents or minutes, half up."""
    return round_half_up(Fraction(float(value)))


def point(draws: Sum, share: float) -> float:
    """The value that this share of the draws does not exceed: an order statistic, never between two."""
    place = min(int(share * draws.size), draws.size - 1)
    return float(np.partition(draws, place)[place])


def likely_range(draws: Sum) -> Spread:
    """The 10 %, 50 % and 90 % points."""
    places = [int(share * draws.size) for share in (LOW, 0.5, HIGH)]
    ranked = np.partition(draws, places)
    return Spread(*(whole(ranked[place]) for place in places))


def summary(done: Simulation) -> Estimate:
    """The figures of a simulation; the drivers with the largest share first."""
    totals = done.totals
    cost = totals.cost
    return Estimate(
        cost=likely_range(cost),
        expected_cost=whole(cost.mean()),
        minutes=likely_range(totals.minutes),
        expected_minutes=whole(totals.minutes.mean()),
        labour=likely_range(totals.labour),
        parts=likely_range(totals.parts),
        outwork=likely_range(totals.outwork),
        unseen_cents=whole(sum(float(cents.sum()) for _, cents in done.by_unknown.values()) / cost.size),
        drivers=tuple(drivers(done, cost)),
    )


def drivers(done: Simulation, cost: Sum) -> list[Driver]:
    """What makes the cost spread, the strongest first."""
    away = cost - cost.mean()
    variance = _together(away, away) or 1.0
    found = [
        Driver(
            DriverKind.ROUTINE if cause.kind is CauseKind.ROUTINE else DriverKind.FOUND,
            cause.code,
            likely_range(cents),
            whole(cents.mean()),
            _together(cents, away) / variance,
        )
        for cause, cents in done.by_root.items()
    ]
    unseen = [
        Driver(
            DriverKind.NOT_SEEN,
            code,
            likely_range(cents),
            whole(cents.sum() / cost.size),
            _together(cents, away[doubt.at]) / variance,
            doubt.chance,
        )
        for code, (doubt, cents) in done.by_unknown.items()
    ]
    ranked = sorted(found + unseen, key=lambda d: (-d.share, d.code))
    return [_swung(d, done, cost) for d in ranked[:SWUNG]] + ranked[SWUNG:]


def _swung(driver: Driver, done: Simulation, cost: Sum) -> Driver:
    """The same with its swing: conditional means of the whole cost."""
    if driver.kind is DriverKind.NOT_SEEN:
        low, high = _without_and_with(cost, done.by_unknown[driver.code][0].at)
    else:
        cents = next(c for cause, c in done.by_root.items() if _is(driver, cause))
        tenth = max(1, cents.size // 10)
        ranked = np.argpartition(cents, (tenth, cents.size - tenth - 1))
        low, high = float(cost[ranked[:tenth]].mean()), float(cost[ranked[-tenth:]].mean())
    middle = whole(cost.mean())
    return replace(driver, swing=Spread(min(whole(low), middle), middle, max(whole(high), middle)))


def _is(driver: Driver, cause: Cause) -> bool:
    return cause.code == driver.code and (cause.kind is CauseKind.ROUTINE) == (
        driver.kind is DriverKind.ROUTINE
    )


def _without_and_with(cost: Sum, at: Places) -> tuple[float, float]:
    """The mean of the draws in which it does not turn up, and of those in which it does."""
    inside = float(cost[at].sum())
    outside = (float(cost.sum()) - inside) / max(1, cost.size - at.size)
    return outside, inside / max(1, at.size)


def _together(one: Sum, other: Sum) -> float:
    """The sum of products, without the threads that a matrix product would start."""
    return float((one * other).sum())


def estimate(
    catalogue: Catalogue,
    look: Look,
    scope: Scope,
    figures: Figures,
    seed: int,
    *,
    cents_per_hour: int | None = None,
    draws: int = DRAWS,
) -> Estimate:
    """Cost and time of a scope, at the shop's own cost rate or at another hourly rate.

    The same seed gives the same figures on every machine and in every process.
    """
    streams = Streams(seed, figures.correlation, draws)
    done = simulate(catalogue, look, scope, figures, streams, cents_per_hour=cents_per_hour)
    return summary(done)
