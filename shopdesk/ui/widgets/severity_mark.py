"""How grave a finding is, told by shape and word; the colour only supports them."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPalette, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from shopdesk.ui.look import colours_of, spacing
from shopdesk.wording import say


def severity_word(severity: str) -> str:
    """The word of a severity: none, minor, serious, grave."""
    words = {
        "none": say("nothing wrong"),
        "minor": say("minor"),
        "serious": say("serious"),
        "grave": say("grave"),
    }
    return words[severity]


def paint_severity(painter: QPainter, rect: QRectF, severity: str, palette: QPalette) -> None:
    """The shape in a rectangle, for delegates: ring (none), circle (minor), square (serious), diamond."""
    colours = colours_of(palette)
    side = min(rect.width(), rect.height()) * 0.72
    box = QRectF(0, 0, side, side)
    box.moveCenter(rect.center())
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(QColor(colours.text), max(1.2, side / 10)))
    if severity == "none":
        painter.setPen(QPen(QColor(colours.muted), max(1.0, side / 12), Qt.PenStyle.DotLine))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(box)
    elif severity == "minor":
        painter.setBrush(QColor(colours.minor))
        painter.drawEllipse(box)
    elif severity == "serious":
        painter.setBrush(QColor(colours.serious))
        painter.drawRect(box)
    else:
        painter.setBrush(QColor(colours.grave))
        painter.drawPolygon(_diamond(box.adjusted(-side * 0.12, -side * 0.12, side * 0.12, side * 0.12)))
    painter.restore()


def _diamond(box: QRectF) -> QPolygonF:
    middle = box.center()
    return QPolygonF(
        [
            QPointF(middle.x(), box.top()),
            QPointF(box.right(), middle.y()),
            QPointF(middle.x(), box.bottom()),
            QPointF(box.left(), middle.y()),
        ]
    )


class SeverityMark(QWidget):
    """Shape and word side by side."""

    def __init__(self, severity: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self._severity = severity
        self.setSeverity(severity)

    def setSeverity(self, severity: str) -> None:
        self.setAccessibleName(severity_word(severity))
        self._severity = severity
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        sizes = spacing(self.font())
        word = self.fontMetrics().horizontalAdvance(severity_word(self._severity))
        return QSize(sizes.icon + sizes.small + word, max(sizes.icon, self.fontMetrics().height()))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        sizes = spacing(self.font())
        painter = QPainter(self)
        paint_severity(painter, QRectF(0, 0, sizes.icon, self.height()), self._severity, self.palette())
        painter.setPen(self.palette().color(QPalette.ColorRole.WindowText))
        painter.drawText(
            self.rect().adjusted(sizes.icon + sizes.small, 0, 0, 0),
            Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft,
            severity_word(self._severity),
        )
        painter.end()
