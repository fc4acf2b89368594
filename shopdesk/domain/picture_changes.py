"""A picture turned, cropped, and marked with arrows and circles: values over an untouched original.

Places are shares of the original's width and height, from its upper left corner, whatever is turned or
cropped; so a change can be taken up again and shown at any size. Knows no pixels.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from shopdesk.domain.problem import Problem

STROKE, BARB = 0.01, 0.06  # of the longer edge; still seen where a picture is printed small
LEAST = 0.02  # of a side: what is smaller was a slip of the hand
MOST_MARKS = 50

Point = tuple[float, float]


def _refuse_outside(*points: Point) -> None:
    for place in (share for point in points for share in point):
        if not 0.0 <= place <= 1.0:
            raise Problem("That lies outside the picture. Stay inside its edges.", field="mark")


class MarkKind(StrEnum):
    ARROW = "arrow"
    CIRCLE = "circle"


@dataclass(frozen=True, slots=True)
class Mark:
    """An arrow from the first point to the second, or the circle that fills the box between them."""

    kind: MarkKind
    first: Point
    second: Point

    def __post_init__(self) -> None:
        _refuse_outside(self.first, self.second)
        across = max(abs(self.first[0] - self.second[0]), abs(self.first[1] - self.second[1]))
        if across < LEAST:
            raise Problem("That mark is too small to be seen. Draw it longer.", field="mark")


@dataclass(frozen=True, slots=True)
class Crop:
    """What is kept of the picture, from edge to edge."""

    left: float
    top: float
    right: float
    bottom: float

    def __post_init__(self) -> None:
        _refuse_outside((self.left, self.top), (self.right, self.bottom))
        if self.right - self.left < LEAST or self.bottom - self.top < LEAST:
            raise Problem("Nothing of the picture would be left. Mark a larger part.", field="crop")


WHOLE = Crop(0.0, 0.0, 1.0, 1.0)


@dataclass(frozen=True, slots=True)
class PictureChanges:
    """Marks first, then the crop, then quarter turns with the clock (0 to 3)."""

    marks: tuple[Mark, ...] = ()
    crop: Crop = WHOLE
    quarter_turns: int = 0

    def __post_init__(self) -> None:
        if len(self.marks) > MOST_MARKS:
            raise Problem("A picture carries up to {most} marks. Take some away.", most=MOST_MARKS)
        object.__setattr__(self, "quarter_turns", self.quarter_turns % 4)

    @property
    def none(self) -> bool:
        return self == PictureChanges()


def box_between(one: Point, other: Point) -> tuple[float, float, float, float]:
    """Left, top, right, bottom of the box between two points."""
    (x1, y1), (x2, y2) = one, other
    return min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)


def arrow_lines(tail: Point, head: Point, barb: float) -> tuple[tuple[Point, Point], ...]:
    """The shaft and the two barbs of an arrow, in the unit of the points; `barb` is their length."""
    angle = math.atan2(tail[1] - head[1], tail[0] - head[0])
    barbs = tuple(
        (head, (head[0] + barb * math.cos(angle + turn), head[1] + barb * math.sin(angle + turn)))
        for turn in (math.pi / 7, -math.pi / 7)
    )
    return ((tail, head), *barbs)


def turned(point: Point, quarter_turns: int) -> Point:
    """Where a point of a picture lies after quarter turns with the clock (shares of the turned sides)."""
    x, y = point
    for _ in range(quarter_turns % 4):
        x, y = 1.0 - y, x
    return x, y


def as_kept(changes: PictureChanges) -> dict[str, Any]:
    """A plain mapping, for a record."""
    crop = changes.crop
    return {
        "marks": [{"kind": m.kind.value, "from": list(m.first), "to": list(m.second)} for m in changes.marks],
        "crop": [crop.left, crop.top, crop.right, crop.bottom],
        "quarter_turns": changes.quarter_turns,
    }


def from_kept(kept: Mapping[str, Any]) -> PictureChanges:
    marks = tuple(
        Mark(MarkKind(one["kind"]), (one["from"][0], one["from"][1]), (one["to"][0], one["to"][1]))
        for one in kept["marks"]
    )
    return PictureChanges(marks, Crop(*kept["crop"]), kept["quarter_turns"])
