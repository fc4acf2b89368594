"""Activities that wait for one another: how long the whole takes, what rules it, what has float.

Forward and backward pass of the critical path method with expected durations
(Kelley and Walker 1959; expectation and chance after Malcolm, Roseboom, Clark and Fazar 1959).
Knows no tasks and no calendar: a duration is a number in whatever unit the caller uses.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from statistics import NormalDist

from shopdesk.domain.problem import Problem


@dataclass(frozen=True, slots=True)
class Activity:
    """`after`: codes that must be finished first; codes that are not in the network do not bind."""

    code: str
    duration: Fraction
    after: tuple[str, ...] = ()
    variance: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Timing:
    """Earliest start and finish, latest start and finish; `slack` is the total float."""

    code: str
    start: Fraction
    finish: Fraction
    latest_start: Fraction
    latest_finish: Fraction

    @property
    def slack(self) -> Fraction:
        return self.latest_start - self.start

    @property
    def critical(self) -> bool:
        return self.slack == 0


@dataclass(frozen=True, slots=True)
class Network:
    """The timed network; `path` is one longest chain from first to last."""

    timings: dict[str, Timing]
    path: tuple[str, ...]
    length: Fraction
    variance: Fraction

    def chance_within(self, limit: float) -> float:
        """Chance that the path ends within `limit`, its sum taken as normal (the closed form)."""
        if self.variance == 0:
            return float(self.length <= limit)
        return NormalDist(float(self.length), float(self.variance) ** 0.5).cdf(limit)


def in_order(activities: Sequence[Activity]) -> list[Activity]:
    """The activities with each after what it waits for, else as given; a circle is a Problem."""
    present = {a.code for a in activities}
    waiting, done, ordered = list(activities), set[str](), list[Activity]()
    while waiting:
        ready = [a for a in waiting if all(b in done for b in a.after if b in present)]
        if not ready:
            raise Problem("These wait for one another in a circle: {codes}.", codes=_names(waiting))
        ordered += ready
        done.update(a.code for a in ready)
        waiting = [a for a in waiting if a.code not in done]
    return ordered


def time_network(activities: Sequence[Activity]) -> Network:
    """Both passes; exact on fractions. Raises Problem when activities form a circle."""
    ordered = in_order(activities)
    before = _before(ordered)
    finish: dict[str, Fraction] = {}
    for a in ordered:
        finish[a.code] = max((finish[b] for b in before[a.code]), default=Fraction(0)) + a.duration
    length = max(finish.values(), default=Fraction(0))
    latest = {a.code: length for a in ordered}
    for a in reversed(ordered):
        for b in before[a.code]:
            latest[b] = min(latest[b], latest[a.code] - a.duration)
    timings = {
        a.code: Timing(
            a.code, finish[a.code] - a.duration, finish[a.code], latest[a.code] - a.duration, latest[a.code]
        )
        for a in ordered
    }
    path = _longest_chain(before, finish)
    variance = sum((a.variance for a in ordered if a.code in path), Fraction(0))
    return Network(timings, path, length, variance)


def _before(activities: Sequence[Activity]) -> dict[str, list[str]]:
    present = {a.code for a in activities}
    return {a.code: [b for b in a.after if b in present] for a in activities}


def _longest_chain(before: dict[str, list[str]], finish: dict[str, Fraction]) -> tuple[str, ...]:
    """Walked back from what ends last through whatever ended last before it."""
    chain: list[str] = []
    at = max(finish, key=lambda code: finish[code], default=None)
    while at is not None:
        chain.append(at)
        at = max(before[at], key=lambda code: finish[code], default=None)
    return tuple(reversed(chain))


def _names(activities: Sequence[Activity]) -> str:
    return ", ".join(a.code for a in activities)
