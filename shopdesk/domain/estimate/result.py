"""An estimate as figures: likely ranges of cost and time, and what drives their spread.

The low and high figure of every range are the 10 % and 90 % points of the draws. The likely
figure is the median: as often more as less. The mean stands beside it as `expected`,
because means may be added up and medians may not.
"""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

import numpy as np

from shopdesk.domain.answers import Look
from shopdesk.domain.catalogue.model import Catalogue, Figures, Scope
from shopdesk.domain.estimate.lines import Sum
from shopdesk.domain.estimate.simulate import Simulation, simulate
from shopdesk.domain.estimate.streams import DRAWS, Streams
from shopdesk.domain.money import Spread, round_half_up
from shopdesk.domain.work.order import CauseKind

LOW, HIGH = 0.1, 0.9


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
    """

    kind: DriverKind
    code: str
    cost: Spread
    expected: int
    share: float
    chance: float = 1.0


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
    return sorted(found + unseen, key=lambda d: (-d.share, d.code))


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
