"""Mean and spread of a low, likely and high figure, in closed form and exact.

The closed form is that of Malcolm, Roseboom, Clark and Fazar (1959): mean (a + 4m + b)/6,
standard deviation (b - a)/6. A draw from the beta-PERT distribution with the same mean has
the variance (mean - a)(b - mean)/7, which is what the simulation shows; the two differ.
"""

from fractions import Fraction

from shopdesk.domain.money import Spread


def mean(spread: Spread) -> Fraction:
    return Fraction(spread.low + 4 * spread.likely + spread.high, 6)


def standard_deviation(spread: Spread) -> Fraction:
    """The closed form's (b - a)/6."""
    return Fraction(spread.high - spread.low, 6)


def variance(spread: Spread) -> Fraction:
    """The closed form's ((b - a)/6) squared."""
    return standard_deviation(spread) ** 2


def drawn_variance(spread: Spread) -> Fraction:
    """The variance of a beta-PERT draw."""
    middle = mean(spread)
    return (middle - spread.low) * (spread.high - middle) / 7
