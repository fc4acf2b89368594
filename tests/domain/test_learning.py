"""Pooled hours against a published example and an independent brute-force posterior."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from shopdesk.domain.learning import (
    MU_SCALE,
    PRIOR_JOBS,
    PRIOR_SIGMA,
    TAU_SCALE,
    Done,
    learn,
    log_ratio,
    pool,
    pooled_sigma,
    scaled,
    shrink,
)
from shopdesk.domain.money import Spread

# Gelman et al., Bayesian Data Analysis, table 5.2: coaching effects and their standard errors in eight
# schools; medians of the posterior from table 5.3, both from memory, hence a band of 2.
SCHOOLS = [28, 8, -3, 7, -1, 1, 18, 12], [15, 10, 16, 11, 9, 11, 10, 18]
MEDIANS = [10, 8, 7, 8, 5, 6, 10, 8]


def test_eight_schools_are_shrunk_as_published():
    own, error = (np.array(values, dtype=float) for values in SCHOOLS)
    # nearly flat priors, as the book has them: tau is summed over to five times its scale
    mean, _, _ = shrink(own, error, mu_scale=1000.0, tau_scale=12.0)
    assert mean == pytest.approx(MEDIANS, abs=2)
    assert max(mean) - min(mean) < (max(own) - min(own)) / 3


def brute_force(logs):
    """Posterior means and standard deviations on a plain grid over (mu, tau), another way round."""
    squares = sum(sum((x - sum(v) / len(v)) ** 2 for x in v) for v in logs)
    freedom = sum(len(v) - 1 for v in logs)
    sigma = ((PRIOR_JOBS * PRIOR_SIGMA**2 + squares) / (PRIOR_JOBS + freedom)) ** 0.5
    mus = np.linspace(-6 * MU_SCALE, 6 * MU_SCALE, 1201)
    taus = np.linspace(1e-6, 5 * TAU_SCALE, 801)
    mu, tau = np.meshgrid(mus, taus)
    log_p = stats.norm.logpdf(mu, 0, MU_SCALE) + stats.norm.logpdf(tau, 0, TAU_SCALE)
    firsts, seconds = [], []
    for v in logs:
        own, error2 = sum(v) / len(v), sigma**2 / len(v)
        log_p = log_p + stats.norm.logpdf(own, mu, np.sqrt(error2 + tau**2))
        precision = 1 / error2 + 1 / tau**2
        mean = (own / error2 + mu / tau**2) / precision
        firsts.append(mean)
        seconds.append(1 / precision + mean**2)
    p = np.exp(log_p - log_p.max())

    def over_grid(values):
        return integrate.trapezoid(integrate.trapezoid(values * p, mus), taus)

    whole = over_grid(np.ones_like(p))
    means = [over_grid(f) / whole for f in firsts]
    sds = [(over_grid(s) / whole - m**2) ** 0.5 for s, m in zip(seconds, means, strict=True)]
    return means, sds


EXAMPLES = [
    [[0.5, 0.7, 0.6]],
    [[0.7, 0.7, 0.7], [0.0, -0.1, 0.1, 0.0]],
    [[1.2], [0.1, 0.3, -0.2], [-0.4, -0.6], [0.05] * 12],
]


@pytest.mark.parametrize("logs", EXAMPLES)
def test_pooling_equals_a_direct_grid_over_the_posterior(logs):
    pooled = pool({f"k{n}": v for n, v in enumerate(logs)})
    means, sds = brute_force(logs)
    assert [p.log_mean for p in pooled.values()] == pytest.approx(means, abs=2e-3)
    assert [p.log_sd for p in pooled.values()] == pytest.approx(sds, abs=3e-3)


def test_given_the_spread_between_kinds_it_is_the_solution_of_mixed_model_equations():
    # Henderson's mixed-model equations (from memory): least squares with a penalty on the effects.
    logs = {"a": [0.4, 0.6, 0.2], "b": [-0.3, 0.1], "c": [0.9]}
    sigma, tau, mu_scale = pooled_sigma(logs), 0.25, 0.2
    rows = [(n, x) for n, v in enumerate(logs.values()) for x in v]
    design = np.zeros((len(rows) + 4, 4))
    target = np.zeros(len(rows) + 4)
    for r, (n, x) in enumerate(rows):
        design[r, 0], design[r, 1 + n], target[r] = 1 / sigma, 1 / sigma, x / sigma
    design[len(rows), 0] = 1 / mu_scale
    for n in range(3):
        design[len(rows) + 1 + n, 1 + n] = 1 / tau
    solved, *_ = np.linalg.lstsq(design, target, rcond=None)
    wanted = solved[0] + solved[1:]
    own = np.array([np.mean(v) for v in logs.values()])
    error2 = sigma**2 / np.array([len(v) for v in logs.values()])
    spread = error2 + tau**2
    centre = (own / spread).sum() / (1 / mu_scale**2 + (1 / spread).sum())
    weight = tau**2 / spread
    assert weight * own + (1 - weight) * centre == pytest.approx(wanted, abs=1e-10)


def test_three_jobs_that_took_twice_as_long_do_not_double_the_hours():
    two = float(np.log(2))
    few = pool({"k": [two] * 3})["k"]
    many = pool({"k": [two] * 60})["k"]
    assert 1.05 < few.ratio < 1.5
    assert many.ratio > 1.8
    assert few.log_sd > many.log_sd


logs_of_kinds = st.dictionaries(
    st.text("abc", min_size=1, max_size=3),
    st.lists(st.floats(-1.6, 1.6), min_size=1, max_size=9),
    min_size=1,
    max_size=6,
)


@given(logs_of_kinds)
def test_a_kind_lies_between_its_own_jobs_and_the_rest(logs):
    pooled = pool(logs)
    assert set(pooled) == set(logs)
    low = min(0.0, *(p.own for p in pooled.values()))
    high = max(0.0, *(p.own for p in pooled.values()))
    for p in pooled.values():
        assert low - 1e-9 <= p.log_mean <= high + 1e-9
        assert 0 <= p.weight <= 1
        assert p.log_sd > 0


@given(logs_of_kinds)
def test_swapping_actual_and_estimate_turns_every_ratio_round(logs):
    one = pool(logs)
    other = pool({kind: [-x for x in v] for kind, v in logs.items()})
    for kind in logs:
        assert one[kind].ratio * other[kind].ratio == pytest.approx(1)


def test_slips_of_the_pen_and_empty_tasks_are_not_counted():
    assert log_ratio(0, 60) is None
    assert log_ratio(60, 0) is None
    assert log_ratio(60 * 14, 60) is None  # a clock left running over a night
    assert log_ratio(61, 60) == pytest.approx(np.log(61 / 60))
    learned = learn([Done("k", "Bram", 60, 90), Done("k", "Bram", 60, 900)])
    assert learned.odd == 1
    assert learned.kinds["k"].jobs == 1


def test_a_person_is_compared_with_others_on_the_same_kinds():
    slow = [Done(kind, "Bram", 60, 90) for kind in ("a", "b") for _ in range(12)]
    quick = [Done(kind, "Wilf", 60, 60) for kind in ("a", "b") for _ in range(12)]
    people = learn(slow + quick).people
    assert people["Bram"].ratio > 1.08
    assert people["Wilf"].ratio < 0.93
    assert people["Bram"].beyond_doubt()


def test_nothing_done_teaches_nothing():
    learned = learn([])
    assert learned.kinds == {}
    assert learned.people == {}


def test_hours_are_scaled_to_whole_minutes_in_order():
    assert scaled(Spread(20, 45, 90), 1.5) == Spread(30, 68, 135)
    assert scaled(Spread(1, 2, 3), 0.2) == Spread(1, 1, 1)
    assert scaled(Spread(0, 0, 0), 2.0) == Spread(0, 0, 0)
