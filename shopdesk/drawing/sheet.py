"""The sheet a view is drawn on: collects shapes by part and hands out the finished drawing."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from shopdesk.drawing.names import part_name
from shopdesk.drawing.pieces import piece
from shopdesk.drawing.shapes import Bounds, Shape, bounds

View = Literal["front", "top", "left", "right", "back", "under-top", "oven", "broiler"]


@dataclass(frozen=True, slots=True)
class DrawnPart:
    """What one part looks like in one view; painted in the order of the drawing's parts."""

    id: str
    name: str
    shapes: tuple[Shape, ...]
    bounds: Bounds


@dataclass(frozen=True, slots=True)
class Drawing:
    """A range seen from one side, in a box of `width` by `height` drawing units (at most 1000)."""

    view: View
    width: float
    height: float
    parts: tuple[DrawnPart, ...]

    def part(self, part: str) -> DrawnPart | None:
        return next((p for p in self.parts if p.id == part), None)


_UPPERMOST = ("oven-window", "handles", "badge")


class Sheet:
    """Shapes by part, in the order in which the parts first appear, handles over all doors."""

    def __init__(self, view: View, width: float, height: float) -> None:
        self.view = view
        self.width = width
        self.height = height
        self._shapes: dict[str, list[Shape]] = {}

    def add(self, part: str, *shapes: Shape) -> None:
        self._shapes.setdefault(part, []).extend(shapes)

    def items(self) -> Iterator[tuple[str, list[Shape]]]:
        yield from self._shapes.items()

    def place(
        self,
        name: str,
        x: float,
        y: float,
        width: float | None = None,
        height: float | None = None,
        rename: Mapping[str, str] | None = None,
    ) -> None:
        """Set a piece with its upper left corner at (x, y); `rename` gives its groups other parts."""
        for part, shapes in piece(name).placed(x, y, width, height):
            self.add((rename or {}).get(part, part), *shapes)

    def centre(
        self, name: str, x: float, y: float, width: float, rename: Mapping[str, str] | None = None
    ) -> None:
        """Set an unstretched piece of `width` with its middle at (x, y)."""
        source = piece(name)
        high = source.height * width / source.width
        self.place(name, x - width / 2, y - high / 2, width, rename=rename)

    def drawing(self) -> Drawing:
        order = sorted(self._shapes, key=lambda part: part in _UPPERMOST)
        parts = tuple(
            DrawnPart(part, part_name(part), tuple(self._shapes[part]), bounds(self._shapes[part]))
            for part in order
        )
        return Drawing(self.view, self.width, self.height, parts)
