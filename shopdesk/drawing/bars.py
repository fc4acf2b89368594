"""A chart of bars laid out in fractions of its own box, for the window and for papers alike.

Bars lie along rows under each other, or stand side by side. They are told apart by their fill, which has a
shape of its own (solid, hollow, hatched, crossed), never by colour alone. A bar may carry the span of a
figure that is a range. Knows no painter.
"""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from typing import Literal

from shopdesk.domain.curve import ticks

Fill = Literal["solid", "hollow", "hatched", "crossed"]


@dataclass(frozen=True, slots=True)
class Series:
    """One figure of every group, in the order of the groups; `spans` are low and high where it is a range."""

    name: str
    fill: Fill
    values: tuple[int, ...]
    spans: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Bar:
    """From `begin` to `end` along the scale, 0 to 1; `span` likewise."""

    fill: Fill
    begin: float
    end: float
    words: str
    span: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Group:
    """`key` is of the record that stands first behind it; None where there is none."""

    name: str
    bars: tuple[Bar, ...]
    key: Hashable = None


@dataclass(frozen=True, slots=True)
class Bars:
    """Everything a painter needs; `zero` is where nothing lies on the scale."""

    title: str
    upright: bool
    scale: tuple[tuple[float, str], ...]
    unit: str
    zero: float
    groups: tuple[Group, ...]
    legend: tuple[tuple[Fill, str], ...]
    words: str  # the chart told, for those who do not see it


def bars_of(
    title: str, names: Sequence[str], series: Sequence[Series], write: Callable[[int], str], *,
    keys: Sequence[Hashable] = (), unit: str = "", upright: bool = False, tick: Callable[[int],
    str] | None = None, step: int = 1,
) -> Bars:  # fmt: skip
    """Lays figures out; `write` writes one, `tick` one at the scale. The scale is in units of `step`."""
    ends = [value for one in series for value in one.values]
    ends += [end for one in series for span in one.spans for end in span]
    marks = ticks(min(0, *ends) / step if ends else 0.0, max(1, *ends) / step if ends else 1.0, 5)
    low, high = marks[0], marks[-1]

    def at(value: float) -> float:
        return (value / step - low) / (high - low)

    groups = tuple(
        Group(name, tuple(_bar(one, place, at, write) for one in series), keys[place] if keys else None)
        for place, name in enumerate(names)
    )
    return Bars(
        title=title,
        upright=upright,
        scale=tuple(((mark - low) / (high - low), (tick or write)(round(mark * step))) for mark in marks),
        unit=unit,
        zero=at(0),
        groups=groups,
        legend=tuple((one.fill, one.name) for one in series),
        words="; ".join([title, *(_told(group, series) for group in groups)]),
    )


def _bar(series: Series, place: int, at: Callable[[float], float], write: Callable[[int], str]) -> Bar:
    value = series.values[place]
    span = (at(series.spans[place][0]), at(series.spans[place][1])) if series.spans else None
    begin, end = sorted((at(0), at(value)))
    return Bar(series.fill, begin, end, write(value), span)


def _told(group: Group, series: Sequence[Series]) -> str:
    figures = ", ".join(f"{one.name} {bar.words}" for one, bar in zip(series, group.bars, strict=True))
    return f"{group.name}: {figures}"
