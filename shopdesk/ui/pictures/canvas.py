"""One picture, large, with its marks, and the cross of the keyboard while it is marked."""

from collections.abc import Callable

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
    QTransform,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from shopdesk.domain.picture_changes import BARB, STROKE, Mark, MarkKind, Point, arrow_lines, box_between
from shopdesk.ui.look import colours_of
from shopdesk.ui.pictures.marking import LARGE_STEP, STEP, Marking, Tool

INK, CASING = QColor(200, 16, 46), QColor(255, 255, 255)  # as on the kept copy, whatever the look


class PictureCanvas(QWidget):
    """`meant` carries a point pair the mouse drew, or None for a press at the cross; `keyed` other keys."""

    drawn = Signal(object, object)  # Point, Point
    pressed = Signal()
    moved = Signal(float, float)

    def __init__(self, marking_of: Callable[[], Marking | None], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._marking_of = marking_of
        self._picture = QPixmap()
        self._from: Point | None = None  # where the mouse went down
        self._to: Point | None = None
        self.may_mark = True
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(200, 150)

    def show_picture(self, data: bytes) -> None:
        """The untouched original."""
        self._picture = QPixmap()
        self._picture.loadFromData(data)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(800, 600)

    # Keys and mouse

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = LARGE_STEP if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else STEP
        ways = {
            Qt.Key.Key_Left: (-step, 0.0), Qt.Key.Key_Right: (step, 0.0),
            Qt.Key.Key_Up: (0.0, -step), Qt.Key.Key_Down: (0.0, step),
        }  # fmt: skip
        way = ways.get(Qt.Key(event.key()))
        if way is not None and self.may_mark:
            self.moved.emit(*way)
        elif event.key() == Qt.Key.Key_Space and self.may_mark:
            self.pressed.emit()
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        if self.may_mark:
            self._from = self._to = self._point(event.position())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._from is not None:
            self._to = self._point(event.position())
            self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._from is not None:
            first, self._from, self._to = self._from, None, None
            self.drawn.emit(first, self._point(event.position()))
            self.update()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        marking = self._marking_of()
        painter = QPainter(self)
        colours = colours_of(self.palette())
        painter.fillRect(self.rect(), QColor(colours.base))
        if marking is None or self._picture.isNull():
            painter.end()
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        self._paint_picture(painter, marking)
        self._paint_under_way(painter, marking)
        if self.hasFocus():
            painter.setPen(QPen(QColor(colours.focus), 3))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.rect().adjusted(1, 1, -2, -2))
        painter.end()

    def _paint_picture(self, painter: QPainter, marking: Marking) -> None:
        """The part that is kept, turned, with its marks."""
        crop, shown = marking.changes.crop, self._shown(marking)
        wide, high = float(self._picture.width()), float(self._picture.height())
        source = QRectF(crop.left * wide, crop.top * high, (crop.right - crop.left) * wide,
                        (crop.bottom - crop.top) * high)  # fmt: skip
        painter.save()
        painter.setClipRect(shown)
        painter.setTransform(self._onto(marking, source, shown), True)
        painter.drawPixmap(QPointF(0, 0), self._picture)
        for mark in marking.changes.marks:
            self._paint_mark(painter, mark, wide, high)
        painter.restore()

    def _onto(self, marking: Marking, source: QRectF, shown: QRectF) -> QTransform:
        """From the original's pixels onto the widget."""
        quarters = marking.changes.quarter_turns
        across = source.height() if quarters % 2 else source.width()
        scale = shown.width() / across
        onto = QTransform()
        onto.translate(shown.center().x(), shown.center().y())
        onto.rotate(90.0 * quarters)
        onto.scale(scale, scale)
        onto.translate(-source.center().x(), -source.center().y())
        return onto

    def _paint_mark(self, painter: QPainter, mark: Mark, wide: float, high: float) -> None:
        first, second = (
            (mark.first[0] * wide, mark.first[1] * high),
            (mark.second[0] * wide, mark.second[1] * high),
        )
        edge = max(wide, high)
        stroke = max(2.0, edge * STROKE)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for colour, thick in ((CASING, stroke * 2), (INK, stroke)):
            painter.setPen(QPen(colour, thick, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
            if mark.kind is MarkKind.CIRCLE:
                left, top, right, bottom = box_between(first, second)
                painter.drawEllipse(QRectF(left, top, right - left, bottom - top))
            else:
                for one, other in arrow_lines(first, second, edge * BARB):
                    painter.drawLine(QPointF(*one), QPointF(*other))

    def _paint_under_way(self, painter: QPainter, marking: Marking) -> None:
        """What is half drawn, and the cross of the keyboard."""
        first, second = (self._from, self._to) if self._from else (marking.first, marking.cursor)
        if first is not None and second is not None:
            one, other = self._place(marking, first), self._place(marking, second)
            for colour, thick in ((CASING, 5), (INK, 2)):
                painter.setPen(QPen(colour, thick, Qt.PenStyle.DashLine))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                if marking.tool is Tool.ARROW:
                    painter.drawLine(QLineF(one, other))
                elif marking.tool is Tool.CIRCLE:
                    painter.drawEllipse(QRectF(one, other).normalized())
                else:
                    painter.drawRect(QRectF(one, other).normalized())
        if self.hasFocus() and self.may_mark and self._from is None:
            at = self._place(marking, marking.cursor)
            for colour, thick in ((CASING, 5), (INK, 2)):
                painter.setPen(QPen(colour, thick))
                painter.drawLine(QLineF(at.x() - 14, at.y(), at.x() + 14, at.y()))
                painter.drawLine(QLineF(at.x(), at.y() - 14, at.x(), at.y() + 14))

    # Places

    def _shown(self, marking: Marking) -> QRectF:
        """Where the picture stands in the widget, as large as fits."""
        crop = marking.changes.crop
        wide = self._picture.width() * (crop.right - crop.left)
        high = self._picture.height() * (crop.bottom - crop.top)
        if marking.changes.quarter_turns % 2:
            wide, high = high, wide
        scale = min((self.width() - 8) / max(1.0, wide), (self.height() - 8) / max(1.0, high))
        wide, high = wide * scale, high * scale
        return QRectF((self.width() - wide) / 2, (self.height() - high) / 2, wide, high)

    def _point(self, at: QPointF) -> Point:
        """A place of the widget as shares of what is shown, inside its edges."""
        marking = self._marking_of()
        if marking is None or self._picture.isNull():
            return 0.5, 0.5
        shown = self._shown(marking)
        x = (at.x() - shown.left()) / max(1.0, shown.width())
        y = (at.y() - shown.top()) / max(1.0, shown.height())
        return min(1.0, max(0.0, x)), min(1.0, max(0.0, y))

    def _place(self, marking: Marking, point: Point) -> QPointF:
        shown = self._shown(marking)
        return QPointF(shown.left() + point[0] * shown.width(), shown.top() + point[1] * shown.height())
