"""Rows drawn under each other, gone through by key and opened; what a row looks like is others' affair.

A row says everything in words too, so nothing is told by the drawing alone.
"""

from collections.abc import Sequence
from typing import Generic, Protocol, TypeVar

from PySide6.QtCore import QPoint, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QColor,
    QFocusEvent,
    QFont,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QScrollArea, QSizePolicy, QWidget

from shopdesk.ui.look import colours_of
from shopdesk.wording import say

WRAPPED = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft


class Spoken(Protocol):
    """What a row says of itself."""

    def spoken(self) -> str: ...


Row = TypeVar("Row", bound=Spoken)


class DrawnRows(QWidget, Generic[Row]):
    """As high as its rows need at its width. `opened` carries the place of a row."""

    opened = Signal(int)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name = name
        self.rows: tuple[Row, ...] = ()
        self.current = 0
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(name)
        self.setToolTip(say("Enter or a click shows where a figure comes from"))

    # What a kind of rows says

    def row_height(self, row: Row, width: int) -> int:
        raise TypeError(f"{type(self).__name__} leaves this to nobody")

    def paint_row(self, painter: QPainter, row: Row, top: float) -> None:
        raise TypeError(f"{type(self).__name__} leaves this to nobody")

    # Using

    def show_rows(self, rows: Sequence[Row]) -> None:
        self.rows = tuple(rows)
        self.current = min(self.current, max(0, len(self.rows) - 1))
        self.setAccessibleDescription(" ".join(row.spoken() for row in self.rows))
        self._claim_height()
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        key = Qt.Key(event.key())
        if key in steps and 0 <= self.current + steps[key] < len(self.rows):
            self._go(self.current + steps[key])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space) and self.rows:
            self.opened.emit(self.current)
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        place = self._row_at(event.position().y())
        if place is not None:
            self._go(place)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._row_at(event.position().y()) == self.current and self.rows:
            self.opened.emit(self.current)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._claim_height()

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return sum(self.row_height(row, width) for row in self.rows)

    def sizeHint(self) -> QSize:
        return QSize(240, self.heightForWidth(max(self.width(), 240)))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        top = 0.0
        for place, row in enumerate(self.rows):
            self.paint_row(painter, row, top)
            height = self.row_height(row, self.width())
            if self.hasFocus() and place == self.current:
                painter.setPen(QPen(QColor(colours_of(self.palette()).focus), 2))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(QRectF(1, top + 1, self.width() - 2, height - 2))
            top += height
        painter.end()

    # Inside

    def _go(self, place: int) -> None:
        self.current = place
        self._keep_in_sight()
        self.setAccessibleDescription(self.rows[place].spoken())
        QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.DescriptionChanged))
        self.update()

    def _keep_in_sight(self) -> None:
        """Scrolls what these rows stand in so that the current one is seen whole where it fits."""
        area = self.parentWidget()
        while area is not None and not isinstance(area, QScrollArea):
            area = area.parentWidget()
        inside = area.widget() if area is not None else None
        if area is None or inside is None:
            return
        above = sum(self.row_height(row, self.width()) for row in self.rows[: self.current])
        height = self.row_height(self.rows[self.current], self.width())
        top = self.mapTo(inside, QPoint(0, above))
        for y in (top.y() + height, top.y()):
            area.ensureVisible(0, y, 0, 0)

    def _row_at(self, y: float) -> int | None:
        top = 0.0
        for place, row in enumerate(self.rows):
            top += self.row_height(row, self.width())
            if y < top:
                return place
        return None

    def _claim_height(self) -> None:
        """Nested layouts forget the height that goes with a width; a least height they honour."""
        needed = self.heightForWidth(self.width())
        if needed != self.minimumHeight():
            self.setMinimumHeight(needed)


def text_box(font: QFont, widget: QWidget, room: float, text: str) -> QRectF:
    """The box a text takes when it wraps in this room."""
    return QFontMetricsF(font, widget).boundingRect(QRectF(0, 0, max(40.0, room), 4000), int(WRAPPED), text)
