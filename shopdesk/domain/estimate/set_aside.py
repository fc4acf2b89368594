"""Minutes to set aside on top of the likely ones, so that four jobs in five stay within them."""

from collections.abc import Iterable
from math import ceil, sqrt

from shopdesk.domain.estimate.three_point import mean, variance
from shopdesk.domain.money import Spread

_FOUR_IN_FIVE = 0.8416  # quantile 0.80 of the normal distribution


def set_aside(spreads: Iterable[Spread]) -> int:
    """Whole minutes above the sum of the likely ones; never below nothing.

    Mean and variance of the parts add up (Malcolm, Roseboom, Clark and Fazar 1959); their sum is taken
    as normal.
    """
    parts = list(spreads)
    likely = sum(part.likely for part in parts)
    middle = float(sum((mean(part) for part in parts), start=mean(Spread(0, 0, 0))))
    spread = sqrt(float(sum((variance(part) for part in parts), start=variance(Spread(0, 0, 0)))))
    return max(0, ceil(middle + _FOUR_IN_FIVE * spread - likely))
