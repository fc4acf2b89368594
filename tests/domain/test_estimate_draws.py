"""The distribution drawn from and its streams, against scipy's beta distribution."""

import os
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from shopdesk.domain.estimate.pert import REACH, draw, standard_table, table_of, table_of_all
from shopdesk.domain.estimate.streams import DRAWS, Streams, stream_seed
from shopdesk.domain.estimate.three_point import drawn_variance, mean, standard_deviation
from shopdesk.domain.money import Spread

SHAPES = [Spread(30, 60, 240), Spread(60, 60, 60), Spread(0, 0, 100), Spread(10, 90, 90), Spread(20, 50, 80)]


def beta_of(spread):
    """The same distribution from scipy: Beta(1 + 4r, 5 - 4r) between low and high."""
    width = spread.high - spread.low
    r = (spread.likely - spread.low) / width
    return stats.beta(1 + 4 * r, 5 - 4 * r, loc=spread.low, scale=width)


@settings(deadline=None)
@given(st.floats(0, 1))
def test_the_table_holds_the_quantiles_of_the_beta_distribution(mode):
    scores = np.linspace(-REACH, REACH, standard_table(mode).size)
    exact = stats.beta(1 + 4 * mode, 5 - 4 * mode).ppf(stats.norm.cdf(scores))
    assert np.abs(standard_table(mode) - exact).max() < 2e-5


@pytest.mark.parametrize("spread", [s for s in SHAPES if s.high > s.low], ids=str)
def test_draws_have_the_mean_variance_and_quantiles_of_the_beta_distribution(spread):
    drawn = draw(table_of(spread), Streams(7, 0.0).scores("a task")).astype(float)
    exact = beta_of(spread)
    error = exact.std() / DRAWS**0.5
    assert abs(drawn.mean() - exact.mean()) < 4 * error
    assert drawn.var() == pytest.approx(exact.var(), rel=0.05)
    for share in (0.1, 0.5, 0.9):
        assert np.mean(drawn <= exact.ppf(share)) == pytest.approx(share, abs=0.012)


@pytest.mark.parametrize("spread", SHAPES, ids=str)
def test_the_closed_mean_and_drawn_variance_are_those_of_the_beta_distribution(spread):
    # beta-PERT: variance (mu - a)(b - mu)/7; the closed form of 1959 has sd (b - a)/6 instead.
    assert standard_deviation(spread) * 6 == spread.high - spread.low
    if spread.high == spread.low:
        assert (mean(spread), drawn_variance(spread)) == (spread.low, 0)
        return
    assert float(mean(spread)) == pytest.approx(beta_of(spread).mean())
    assert float(drawn_variance(spread)) == pytest.approx(beta_of(spread).var())


def test_a_fixed_figure_is_drawn_as_itself():
    assert set(draw(table_of(Spread(60, 60, 60)), Streams(1, 0.3).scores("x"))) == {60.0}


def test_spreads_that_move_together_add_up_quantile_by_quantile():
    together = table_of_all([Spread(0, 10, 50), Spread(5, 6, 9)])
    assert np.allclose(together, table_of(Spread(0, 10, 50)) + table_of(Spread(5, 6, 9)))


@pytest.mark.parametrize("strength", [0.0, 0.3, 0.8])
def test_two_names_correlate_as_strongly_as_the_setting_says(strength):
    streams = Streams(3, strength)
    one, other = streams.scores("one"), streams.scores("other")
    assert np.corrcoef(one, other)[0, 1] == pytest.approx(strength, abs=0.03)
    assert one.std() == pytest.approx(1.0, abs=0.03)


def test_a_stream_depends_on_nothing_but_seed_and_name():
    before = Streams(5, 0.3).scores("weld").copy()
    streams = Streams(5, 0.3)
    for name in ("a", "b", "c"):
        streams.scores(name)
    assert np.array_equal(streams.scores("weld"), before)
    assert not np.array_equal(Streams(6, 0.3).scores("weld"), before)
    assert not np.array_equal(streams.scores("welds"), before)


def test_there_are_at_least_twenty_thousand_draws():
    assert Streams(1, 0.3).scores("x").size >= 20_000


def test_another_process_draws_the_same():
    code = (
        "from shopdesk.domain.estimate.streams import Streams, stream_seed\n"
        "print(stream_seed(9, 'weld'), [float(x) for x in Streams(9, 0.3).scores('weld')[:5]])"
    )
    told = {
        subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True, env=_env(salt)
        ).stdout
        for salt in ("1", "2")
    }
    here = f"{stream_seed(9, 'weld')} {[float(x) for x in Streams(9, 0.3).scores('weld')[:5]]}\n"
    assert told == {here}


def _env(salt):
    return {**os.environ, "PYTHONHASHSEED": salt}
