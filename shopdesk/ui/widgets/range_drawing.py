"""The drawing of the range as a widget: parts answer to the mouse, the keys and a screen reader.

Arrows and Tab move between parts, Enter tells which one is meant. `part_list` has the same
drawing as a list, for those who do not see it. Knows drawings and looks; no records.
"""

from collections.abc import Iterable
from functools import lru_cache
from math import hypot

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QColor,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from shopdesk.drawing import Drawing, Hits, Pin, hits, stand_in
from shopdesk.ui.look import colours_of
from shopdesk.ui.widgets.range_painting import (
    least_pin,
    origin_in,
    paint_drawing,
    qt_path,
    readable_pins,
    scale_to,
)
from shopdesk.wording import say

VIEW_NAMES = {
    "front": "Front of the range",
    "top": "Top of the range",
    "left": "Left side of the range",
    "right": "Right side of the range",
    "back": "Back of the range",
    "under-top": "Under the cooktop",
    "oven": "Inside the oven",
    "broiler": "The broiler",
}
SEVERITY_WORDS = {"none": "nothing wrong", "minor": "minor", "serious": "serious", "grave": "grave"}
_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


class RangeDrawing(QWidget):
    """Shows one drawing with pins. `partActivated` tells the part a person chose."""

    partActivated = Signal(str)
    partFocused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._drawing: Drawing | None = None
        self._pins: tuple[Pin, ...] = ()
        self._hits: Hits | None = None
        self._order: list[str] = []
        self._anchors: dict[str, tuple[float, float]] = {}
        self._current = ""
        self._hovered = ""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    # What is shown

    def setDrawing(self, drawing: Drawing) -> None:
        """Show a drawing; the focused part stays when the new view has it too."""
        self._drawing = drawing
        self._hits = hits(drawing)
        self._anchors = _anchors(drawing)
        self._order = sorted(self._anchors, key=self._reading_place)
        self._hovered = ""
        if self._current not in self._anchors:
            self._current = ""
        self.setPins(())
        self.setAccessibleName(say(VIEW_NAMES[drawing.view]))
        self.updateGeometry()

    def _reading_place(self, part: str) -> tuple[int, float]:
        x, y = self._anchors[part]
        return round(y / 60), x

    def setPins(self, pins: Iterable[Pin]) -> None:
        """Show pins; what they say is read out with the part they stand on."""
        self._pins = tuple(pins)
        self._tell()
        self.update()

    @property
    def drawing(self) -> Drawing | None:
        return self._drawing

    def parts(self) -> list[str]:
        """Part ids in the order of reading: from above, from the left."""
        return list(self._order)

    def currentPart(self) -> str:
        return self._current

    def setCurrentPart(self, part: str) -> None:
        """Put the mark on a part; unknown ones are passed over."""
        if part not in self._anchors or part == self._current:
            return
        self._current = part
        self._tell()
        self.update()
        self.partFocused.emit(part)

    def words(self, part: str) -> str:
        """A part in words: its name and the pins that stand on it with their severity."""
        drawn = self._drawing.part(part) if self._drawing else None
        if drawn is None or self._drawing is None:
            return ""
        pins = [p for p in self._pins if stand_in(self._drawing, p.part) == part]
        marks = [f"{p.number} {say(SEVERITY_WORDS.get(p.severity, p.severity))}" for p in pins]
        return f"{drawn.name}: {', '.join(marks)}" if marks else drawn.name

    def sizeHint(self) -> QSize:
        if self._drawing is None:
            return QSize(480, 480)
        return QSize(round(self._drawing.width * 0.6), round(self._drawing.height * 0.6))

    def minimumSizeHint(self) -> QSize:
        return QSize(160, 140)

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._drawing is None:
            return
        painter = QPainter(self)
        colours = colours_of(self.palette())
        paint_drawing(painter, self._area(), self._drawing, self._pins, colours, self._least_pin())
        if self._hovered and self._hovered != self._current:
            self._mark(painter, self._hovered, 1.5, Qt.PenStyle.SolidLine)
        if self._current and self.hasFocus():
            self._mark(painter, self._current, 3.0, Qt.PenStyle.SolidLine)
        elif self._current:
            self._mark(painter, self._current, 1.5, Qt.PenStyle.DashLine)
        painter.end()

    def _mark(self, painter: QPainter, part: str, width: float, style: Qt.PenStyle) -> None:
        """An outline in the focus colour round a part, over a clear rim."""
        drawn = self._drawing.part(part) if self._drawing else None
        if drawn is None or self._drawing is None:
            return
        scale = scale_to(self._area(), self._drawing)
        colours = colours_of(self.palette())
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.translate(origin_in(self._area(), self._drawing))
        painter.scale(scale, scale)
        shapes = [s for s in drawn.shapes if s.tone != "none"] or list(drawn.shapes)
        for colour, extra in ((colours.window, 2.5), (colours.focus, 0.0)):
            painter.setPen(QPen(QColor(colour), (width + extra) / scale, style))
            for shape in shapes:
                painter.drawPath(qt_path(shape))
        painter.restore()
        if width > 2:
            self._paint_name(painter, part)

    def _paint_name(self, painter: QPainter, part: str) -> None:
        """The focused part's words at the foot of the drawing."""
        painter.setPen(QColor(colours_of(self.palette()).text))
        box = QRectF(self.rect()).adjusted(4, 0, -4, -2)
        flags = Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignHCenter
        words = painter.fontMetrics().elidedText(
            self.words(part), Qt.TextElideMode.ElideRight, int(box.width())
        )
        painter.drawText(box, flags, words)

    def _area(self) -> QRectF:
        foot = self.fontMetrics().height() + 4
        return QRectF(self.rect()).adjusted(4, 4, -4, -foot)

    def _least_pin(self) -> float:
        return least_pin(self.fontMetrics().height())

    def pointOf(self, part: str) -> QPointF:
        """Where a part lies in the widget, in pixels."""
        assert self._drawing is not None
        x, y = self._anchors[part]
        scale, origin = scale_to(self._area(), self._drawing), origin_in(self._area(), self._drawing)
        return QPointF(origin.x() + x * scale, origin.y() + y * scale)

    def partAt(self, point: QPointF) -> str:
        """The part under a point of the widget, a pin's part before the part below it; else ""."""
        if self._drawing is None or self._hits is None:
            return ""
        scale, origin = scale_to(self._area(), self._drawing), origin_in(self._area(), self._drawing)
        x, y = (point.x() - origin.x()) / scale, (point.y() - origin.y()) / scale
        pins, half = readable_pins(self._drawing, self._pins, scale, self._least_pin())
        for pin in pins:
            if hypot(pin.x - x, pin.y - y) <= half and pin.part:
                return pin.part
        return self._hits.part_at(x, y) or ""

    # Mouse and keys

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        hovered = self.partAt(event.position())
        if hovered != self._hovered:
            self._hovered = hovered
            shape = Qt.CursorShape.PointingHandCursor if hovered else Qt.CursorShape.ArrowCursor
            self.setCursor(shape)
            self.update()

    def leaveEvent(self, event: QEvent) -> None:
        self._hovered = ""
        self.update()

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip and self._hovered:
            QToolTip.showText(self.cursor().pos(), self.words(self._hovered), self)
            return True
        return super().event(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() != Qt.MouseButton.LeftButton:
            super().mousePressEvent(event)
            return
        part = self.partAt(event.position())
        if part and self._drawing is not None:
            self.setCurrentPart(stand_in(self._drawing, part) or "")
            self.partActivated.emit(part)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in _ARROWS:
            self.setCurrentPart(self._toward(*_ARROWS[key]))
        elif key == Qt.Key.Key_Home and self._order:
            self.setCurrentPart(self._order[0])
        elif key == Qt.Key.Key_End and self._order:
            self.setCurrentPart(self._order[-1])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space) and self._current:
            self.partActivated.emit(self._current)
        else:
            super().keyPressEvent(event)

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Tab goes through the parts and leaves the drawing after the last (before the first)."""
        if not self._order:
            return super().focusNextPrevChild(forward)
        before = -1 if forward else len(self._order)
        at = self._order.index(self._current) if self._current else before
        at += 1 if forward else -1
        if 0 <= at < len(self._order):
            self.setCurrentPart(self._order[at])
            return True
        return super().focusNextPrevChild(forward)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if not self._current and self._order:
            last = event.reason() == Qt.FocusReason.BacktabFocusReason
            self.setCurrentPart(self._order[-1 if last else 0])

    def _toward(self, dx: int, dy: int) -> str:
        """The part that lies nearest in a direction; the present one when there is none."""
        if not self._current:
            return self._order[0] if self._order else ""
        x, y = self._anchors[self._current]
        best, least = self._current, float("inf")
        for part, (px, py) in self._anchors.items():
            along = (px - x) * dx + (py - y) * dy
            across = abs((px - x) * dy) + abs((py - y) * dx)
            if part != self._current and along > 2 and along + 2.5 * across < least:
                best, least = part, along + 2.5 * across
        return best

    def _tell(self) -> None:
        """Say the present part to a screen reader."""
        self.setAccessibleDescription(self.words(self._current))
        if QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.DescriptionChanged))


@lru_cache(maxsize=64)
def _anchors(drawing: Drawing) -> dict[str, tuple[float, float]]:
    """Where the parts of a drawing lie; kept, because looking for it takes a while."""
    found = hits(drawing)
    return {part.id: found.anchor(part) for part in drawing.parts}
