"""The drawing of the range beside the walk: it turns to the open checkpoint and carries the pins."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from shopdesk.domain.build import Build
from shopdesk.domain.condition import Found
from shopdesk.drawing import PART_IDS, View, compose, find, place_pins, stand_in, views
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.fields import ChoiceField
from shopdesk.ui.widgets.range_drawing import VIEW_NAMES, RangeDrawing
from shopdesk.wording import say

Pinned = tuple[tuple[int, str, str], ...]


def pinned(found: Sequence[Found]) -> Pinned:
    """What pins say: number in the order of the walk, part, severity."""
    return tuple(
        (number, f.checkpoint.part, f.severity.value)
        for number, f in enumerate(found, 1)
        if f.checkpoint.part
    )


class PinnedDrawing(QWidget):
    """`partChosen` tells the part a person went to."""

    partChosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._build = Build()
        self._pinned: Pinned = ()
        self._shown: tuple[View, Pinned] | None = None
        self.view_choice = ChoiceField()
        self.view_choice.setAccessibleName(say("View of the range"))
        self.view_choice.edited.connect(self._show)
        self.drawing = RangeDrawing()
        self.drawing.partActivated.connect(self.partChosen)
        box = upright([self.drawing, self.view_choice], gap="hair")
        box.setStretchFactor(self.drawing, 1)
        self.setLayout(box)

    @property
    def view(self) -> View:
        view: View = self.view_choice.value()
        return view

    def show_range(self, build: Build) -> None:
        """Another range, or another build of it."""
        self._build, self._shown = build, None
        self.view_choice.setChoices([(view, say(VIEW_NAMES[view])) for view in views(build)])
        self._show()

    def show_found(self, found: Sequence[Found]) -> None:
        self._pinned = pinned(found)
        self._show()

    def turn_to(self, part: str) -> None:
        """The view in which a part is seen best, with the part marked."""
        if part in PART_IDS and part != "room" and not self.drawing.hasFocus():
            best = find(part)
            if best in views(self._build):
                self.view_choice.setValue(best)
                self._show()
        if self.drawing.drawing is not None:
            self.drawing.setCurrentPart(stand_in(self.drawing.drawing, part) or "")

    def next_view(self) -> None:
        """The view after this one, round and round."""
        self.view_choice.setCurrentIndex((self.view_choice.currentIndex() + 1) % self.view_choice.count())
        self._show()

    def _show(self) -> None:
        drawing = compose(self._build, self.view)
        if drawing is not self.drawing.drawing:
            self.drawing.setDrawing(drawing)
            self._shown = None
        if self._shown != (self.view, self._pinned):
            self._shown = (self.view, self._pinned)
            hidden = self.view == "front"
            self.drawing.setPins(place_pins(drawing, self._pinned, hidden_too=hidden))
