"""The beta-PERT distribution as a table over the normal score, fast to draw from by any copula.

A beta-PERT draw between a and b with mode m is a + (b - a) X with X ~ Beta(1 + 4r, 5 - 4r),
r = (m - a)/(b - a). The table holds the quantile of X at evenly spaced normal scores z, so
that a standard normal number becomes a draw by one interpolation.
"""

from collections.abc import Iterable
from functools import lru_cache
from statistics import NormalDist

import numpy as np
import numpy.typing as npt

from shopdesk.domain.money import Spread

Floats = npt.NDArray[np.float32]
Table = npt.NDArray[np.float64]

REACH = 5.0  # normal scores from -5 to 5; beyond lies one draw in 1.7 million
_STEPS = 400
_NODES = 1025


@lru_cache(maxsize=1)
def _scores() -> tuple[Table, Table, Table]:
    """Nodes on 0..1, closer at the ends, their half-step midpoints, and the levels of the scores."""
    angle = np.linspace(0.0, np.pi, 2 * _NODES - 1)
    fine = (1.0 - np.cos(angle)) / 2.0
    normal = NormalDist()
    levels = np.array([normal.cdf(z) for z in np.linspace(-REACH, REACH, _STEPS + 1)])
    return fine, angle, levels


@lru_cache(maxsize=4096)
def standard_table(mode: float) -> Table:
    """Quantiles of Beta(1 + 4 mode, 5 - 4 mode) at the scores; `mode` from 0 to 1."""
    x, angle, levels = _scores()
    weight = np.sin(angle) / 2.0  # dx / d angle
    density = x ** (4.0 * mode) * (1.0 - x) ** (4.0 - 4.0 * mode) * weight
    step = angle[1] - angle[0]
    panels = (density[:-2:2] + 4.0 * density[1:-1:2] + density[2::2]) * step / 3.0  # Simpson
    reached = np.concatenate(([0.0], np.cumsum(panels)))
    table = np.interp(levels, reached / reached[-1], x[::2])
    table.setflags(write=False)
    return table


def table_of(spread: Spread) -> Table:
    """Quantiles of a spread's beta-PERT at the scores; a fixed figure gives a flat table."""
    width = spread.high - spread.low
    if width == 0:
        return np.full(_STEPS + 1, float(spread.low))
    return spread.low + width * standard_table((spread.likely - spread.low) / width)


def table_of_all(spreads: Iterable[Spread]) -> Table:
    """The sum of several spreads that rise and fall together."""
    table = np.zeros(_STEPS + 1)
    for spread in spreads:
        table = table + table_of(spread)
    return table


def draw(table: Table, scores: Floats) -> Floats:
    """A draw for each standard normal score."""
    place = (np.clip(scores, -REACH, REACH) + REACH) * (_STEPS / (2 * REACH))
    low = np.minimum(place.astype(np.int32), _STEPS - 1)
    values = table.astype(np.float32)
    rise = np.diff(values)
    drawn: Floats = values[low] + rise[low] * (place - low).astype(np.float32)
    return drawn
