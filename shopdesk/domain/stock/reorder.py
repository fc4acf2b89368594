"""When to order a consumable again: from how it is used, how long it takes to come, how sure one wants to be.

Reorder point `R = d·L + z·s·sqrt(L)`: d the mean and s the standard deviation of a day's use, L the
days from order to goods, z the number of standard deviations for the wanted service (the usual
formula for varying use over a fixed lead time). It suggests; it never orders.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, sqrt
from statistics import NormalDist, fmean, pstdev

from shopdesk.domain.problem import Problem

MOST_SURE = 99


@dataclass(frozen=True, slots=True)
class Reorder:
    """`point`: order once no more than so many are left; `kept_back` is the safety part of it."""

    point: float
    kept_back: float


@dataclass(frozen=True, slots=True)
class Suggestion:
    """What to order now, in whole packs; nothing while enough is there and on its way."""

    pieces: int
    reorder: Reorder
    per_day: float


def reorder_point(per_day: float, spread: float, days: int, z: float) -> Reorder:
    """R and its safety stock for a mean day's use, its standard deviation and a lead time in days."""
    kept_back = z * spread * sqrt(days)
    return Reorder(per_day * days + kept_back, kept_back)


def z_for(served_percent: int) -> float:
    """Standard deviations that keep it there so often when asked for (50 to 99 of 100)."""
    if not 50 <= served_percent <= MOST_SURE:
        raise Problem(
            "Write how often it is to be there when asked for: 50 to {most} of 100.",
            field="served_percent", most=MOST_SURE,
        )  # fmt: skip
    return NormalDist().inv_cdf(served_percent / 100)


def suggestion(
    used_by_day: Sequence[int], days: int, served_percent: int, there: int, coming: int, pack: int = 1
) -> Suggestion:
    """From the use of each of some days: how much to order now so that it lasts over two lead times."""
    use = [float(pieces) for pieces in used_by_day]
    per_day, spread = (fmean(use), pstdev(use)) if use else (0.0, 0.0)
    reorder = reorder_point(per_day, spread, days, z_for(served_percent))
    if not any(used_by_day) or there + coming > reorder.point:
        return Suggestion(0, reorder, per_day)
    missing = reorder.point + per_day * max(days, 1) - there - coming
    return Suggestion(max(1, ceil(missing / pack)) * pack, reorder, per_day)
