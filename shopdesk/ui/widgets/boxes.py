"""Boxes that lay widgets out: one under the other, or side by side, with the distances of the look."""

from collections.abc import Sequence
from typing import TypeVar

from PySide6.QtWidgets import QApplication, QBoxLayout, QHBoxLayout, QLayout, QVBoxLayout, QWidget

from shopdesk.ui.look import spacing

Box = TypeVar("Box", bound=QBoxLayout)
STRETCH = "stretch"
Part = QWidget | QLayout | str


def upright(parts: Sequence[Part] = (), *, gap: str = "gap", margin: str = "") -> QVBoxLayout:
    """Parts one under the other; STRETCH takes what room is left. `gap` and `margin` are of `Spacing`."""
    return _filled(QVBoxLayout(), parts, gap, margin)


def level(parts: Sequence[Part] = (), *, gap: str = "small", margin: str = "") -> QHBoxLayout:
    """Parts side by side."""
    return _filled(QHBoxLayout(), parts, gap, margin)


def _filled(box: Box, parts: Sequence[Part], gap: str, margin: str) -> Box:
    sizes = spacing(QApplication.font())
    edge = getattr(sizes, margin) if margin else 0
    box.setSpacing(getattr(sizes, gap))
    box.setContentsMargins(edge, edge, edge, edge)
    for part in parts:
        if isinstance(part, QWidget):
            box.addWidget(part)
        elif isinstance(part, QLayout):
            box.addLayout(part)
        else:
            box.addStretch(1)
    return box


def emptied(box: QLayout) -> None:
    """Takes every widget out of a layout and lets it go."""
    while (item := box.takeAt(0)) is not None:
        widget = item.widget()
        if widget is not None:
            widget.hide()
            widget.deleteLater()
