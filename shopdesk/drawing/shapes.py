"""The few plain shapes a drawing is made of, so that a window, an SVG file and a printed paper
can all draw it. Coordinates are drawing units, y down. Knows nothing of ranges or of colours:
`pen` is a stroke weight and `tone` a surface, both named, both given a colour by whoever draws.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Literal

Pen = Literal["bold", "fine", "hidden", "none"]
Tone = Literal["none", "paper", "enamel", "shade", "dark", "glass", "bright", "ink"]
Segment = tuple[Literal["M", "L", "C"], tuple[float, ...]]
PointMap = Callable[[float, float], tuple[float, float]]

PENS: tuple[Pen, ...] = ("bold", "fine", "hidden", "none")
TONES: tuple[Tone, ...] = ("none", "paper", "enamel", "shade", "dark", "glass", "bright", "ink")
WEIGHTS: dict[Pen, float] = {"bold": 2.6, "fine": 1.2, "hidden": 1.2, "none": 0.0}
DASH = (7.0, 5.0)
_ARC = 0.5523  # a quarter circle as one cubic


@dataclass(frozen=True, slots=True)
class Path:
    """Lines and cubics; `M` and `L` carry two numbers, `C` six."""

    segments: tuple[Segment, ...]
    closed: bool = False
    pen: Pen = "fine"
    tone: Tone = "none"


@dataclass(frozen=True, slots=True)
class Rect:
    x: float
    y: float
    width: float
    height: float
    radius: float = 0.0
    pen: Pen = "fine"
    tone: Tone = "none"


@dataclass(frozen=True, slots=True)
class Circle:
    x: float
    y: float
    r: float
    pen: Pen = "fine"
    tone: Tone = "none"


@dataclass(frozen=True, slots=True)
class Ellipse:
    x: float
    y: float
    rx: float
    ry: float
    pen: Pen = "fine"
    tone: Tone = "none"


@dataclass(frozen=True, slots=True)
class Text:
    """A word centred on x; y is its baseline and `size` its height."""

    x: float
    y: float
    size: float
    text: str
    pen: Pen = "fine"
    tone: Tone = "ink"


Shape = Path | Rect | Circle | Ellipse | Text


@dataclass(frozen=True, slots=True)
class Bounds:
    """An upright box."""

    x: float
    y: float
    width: float
    height: float

    @property
    def centre(self) -> tuple[float, float]:
        return self.x + self.width / 2, self.y + self.height / 2

    @property
    def area(self) -> float:
        return self.width * self.height

    def holds(self, x: float, y: float, slack: float = 0.0) -> bool:
        across = self.x - slack <= x <= self.x + self.width + slack
        return across and self.y - slack <= y <= self.y + self.height + slack


def outline(shape: Rect | Circle | Ellipse | Path) -> Path:
    """The same shape as one path of lines and cubics."""
    match shape:
        case Path():
            return shape
        case Rect(x, y, w, h, r, pen, tone):
            r = min(r, w / 2, h / 2)
            return Path(_rounded(x, y, w, h, r, r), True, pen, tone)
        case Circle(x, y, r, pen, tone):
            return Path(_rounded(x - r, y - r, 2 * r, 2 * r, r, r), True, pen, tone)
        case Ellipse(x, y, rx, ry, pen, tone):
            return Path(_rounded(x - rx, y - ry, 2 * rx, 2 * ry, rx, ry), True, pen, tone)


def _rounded(x: float, y: float, w: float, h: float, rx: float, ry: float) -> tuple[Segment, ...]:
    if rx <= 0:
        return (("M", (x, y)), ("L", (x + w, y)), ("L", (x + w, y + h)), ("L", (x, y + h)))
    kx, ky = rx * (1 - _ARC), ry * (1 - _ARC)
    r, b = x + w, y + h
    return (
        ("M", (x + rx, y)),
        ("L", (r - rx, y)),
        ("C", (r - kx, y, r, y + ky, r, y + ry)),
        ("L", (r, b - ry)),
        ("C", (r, b - ky, r - kx, b, r - rx, b)),
        ("L", (x + rx, b)),
        ("C", (x + kx, b, x, b - ky, x, b - ry)),
        ("L", (x, y + ry)),
        ("C", (x, y + ky, x + kx, y, x + rx, y)),
    )


def moved(shape: Shape, to: PointMap, scale: float = 1.0) -> Shape:
    """The shape with every point sent through `to`; radii and letters grow by `scale`.

    A rectangle's two corners are mapped apart, so a stretching map keeps its corners round.
    """
    match shape:
        case Path(segments):
            return replace(shape, segments=tuple((kind, _mapped(at, to)) for kind, at in segments))
        case Rect(x, y, w, h, r):
            (x1, y1), (x2, y2) = to(x, y), to(x + w, y + h)
            left, top = min(x1, x2), min(y1, y2)
            return replace(shape, x=left, y=top, width=abs(x2 - x1), height=abs(y2 - y1), radius=r * scale)
        case Circle(x, y, r):
            cx, cy = to(x, y)
            return replace(shape, x=cx, y=cy, r=r * scale)
        case Ellipse(x, y, rx, ry):
            cx, cy = to(x, y)
            return replace(shape, x=cx, y=cy, rx=rx * scale, ry=ry * scale)
        case Text(x, y, size):
            cx, cy = to(x, y)
            return replace(shape, x=cx, y=cy, size=size * scale)


def _mapped(numbers: tuple[float, ...], to: PointMap) -> tuple[float, ...]:
    points = (to(numbers[i], numbers[i + 1]) for i in range(0, len(numbers), 2))
    return tuple(value for point in points for value in point)


def bounds(shapes: Iterable[Shape]) -> Bounds:
    """The box round all shapes, strokes left out; curves by their control points."""
    xs: list[float] = []
    ys: list[float] = []
    for shape in shapes:
        if isinstance(shape, Text):
            half = shape.size * 0.3 * len(shape.text)
            xs += [shape.x - half, shape.x + half]
            ys += [shape.y - shape.size, shape.y]
            continue
        for _, at in outline(shape).segments:
            xs += at[0::2]
            ys += at[1::2]
    return Bounds(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))
