"""A chart of bars in the window: told apart by fill and legend, as high as it needs, never by colour alone.

A press on a group says which; the list beside it is the way by keyboard, so the chart takes no focus.
"""

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QApplication, QSizePolicy, QWidget

from shopdesk.drawing.bars import Bar, Bars, Fill
from shopdesk.ui.look import Colours, colours_of, letters

_LINES_HIGH = 13  # of a chart with standing bars
_NAMES = 0.34  # of the width, at most, for the names of lying bars
_BRUSHES = {
    "hatched": Qt.BrushStyle.BDiagPattern,
    "crossed": Qt.BrushStyle.DiagCrossPattern,
}


class BarChart(QWidget):
    """Shows one chart; hidden while there is none."""

    pressed = Signal(object)  # key of the group

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._bars: Bars | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.hide()

    def show_bars(self, bars: Bars | None) -> None:
        self._bars = bars if bars is not None and bars.groups else None
        self.setVisible(self._bars is not None)
        self.setAccessibleName(bars.title if bars else "")
        self.setAccessibleDescription(bars.words if bars else "")
        self.updateGeometry()
        self.update()

    @property
    def bars(self) -> Bars | None:
        return self._bars

    def sizeHint(self) -> QSize:
        metrics = QFontMetricsF(letters("small", QApplication.font()))
        line = metrics.height()
        if self._bars is None or self._bars.upright:
            return QSize(round(metrics.averageCharWidth() * 60), round(line * _LINES_HIGH))
        bars = sum(len(group.bars) for group in self._bars.groups)
        gaps = len(self._bars.groups) * line * 0.4
        return QSize(round(metrics.averageCharWidth() * 60), round(line * (bars + self._frame()) + gaps))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.sizeHint().width() // 3, self.sizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._bars is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        _Painting(painter, self._bars, colours_of(QApplication.palette())).paint(
            QRectF(self.rect()), self._plot()
        )
        painter.end()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        bars = self._bars
        plot = self._plot()
        if bars is None or not plot.height():
            return
        spot = event.position()
        along = (
            (spot.x() - plot.left()) / plot.width()
            if bars.upright
            else (spot.y() - plot.top()) / plot.height()
        )
        if 0 <= along < 1:
            self.pressed.emit(bars.groups[int(along * len(bars.groups))].key)

    def _frame(self) -> float:
        """Lines that title, scale and legend take."""
        return 3.0 + (1.3 if self._bars is not None and len(self._bars.legend) > 1 else 0.0)

    def _plot(self) -> QRectF:
        """Where the bars lie, within scale, names and legend."""
        bars = self._bars
        if bars is None:
            return QRectF()
        metrics = QFontMetricsF(letters("small", QApplication.font()))
        line = metrics.height()
        texts = [text for _, text in bars.scale] if bars.upright else [group.name for group in bars.groups]
        left = max((metrics.horizontalAdvance(text) for text in texts), default=0.0) + line * 0.5
        left = min(left, self.width() * _NAMES)
        words = [bar.words for group in bars.groups for bar in group.bars]
        right = (
            line * 0.5
            if bars.upright
            else max((metrics.horizontalAdvance(w) for w in words), default=0.0) + line
        )
        below = line * (self._frame() - 1.5)
        return QRectF(
            left,
            line * 1.6,
            max(20.0, self.width() - left - right),
            max(20.0, self.height() - line * 1.6 - below),
        )


