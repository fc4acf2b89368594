"""Hours that learn: what tasks took against what was estimated, pooled so that few jobs swing little.

The ratio of actual to estimated minutes is taken on the log scale: twice as long and half as
long weigh the same. For job j of kind k

    y[k, j] = log(actual / estimate) ~ Normal(theta[k], sigma)
    theta[k] ~ Normal(mu, tau),   mu ~ Normal(0, mu_scale),   tau ~ half-Normal(tau_scale)

This is the normal hierarchical model of Gelman, Carlin, Stern and Rubin, Bayesian Data
Analysis, chapter 5.4 (from memory), with weak proper priors on mu and tau instead of flat
ones, so that it also answers for one kind alone. sigma is the scatter within kinds, pooled
over all of them with a prior worth `PRIOR_JOBS` jobs. Given tau everything is normal:

    v[k] = sigma² / n[k] + tau²
    1/V = 1/mu_scale² + sum 1/v[k],    mu_hat = V * sum ybar[k]/v[k]
    w[k] = tau² / v[k]                 (the weight of a kind's own mean)
    E theta[k] = w[k] ybar[k] + (1 - w[k]) mu_hat
    Var theta[k] = w[k] sigma²/n[k] + (1 - w[k])² V
    p(tau | y) ~ p(tau) sqrt(V) prod v[k]^-1/2 exp(-1/2 (sum ybar[k]²/v[k] - mu_hat²/V))

and tau is summed over a grid. Knows no tasks: a kind is any name, minutes are minutes.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import numpy as np
import numpy.typing as npt

from shopdesk.domain.money import Spread, round_half_up

# How far a shop's hours lie from the shipped ones, on the log scale: judgement, no source.
MU_SCALE = 0.2
TAU_SCALE = 0.2
PRIOR_SIGMA = 0.5
PRIOR_JOBS = 10
ODD = 5.0
"""A job that took more than five times as long, or less than a fifth, is a slip and not counted."""

_GRID = 400
_Figures = npt.NDArray[np.floating[Any]]


@dataclass(frozen=True, slots=True)
class Pooled:
    """One kind's own ratio, shrunk: `log_mean` and `log_sd` of it on the log scale.

    `own` is the plain mean of its logs, `jobs` how many; `weight` is how much of `own` stayed.
    """

    kind: str
    jobs: int
    own: float
    log_mean: float
    log_sd: float
    weight: float

    @property
    def ratio(self) -> float:
        """The median ratio of actual to estimate."""
        return float(np.exp(self.log_mean))

    def beyond_doubt(self, sds: float = 1.28) -> bool:
        """Whether the ratio differs from one by more than its doubt (nine in ten by default)."""
        return abs(self.log_mean) > sds * self.log_sd


def log_ratio(actual: int, estimate: int) -> float | None:
    """The log of actual over estimate; None for what cannot be or is a slip."""
    if actual <= 0 or estimate <= 0:
        return None
    value = float(np.log(actual / estimate))
    return value if abs(value) <= float(np.log(ODD)) else None


def pooled_sigma(logs: Mapping[str, Sequence[float]]) -> float:
    """The scatter of one job round its kind, over all kinds."""
    squares = sum(float(((np.asarray(v) - np.mean(v)) ** 2).sum()) for v in logs.values() if len(v))
    freedom = sum(len(v) - 1 for v in logs.values() if len(v))
    return float(np.sqrt((PRIOR_JOBS * PRIOR_SIGMA**2 + squares) / (PRIOR_JOBS + freedom)))


def pool(
    logs: Mapping[str, Sequence[float]], *, mu_scale: float = MU_SCALE, tau_scale: float = TAU_SCALE
) -> dict[str, Pooled]:
    """Each kind's ratio from its logs, shrunk towards the shop's and towards one."""
    known = {kind: values for kind, values in logs.items() if len(values)}
    if not known:
        return {}
    sigma = pooled_sigma(known)
    counts = np.array([len(values) for values in known.values()], dtype=float)
    own = np.array([float(np.mean(values)) for values in known.values()])
    mean, sd, weight = shrink(own, sigma / np.sqrt(counts), mu_scale=mu_scale, tau_scale=tau_scale)
    return {
        kind: Pooled(kind, len(values), float(own[n]), float(mean[n]), float(sd[n]), float(weight[n]))
        for n, (kind, values) in enumerate(known.items())
    }


def shrink(
    own: _Figures, error: _Figures, *, mu_scale: float, tau_scale: float
) -> tuple[_Figures, _Figures, _Figures]:
    """Posterior mean and standard deviation of each group, and the mean weight of its own figure.

    `own` are the groups' means, `error` their standard errors, all in one unit.
    """
    tau = (np.arange(_GRID) + 0.5) / _GRID * 5 * tau_scale
    spread = error[None, :] ** 2 + tau[:, None] ** 2
    precision = 1 / mu_scale**2 + (1 / spread).sum(axis=1)
    centre = (own[None, :] / spread).sum(axis=1) / precision
    fit = (own[None, :] ** 2 / spread).sum(axis=1) - centre**2 * precision
    log_p = -0.5 * ((tau / tau_scale) ** 2 + np.log(precision) + np.log(spread).sum(axis=1) + fit)
    p = np.exp(log_p - log_p.max())
    p /= p.sum()
    weight = tau[:, None] ** 2 / spread
    mean = weight * own[None, :] + (1 - weight) * centre[:, None]
    variance = weight * error[None, :] ** 2 + (1 - weight) ** 2 / precision[:, None]
    whole = p @ mean
    return whole, np.sqrt(p @ (variance + (mean - whole) ** 2)), p @ weight


@dataclass(frozen=True, slots=True)
class Done:
    """One finished task: its kind, who mostly did it, the minutes estimated and worked."""

    kind: str
    person: str
    estimate: int
    actual: int


@dataclass(frozen=True, slots=True)
class Learned:
    """Ratios by kind, and by person beside what the kinds explain; `odd` jobs were not counted."""

    kinds: Mapping[str, Pooled]
    people: Mapping[str, Pooled]
    odd: int


def learn(done: Sequence[Done]) -> Learned:
    """Kinds first; people from what is left of each job after its kind, shrunk towards nought."""
    by_kind: dict[str, list[float]] = {}
    counted: list[tuple[Done, float]] = []
    for task in done:
        value = log_ratio(task.actual, task.estimate)
        if value is not None:
            by_kind.setdefault(task.kind, []).append(value)
            counted.append((task, value))
    kinds = pool(by_kind)
    by_person: dict[str, list[float]] = {}
    for task, value in counted:
        if task.person:
            by_person.setdefault(task.person, []).append(value - kinds[task.kind].log_mean)
    people = pool(by_person, mu_scale=MU_SCALE / 10)
    return Learned(kinds, people, len(done) - len(counted))


def scaled(shipped: Spread, ratio: float) -> Spread:
    """Hours times a ratio, in whole minutes; a task that takes time takes a minute at least."""
    low, likely, high = (_minutes(m, ratio) for m in (shipped.low, shipped.likely, shipped.high))
    return Spread(low, likely, high)


def _minutes(minutes: int, ratio: float) -> int:
    return max(min(minutes, 1), round_half_up(minutes * Fraction(ratio)))
