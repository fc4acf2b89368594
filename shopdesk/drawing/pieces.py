"""Reads our source pieces (`resources/drawings/*.svg`) and sets them in place.

A piece is a small SVG with groups that carry a part's id. Classes name pen and tone
(`class="bold enamel"`). A piece may stretch: `data-stretch-x="40 100"` keeps what lies left of
40 and right of 100 as drawn and centred what lies between, so a door grows and its corners
and handle stay. Knows nothing of builds or views.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import cast
from xml.etree import ElementTree

from shopdesk import paths
from shopdesk.drawing.pathtext import path
from shopdesk.drawing.shapes import (
    PENS,
    TONES,
    Circle,
    Ellipse,
    Pen,
    PointMap,
    Rect,
    Shape,
    Text,
    Tone,
    moved,
)

Zones = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Piece:
    """One source drawing: its shapes by part id, its size and where it stretches."""

    name: str
    width: float
    height: float
    groups: tuple[tuple[str, tuple[Shape, ...]], ...]
    stretch_x: Zones | None = None
    stretch_y: Zones | None = None

    def placed(
        self, x: float, y: float, width: float | None = None, height: float | None = None
    ) -> Iterator[tuple[str, list[Shape]]]:
        """The shapes of each group with the piece's upper left corner at (x, y).

        A piece that does not stretch is scaled evenly to `width` (or `height`).
        """
        scale, w, h = 1.0, width or self.width, height or self.height
        if self.stretch_x is None and self.stretch_y is None:
            scale = (width / self.width) if width else (height / self.height) if height else 1.0
            w, h = self.width * scale, self.height * scale
        to = self._map(x, y, w, h, scale)
        for part, shapes in self.groups:
            yield part, [moved(shape, to, scale) for shape in shapes]

    def _map(self, x: float, y: float, w: float, h: float, scale: float) -> PointMap:
        extra_x = w - self.width if self.stretch_x else 0.0
        extra_y = h - self.height if self.stretch_y else 0.0

        def to(px: float, py: float) -> tuple[float, float]:
            return (
                x + px * scale + _shift(px, self.stretch_x, extra_x),
                y + py * scale + _shift(py, self.stretch_y, extra_y),
            )

        return to


def _shift(value: float, zones: Zones | None, extra: float) -> float:
    if zones is None or value < zones[0]:
        return 0.0
    return extra if value > zones[1] else extra / 2


@cache
def piece(name: str) -> Piece:
    """A piece by its file name; ValueError names the file and the element it cannot draw."""
    file = paths.resource("drawings", f"{name}.svg")
    root = ElementTree.parse(file).getroot()
    box = [float(n) for n in root.attrib["viewBox"].split()]
    groups = []
    for group in root:
        if _tag(group) != "g" or "id" not in group.attrib:
            raise ValueError(f"{file.name}: every element stands in a group with an id")
        groups.append((group.attrib["id"], tuple(_shape(item, file.name) for item in group)))
    return Piece(
        name, box[2], box[3], tuple(groups), _zones(root, "data-stretch-x"), _zones(root, "data-stretch-y")
    )


def _zones(root: ElementTree.Element, name: str) -> Zones | None:
    if name not in root.attrib:
        return None
    low, high = (float(n) for n in root.attrib[name].split())
    return low, high


def _tag(item: ElementTree.Element) -> str:
    return item.tag.rpartition("}")[2]


def _style(item: ElementTree.Element) -> tuple[Pen, Tone]:
    words = item.attrib.get("class", "").split()
    pen = next((w for w in words if w in PENS), "fine")
    tone = next((w for w in words if w in TONES and w != "none"), "none")
    return cast(Pen, pen), cast(Tone, tone)


def _shape(item: ElementTree.Element, file: str) -> Shape:
    pen, tone = _style(item)

    def n(name: str) -> float:
        return float(item.attrib.get(name, "0"))

    match _tag(item):
        case "path":
            return path(item.attrib["d"], pen, tone)
        case "line":
            return path(f"M{n('x1')} {n('y1')} L{n('x2')} {n('y2')}", pen, tone)
        case "rect":
            return Rect(n("x"), n("y"), n("width"), n("height"), n("rx"), pen, tone)
        case "circle":
            return Circle(n("cx"), n("cy"), n("r"), pen, tone)
        case "ellipse":
            return Ellipse(n("cx"), n("cy"), n("rx"), n("ry"), pen, tone)
        case "text":
            return Text(n("x"), n("y"), n("font-size"), item.text or "", pen, "ink")
        case other:
            raise ValueError(f"{file}: an element <{other}> this program does not draw")