class _Painting:
    """One painting of a chart: where its plot lies, and in which colours."""

    def __init__(self, painter: QPainter, bars: Bars, colours: Colours) -> None:
        self.painter, self.bars, self.colours = painter, bars, colours
        self.small: QFont = letters("small", QApplication.font())
        self.metrics = QFontMetricsF(self.small)
        self.line = self.metrics.height()

    def paint(self, box: QRectF, plot: QRectF) -> None:
        painter = self.painter
        painter.setFont(letters("strong", QApplication.font()))
        painter.setPen(QColor(self.colours.text))
        painter.drawText(QPointF(box.left(), box.top() + painter.fontMetrics().ascent()), self.bars.title)
        painter.setFont(self.small)
        self._scale(plot)
        for place, group in enumerate(self.bars.groups):
            slot = self._slot(plot, place)
            self._name(plot, slot, group.name)
            for number, bar in enumerate(group.bars):
                self._bar(plot, self._lane(slot, number, len(group.bars)), bar)
        self._zero(plot)
        self._legend(plot)

    def _scale(self, plot: QRectF) -> None:
        painter = self.painter
        painter.fillRect(plot, QColor(self.colours.base))
        last_right = -1e9
        for at, text in self.bars.scale:
            painter.setPen(QPen(QColor(self.colours.line), 1))
            wide = self.metrics.horizontalAdvance(text)
            if self.bars.upright:
                y = plot.bottom() - at * plot.height()
                painter.drawLine(QPointF(plot.left(), y), QPointF(plot.right(), y))
                painter.setPen(QColor(self.colours.muted))
                painter.drawText(
                    QPointF(plot.left() - wide - self.line * 0.3, y + self.metrics.ascent() * 0.4), text
                )
                continue
            x = plot.left() + at * plot.width()
            painter.drawLine(QPointF(x, plot.top()), QPointF(x, plot.bottom()))
            if (
                x - wide / 2 > last_right + self.line * 0.4
            ):  # words that would run into each other are left out
                painter.setPen(QColor(self.colours.muted))
                painter.drawText(QPointF(x - wide / 2, plot.bottom() + self.line), text)
                last_right = x + wide / 2

    def _slot(self, plot: QRectF, place: int) -> QRectF:
        count = len(self.bars.groups)
        if self.bars.upright:
            each = plot.width() / count
            return QRectF(plot.left() + (place + 0.1) * each, plot.top(), each * 0.8, plot.height())
        each = plot.height() / count
        return QRectF(plot.left(), plot.top() + (place + 0.12) * each, plot.width(), each * 0.76)

    def _lane(self, slot: QRectF, number: int, count: int) -> QRectF:
        if self.bars.upright:
            each = slot.width() / count
            return QRectF(slot.left() + number * each, slot.top(), each * 0.9, slot.height())
        each = slot.height() / count
        return QRectF(slot.left(), slot.top() + number * each, slot.width(), each * 0.88)

    def _name(self, plot: QRectF, slot: QRectF, name: str) -> None:
        self.painter.setPen(QColor(self.colours.text))
        if self.bars.upright:
            text = self.metrics.elidedText(name, Qt.TextElideMode.ElideRight, slot.width() * 1.24)
            wide = self.metrics.horizontalAdvance(text)
            self.painter.drawText(QPointF(slot.center().x() - wide / 2, plot.bottom() + self.line), text)
            return
        room = plot.left() - self.line * 0.4
        text = self.metrics.elidedText(name, Qt.TextElideMode.ElideRight, room)
        wide = self.metrics.horizontalAdvance(text)
        self.painter.drawText(QPointF(room - wide, slot.center().y() + self.metrics.ascent() * 0.4), text)

    def _bar(self, plot: QRectF, lane: QRectF, bar: Bar) -> None:
        if self.bars.upright:
            top = plot.bottom() - bar.end * plot.height()
            rect = QRectF(lane.left(), top, lane.width(), (bar.end - bar.begin) * plot.height())
        else:
            left = plot.left() + bar.begin * plot.width()
            rect = QRectF(left, lane.top(), (bar.end - bar.begin) * plot.width(), lane.height())
        self._fill(rect, bar.fill)
        if bar.span is not None:
            self._whisker(plot, lane, bar.span)
        if not self.bars.upright:
            reach = max(bar.end, bar.span[1] if bar.span else 0.0)
            self.painter.setPen(QColor(self.colours.text))
            at = QPointF(
                plot.left() + reach * plot.width() + self.line * 0.3,
                lane.center().y() + self.metrics.ascent() * 0.4,
            )
            self.painter.drawText(at, bar.words)

    def _fill(self, rect: QRectF, fill: Fill) -> None:
        painter = self.painter
        painter.setPen(QPen(QColor(self.colours.text), 1))
        painter.setBrush(QColor(self.colours.accent if fill == "solid" else self.colours.base))
        painter.drawRect(rect)
        if fill in _BRUSHES:
            painter.setBrush(QBrush(QColor(self.colours.text), _BRUSHES[fill]))
            painter.drawRect(rect)

    def _whisker(self, plot: QRectF, lane: QRectF, span: tuple[float, float]) -> None:
        self.painter.setPen(QPen(QColor(self.colours.hold), 2))
        if self.bars.upright:
            x = lane.center().x()
            ends = [plot.bottom() - at * plot.height() for at in span]
            lines = [QLineF(x, ends[0], x, ends[1]), *(QLineF(x - 3, end, x + 3, end) for end in ends)]
        else:
            y = lane.center().y()
            ends = [plot.left() + at * plot.width() for at in span]
            lines = [QLineF(ends[0], y, ends[1], y), *(QLineF(end, y - 3, end, y + 3) for end in ends)]
        self.painter.drawLines(lines)

    def _zero(self, plot: QRectF) -> None:
        self.painter.setPen(QPen(QColor(self.colours.edge), 1.6))
        if self.bars.upright:
            y = plot.bottom() - self.bars.zero * plot.height()
            self.painter.drawLine(QPointF(plot.left(), y), QPointF(plot.right(), y))
        else:
            x = plot.left() + self.bars.zero * plot.width()
            self.painter.drawLine(QPointF(x, plot.top()), QPointF(x, plot.bottom()))

    def _legend(self, plot: QRectF) -> None:
        self.painter.setPen(QColor(self.colours.muted))
        wide = self.metrics.horizontalAdvance(self.bars.unit)
        self.painter.drawText(QPointF(plot.right() - wide, plot.top() - self.line * 0.35), self.bars.unit)
        if len(self.bars.legend) < 2:
            return
        x, y = plot.left(), plot.bottom() + self.line * 1.5
        for fill, name in self.bars.legend:
            self._fill(QRectF(x, y, self.line * 1.6, self.line * 0.75), fill)
            self.painter.setPen(QColor(self.colours.text))
            self.painter.drawText(QPointF(x + self.line * 2, y + self.metrics.ascent() * 0.85), name)
            x += self.line * 3 + self.metrics.horizontalAdvance(name)
