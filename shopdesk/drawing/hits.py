"""Which part lies under a point, and where on a part a pin stands best. Pure geometry."""

from functools import lru_cache
from itertools import pairwise
from math import hypot

from shopdesk.drawing.shapes import Bounds, Path, Shape, Text, bounds, outline
from shopdesk.drawing.sheet import Drawing, DrawnPart

_REACH = 6.0  # how near a line counts as on it
Point = tuple[float, float]


class Hits:
    """The shapes of one drawing made ready for questions about points."""

    def __init__(self, drawing: Drawing) -> None:
        self._parts = [(p, [_Ready(s) for s in p.shapes]) for p in reversed(drawing.parts)]

    def part_at(self, x: float, y: float) -> str | None:
        """The part painted uppermost at a point; a part of lines counts near its lines, and
        within its box where nothing else is.
        """
        for part, shapes in self._parts:
            if any(shape.covers(x, y) for shape in shapes):
                return part.id
        near = [p for p, _ in self._parts if p.bounds.holds(x, y) and p.id != "room"]
        return min(near, key=lambda p: p.bounds.area).id if near else None

    def anchor(self, part: DrawnPart) -> Point:
        """A point where the part lies uppermost, as near as can be to the middle of its largest
        surface, else on an edge or line of it; that middle itself when others cover it all.
        """
        shapes = sorted(part.shapes, key=lambda s: -_weight(bounds([s])))
        surfaces = [s for s in shapes if _tone(s) != "none"]
        for shape in surfaces[:4]:
            for x, y in _outward(bounds([shape])):
                if self.part_at(x, y) == part.id:
                    return x, y
        for shape in shapes:
            for x, y in _on_lines(shape):
                if self.part_at(x, y) == part.id:
                    return x, y
        return bounds([(surfaces or shapes)[0]]).centre


@lru_cache(maxsize=64)
def hits(drawing: Drawing) -> Hits:
    """The questions about a drawing, kept for the drawings in use."""
    return Hits(drawing)


class _Ready:
    """A shape with its box, and its runs of points once they are needed."""

    def __init__(self, shape: Shape) -> None:
        self._shape = shape
        self._box = bounds([shape])
        self._runs: list[list[Point]] | None = None

    def covers(self, x: float, y: float) -> bool:
        if not self._box.holds(x, y, _REACH):
            return False
        shape = self._shape
        if isinstance(shape, Text):
            return True
        if self._runs is None:
            self._runs = flattened(outline(shape))
        for run in self._runs:
            if shape.tone != "none" and _inside(run, x, y):
                return True
            if shape.pen != "none" and any(_near(a, b, x, y) for a, b in pairwise(run)):
                return True
        return False


def _outward(box: Bounds) -> list[Point]:
    """A grid of points in a box, the middle first."""
    steps = [(n - 4) / 9 for n in range(9)]
    shares = sorted(((a, b) for a in steps for b in steps), key=lambda at: hypot(*at))
    x, y = box.centre
    return [(x + a * box.width, y + b * box.height) for a, b in shares]


def _on_lines(shape: Shape) -> list[Point]:
    """Points along a shape's lines, the longest stretches first."""
    if isinstance(shape, Text):
        return []
    stretches = [pair for run in flattened(outline(shape)) for pair in pairwise(run)]
    stretches.sort(key=lambda pair: -hypot(pair[1][0] - pair[0][0], pair[1][1] - pair[0][1]))
    return [
        (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
        for a, b in stretches[:4]
        for share in (0.5, 0.25, 0.75, 0.1, 0.9)
    ]


def _tone(shape: Shape) -> str:
    return "none" if isinstance(shape, Text) else shape.tone


def _weight(box: Bounds) -> float:
    return box.area + box.width + box.height


def flattened(shape: Path, steps: int = 8) -> list[list[Point]]:
    """A path as runs of points, its cubics in `steps` chords."""
    runs: list[list[Point]] = []
    for kind, at in shape.segments:
        if kind == "M":
            runs.append([(at[0], at[1])])
        elif kind == "L":
            runs[-1].append((at[0], at[1]))
        else:
            start = runs[-1][-1]
            runs[-1] += [_on_cubic(start, at, n / steps) for n in range(1, steps + 1)]
    if shape.closed:
        for run in runs:
            run.append(run[0])
    return runs


def _on_cubic(start: Point, at: tuple[float, ...], t: float) -> Point:
    a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
    return (
        a * start[0] + b * at[0] + c * at[2] + d * at[4],
        a * start[1] + b * at[1] + c * at[3] + d * at[5],
    )


def _inside(run: list[Point], x: float, y: float) -> bool:
    inside = False
    for (x1, y1), (x2, y2) in zip(run, run[1:] + run[:1], strict=True):
        if (y1 > y) != (y2 > y) and x < (x2 - x1) * (y - y1) / (y2 - y1) + x1:
            inside = not inside
    return inside


def _near(a: Point, b: Point, x: float, y: float) -> bool:
    long = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2
    t = max(0.0, min(1.0, ((x - a[0]) * (b[0] - a[0]) + (y - a[1]) * (b[1] - a[1])) / long)) if long else 0.0
    return hypot(a[0] + t * (b[0] - a[0]) - x, a[1] + t * (b[1] - a[1]) - y) <= _REACH
