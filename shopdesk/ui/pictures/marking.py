"""A picture being turned, cropped and marked, without widgets: what a key or the mouse makes of it.

Points come as shares of what is shown; they are kept as shares of the untouched original.
"""

from dataclasses import replace
from enum import StrEnum

from shopdesk.domain.picture_changes import (
    WHOLE,
    Crop,
    Mark,
    MarkKind,
    PictureChanges,
    Point,
    box_between,
    turned,
)


class Tool(StrEnum):
    """What the next two points make."""

    ARROW = "arrow"
    CIRCLE = "circle"
    CROP = "crop"


STEP, LARGE_STEP = 0.01, 0.05  # of a side, for the arrow keys


class Marking:
    """The changes as they stand; `first` is a point that waits for its second."""

    def __init__(self, changes: PictureChanges) -> None:
        self.changes = changes
        self.kept = changes  # as the shop holds it
        self.tool = Tool.ARROW
        self.cursor: Point = (0.5, 0.5)
        self.first: Point | None = None

    @property
    def changed(self) -> bool:
        return self.changes != self.kept

    def move(self, right: float, down: float) -> None:
        """The cursor of the keyboard, inside the edges."""
        x, y = self.cursor
        self.cursor = (min(1.0, max(0.0, x + right)), min(1.0, max(0.0, y + down)))

    def press(self) -> None:
        """The first point at the cursor, then the second. Problem for what is too small."""
        if self.first is None:
            self.first = self.cursor
        else:
            first, self.first = self.first, None
            self.draw(first, self.cursor)

    def draw(self, first: Point, second: Point) -> None:
        """What the tool makes of two points. Problem for what is too small."""
        one, other = self.original(first), self.original(second)
        if self.tool is Tool.CROP:
            self.changes = replace(self.changes, crop=Crop(*box_between(one, other)))
            self.cursor = (0.5, 0.5)
        else:
            mark = Mark(MarkKind(self.tool.value), one, other)
            self.changes = replace(self.changes, marks=(*self.changes.marks, mark))

    def turn(self, quarters: int) -> None:
        self.first = None
        self.changes = replace(self.changes, quarter_turns=self.changes.quarter_turns + quarters)

    def take_back(self) -> None:
        """The half-drawn mark, else the last one, else the crop."""
        if self.first is not None:
            self.first = None
        elif self.changes.marks:
            self.changes = replace(self.changes, marks=self.changes.marks[:-1])
        else:
            self.changes = replace(self.changes, crop=WHOLE)

    def as_taken(self) -> None:
        """The picture as it came."""
        self.first, self.changes = None, PictureChanges()

    def original(self, shown: Point) -> Point:
        """A point of what is shown, on the untouched original."""
        crop = self.changes.crop
        x, y = turned(shown, 4 - self.changes.quarter_turns)
        return crop.left + x * (crop.right - crop.left), crop.top + y * (crop.bottom - crop.top)
