"""What a finished range brings, from what the shop's own finished ranges brought.

Common practice, no source: sales count as like when the scope, the number of ovens and the class
of burners (up to four, or more) are the same; what other features add is taken off each price
first, so that a lamp more or less does not hide the likeness. Fewer than `LEAST` like sales say
nothing yet, and the typed figure stays. The likely price is the median, low and high are those of
10 and 90 of 100 (with few sales: nearly the lowest and the highest).
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Figures, Scope
from shopdesk.domain.money import Spread, round_half_up
from shopdesk.domain.worth.value import features_cents

LEAST = 3
YEARS = 5  # older prices are of another time; common practice, no source
_MANY_BURNERS = 5
_SHARES = (Fraction(1, 10), Fraction(1, 2), Fraction(9, 10))


@dataclass(frozen=True, slots=True)
class PastSale:
    """A range of the shop's own that was sold: `price_cents` without tax."""

    number: str
    build: Build
    scope: Scope
    on_day: dt.date
    price_cents: int
    job_id: int = 0


@dataclass(frozen=True, slots=True)
class Valued:
    """Figures for one build, and the like sales that made each scope's finished price, newest first."""

    figures: Figures
    sales: tuple[tuple[Scope, tuple[PastSale, ...]], ...] = ()

    def of(self, scope: Scope | None) -> tuple[PastSale, ...]:
        return dict(self.sales).get(scope, ()) if scope else ()


def valued(figures: Figures, build: Build, sales: Sequence[PastSale], today: dt.date) -> Valued:
    """The figures with the finished prices of the scopes for which there are like sales enough."""
    finished, made = dict(figures.finished), []
    for scope in Scope:
        like = [s for s in sales if s.scope is scope and alike(s.build, build) and _recent(s, today)]
        if len(like) < LEAST:
            continue
        bare = sorted(max(0, sale.price_cents - features_cents(sale.build, figures)) for sale in like)
        finished[scope] = Spread(*(_at(bare, share) for share in _SHARES))
        made.append((scope, tuple(sorted(like, key=lambda s: (s.on_day, s.number), reverse=True))))
    return Valued(replace(figures, finished=finished), tuple(made))


def alike(one: Build, other: Build) -> bool:
    """Whether two builds are priced by the same kind of buyer."""
    return one.ovens == other.ovens and (one.burners >= _MANY_BURNERS) == (other.burners >= _MANY_BURNERS)


def _recent(sale: PastSale, today: dt.date) -> bool:
    return (today - sale.on_day).days <= YEARS * 365


def _at(ranked: Sequence[int], share: Fraction) -> int:
    """The value below which a share of the ranked values lies, between neighbours by straight line."""
    place = share * (len(ranked) - 1)
    below = int(place)
    above = min(below + 1, len(ranked) - 1)
    return round_half_up(ranked[below] + (ranked[above] - ranked[below]) * (place - below))
