"""A line chart: readings against time, with a dashed line for what was expected, and marks.

Lines are told apart by their stroke and by a legend, never by colour alone.
"""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QApplication, QSizePolicy, QWidget

from shopdesk.drawing.chart import Chart, Line
from shopdesk.ui.look import Colours, colours_of, letters, spacing

_LETTERS_WIDE, _LINES_HIGH = 46, 15
_EDGE = 0.03  # share of the width at which a word stands beside its mark, not centred on it
_CROWDED = 12  # so many marks get no word each


class LineChart(QWidget):
    """Shows one chart; hidden while there is none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._chart: Chart | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.hide()

    def show_chart(self, chart: Chart | None) -> None:
        self._chart = chart
        self.setVisible(chart is not None)
        self.setAccessibleName(chart.title if chart else "")
        self.setAccessibleDescription(chart.words if chart else "")
        self.update()

    @property
    def chart(self) -> Chart | None:
        return self._chart

    def sizeHint(self) -> QSize:
        metrics = QFontMetricsF(QApplication.font())
        wide, high = metrics.averageCharWidth() * _LETTERS_WIDE, metrics.height() * _LINES_HIGH
        return QSize(round(wide), round(high))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.sizeHint().width() // 2, self.sizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._chart is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint_chart(painter, QRectF(self.rect()), self._chart, colours_of(QApplication.palette()))
        painter.end()


def paint_chart(painter: QPainter, box: QRectF, chart: Chart, colours: Colours) -> None:
    """The whole chart within `box`: title, axes, lines, marks, legend."""
    body = QApplication.font()
    small = letters("small", body)
    line = QFontMetricsF(small).height()
    painter.setFont(letters("strong", body))
    painter.setPen(QColor(colours.text))
    title_high = QFontMetricsF(painter.font()).height()
    painter.drawText(
        QRectF(box.left(), box.top(), box.width(), title_high), Qt.AlignmentFlag.AlignLeft, chart.title
    )
    painter.setFont(small)
    metrics = QFontMetricsF(small)
    left = max(metrics.horizontalAdvance(text) for _, text in chart.up) + line * 0.6
    below = line * (1.3 + chart.legends)
    plot = QRectF(
        box.left() + left, box.top() + title_high + line * 1.3,
        box.width() - left - line * 1.4, box.height() - title_high - line * 1.8 - below - line * 0.6,
    )  # fmt: skip
    _paint_axes(painter, plot, chart, colours, line)
    for number, each in enumerate(chart.lines):
        _paint_line(painter, plot, each, colours)
        at = QPointF(plot.left(), plot.bottom() + line * (2.0 + number))
        _paint_key(painter, at, each.name, _pen(each, colours), colours, line)
    if chart.level is not None:
        at = QPointF(plot.left(), plot.bottom() + line * (2.0 + len(chart.lines)))
        _paint_key(painter, at, chart.level[1], _dotted(colours), colours, line)
    _paint_marks(painter, plot, chart, colours, small)


def _paint_axes(painter: QPainter, plot: QRectF, chart: Chart, colours: Colours, line: float) -> None:
    metrics = QFontMetricsF(painter.font())
    painter.fillRect(plot, QColor(colours.base))
    for at, text in chart.up:
        y = plot.bottom() - at * plot.height()
        painter.setPen(QPen(QColor(colours.line), 1))
        painter.drawLine(QPointF(plot.left(), y), QPointF(plot.right(), y))
        painter.setPen(QColor(colours.muted))
        wide = metrics.horizontalAdvance(text)
        painter.drawText(QPointF(plot.left() - wide - line * 0.35, y + metrics.ascent() * 0.4), text)
    for at, text in chart.across:
        x = plot.left() + at * plot.width()
        painter.setPen(QPen(QColor(colours.line), 1))
        painter.drawLine(QPointF(x, plot.bottom()), QPointF(x, plot.bottom() + line * 0.2))
        painter.setPen(QColor(colours.muted))
        wide = metrics.horizontalAdvance(text)
        painter.drawText(QPointF(x - wide / 2, plot.bottom() + line), text)
    painter.setPen(QColor(colours.muted))
    painter.drawText(QPointF(plot.left(), plot.top() - line * 0.35), chart.up_unit)
    wide = metrics.horizontalAdvance(chart.across_unit)
    painter.drawText(QPointF(plot.right() - wide, plot.bottom() + line * 1.85), chart.across_unit)
    painter.setPen(QPen(QColor(colours.edge), 1.2))
    painter.drawLine(plot.bottomLeft(), plot.topLeft())
    painter.drawLine(plot.bottomLeft(), plot.bottomRight())
    if chart.level is not None:
        y = plot.bottom() - chart.level[0] * plot.height()
        painter.setPen(_dotted(colours))
        painter.drawLine(QPointF(plot.left(), y), QPointF(plot.right(), y))


def _dotted(colours: Colours) -> QPen:
    return QPen(QColor(colours.edge), 1.4, Qt.PenStyle.DotLine)


def _pen(line: Line, colours: Colours) -> QPen:
    if line.style == "dashed":
        pen = QPen(QColor(colours.hold), 1.8)
        pen.setDashPattern([5, 3])
        return pen
    return QPen(QColor(colours.accent), 2.2)


def _paint_line(painter: QPainter, plot: QRectF, line: Line, colours: Colours) -> None:
    painter.setPen(_pen(line, colours))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    spots = [
        QPointF(plot.left() + x * plot.width(), plot.bottom() - y * plot.height()) for x, y in line.spots
    ]
    if len(spots) > 1 and line.style != "points":
        painter.drawPolyline(QPolygonF(spots))
    elif spots:
        for spot in spots:
            painter.drawEllipse(spot, 3, 3)


def _paint_key(painter: QPainter, at: QPointF, name: str, pen: QPen, colours: Colours, high: float) -> None:
    """One line of the legend: a piece of the line, and its name."""
    painter.setPen(pen)
    middle = at.y() + high * 0.62
    painter.drawLine(QPointF(at.x(), middle), QPointF(at.x() + high * 2.2, middle))
    painter.setPen(QColor(colours.text))
    painter.drawText(QPointF(at.x() + high * 2.7, at.y() + high * 0.9), name)


def _paint_marks(painter: QPainter, plot: QRectF, chart: Chart, colours: Colours, small: QFont) -> None:
    painter.setFont(small)
    metrics = QFontMetricsF(small)
    gap = spacing(QApplication.font()).hair
    for x, y, word in chart.marks:
        spot = QPointF(plot.left() + x * plot.width(), plot.bottom() - y * plot.height())
        painter.setPen(QPen(QColor(colours.accent), 1.4))
        painter.setBrush(QColor(colours.base if word != "off" else colours.accent))
        painter.drawEllipse(spot, 3.6, 3.6)
        if word and len(chart.marks) <= _CROWDED:
            painter.setPen(QColor(colours.text))
            below = y < 0.5
            wide = metrics.horizontalAdvance(word)
            drop = metrics.ascent() + gap * 2 if below else -gap * 2
            aside = wide * (0 if x < _EDGE else 1 if x > 1 - _EDGE else 0.5)
            painter.drawText(QPointF(spot.x() - aside + (gap if x < _EDGE else 0), spot.y() + drop), word)
