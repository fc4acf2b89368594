"""Readings against time, kept with a proof and drawn on screen and paper. Knows no test and no painter.

Values are in US units (minutes; in w.c. or °F); who draws them turns them into the shop's.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from shopdesk.domain.quantity import Quantity

Style = Literal["line", "dashed", "points"]
Point = tuple[float, float]
MOST_POINTS = 400  # as many as a chart can show apart


@dataclass(frozen=True, slots=True)
class Series:
    """Points in rising time; `name` is a template that is translated."""

    name: str
    points: tuple[Point, ...]
    style: Style = "line"


@dataclass(frozen=True, slots=True)
class Mark:
    """A place on the curve with a word, such as where the burner came on."""

    minute: float
    value: float
    word: str


@dataclass(frozen=True, slots=True)
class Curve:
    """`level`: a line right across, such as the dial's setting. `timed` False: points in order only."""

    title: str
    quantity: Quantity
    series: tuple[Series, ...]
    marks: tuple[Mark, ...] = ()
    level: float | None = None
    level_name: str = ""
    timed: bool = True

    @property
    def span(self) -> tuple[float, float, float, float]:
        """First and last minute, lowest and highest value over everything that is drawn."""
        minutes = [m for s in self.series for m, _ in s.points]
        values = [v for s in self.series for _, v in s.points]
        values += [self.level] if self.level is not None else []
        return min(minutes), max(minutes), min(values), max(values)


def reduced(points: Sequence[Point], most: int = MOST_POINTS) -> tuple[Point, ...]:
    """At most about `most` points that keep first, last, and the highs and lows of each stretch."""
    if len(points) <= most:
        return tuple(points)
    stretches = max(1, most // 2)
    step = len(points) / stretches
    kept: dict[int, None] = {0: None}
    for number in range(stretches):
        begin, end = math.floor(number * step), max(math.floor((number + 1) * step), 1)
        stretch = range(begin, min(end, len(points)))
        if stretch:
            low = min(stretch, key=lambda i: points[i][1])
            high = max(stretch, key=lambda i: points[i][1])
            kept.update(dict.fromkeys(sorted({low, high})))
    kept[len(points) - 1] = None
    return tuple(points[i] for i in sorted(kept))


def ticks(low: float, high: float, wanted: int = 5) -> tuple[float, ...]:
    """Round figures that cover `low` to `high`, about `wanted` of them."""
    if not high - low > abs(high) * 1e-12 + 1e-12:  # a span too thin to draw is a level line
        room = max(abs(low) * 0.05, 0.5)
        low, high = low - room, high + room
    raw = (high - low) / max(1, wanted - 1)
    size = 10.0 ** math.floor(math.log10(raw))
    step = next(f * size for f in (1, 2, 2.5, 5, 10) if f * size >= raw * 0.999)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return tuple(round(n * step, 10) for n in range(first, last + 1))


def to_document(curve: Curve) -> dict[str, Any]:
    """Plain lists and texts, to be kept as JSON; `from_document` gives the curve back."""
    return {
        "title": curve.title,
        "quantity": curve.quantity.value,
        "series": [
            {"name": s.name, "style": s.style, "points": [[round(m, 4), round(v, 4)] for m, v in s.points]}
            for s in curve.series
        ],
        "marks": [[round(m.minute, 4), round(m.value, 4), m.word] for m in curve.marks],
        "level": curve.level,
        "level_name": curve.level_name,
        "timed": curve.timed,
    }


def from_document(kept: Mapping[str, Any]) -> Curve:
    return Curve(
        title=kept["title"],
        quantity=Quantity(kept["quantity"]),
        series=tuple(
            Series(s["name"], tuple((float(m), float(v)) for m, v in s["points"]), s["style"])
            for s in kept["series"]
        ),
        marks=tuple(Mark(float(m), float(v), str(word)) for m, v, word in kept["marks"]),
        level=kept["level"],
        level_name=kept["level_name"],
        timed=kept.get("timed", True),
    )


def from_documents(kept: Iterable[Mapping[str, Any]]) -> tuple[Curve, ...]:
    return tuple(from_document(each) for each in kept)


def over_earlier(curve: Curve, earlier: Iterable[Curve]) -> Curve:
    """An oven's curve over the one from before; a pressure test stands by itself, with its own line."""
    before = next((c for c in earlier if c.title == curve.title), None)
    if before is None or curve.quantity is not Quantity.TEMPERATURE:
        return curve
    return before_and_after(before, curve)


def before_and_after(before: Curve, after: Curve) -> Curve:
    """Two curves of one kind over each other; the marks are those of the later one."""
    old = tuple(Series(f"before: {s.name}", s.points, "dashed") for s in before.series[:1])
    new = tuple(Series(f"after: {s.name}", s.points) for s in after.series[:1])
    timed = before.timed and after.timed
    return Curve(after.title, after.quantity, (*old, *new), after.marks, after.level, after.level_name, timed)
