"""A compact drawn table: each row a name, a figure, and spans from low to high on one common scale.

A span is drawn hollow (what goes out) or filled (what comes in), with a tick where it likely lies; every
row says its figures in words below, so nothing is told by the drawing alone.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from shopdesk.domain.money import Spread
from shopdesk.ui.look import colours_of, letters, spacing

_WRAP = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft


@dataclass(frozen=True, slots=True)
class Bar:
    """One span; `filled` is what comes in."""

    span: Spread
    filled: bool = False


@dataclass(frozen=True, slots=True)
class SpanRow:
    """`chosen` rows stand out by a mark and weight, `faint` ones are not open."""

    name: str
    figure: str
    bars: tuple[Bar, ...]
    words: str
    chosen: bool = False
    faint: bool = False


class SpanBars(QWidget):
    """As high as its rows need at its width."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name = name
        self.rows: tuple[SpanRow, ...] = ()
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setAccessibleName(name)

    def show_rows(self, rows: Sequence[SpanRow]) -> None:
        self.rows = tuple(rows)
        told = [f"{row.name}: {row.figure}. {row.words}" for row in self.rows]
        self.setAccessibleDescription(" ".join(told))
        self._claim_height()
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._claim_height()

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return sum(self._row_height(row, width) for row in self.rows)

    def sizeHint(self) -> QSize:
        return QSize(240, self.heightForWidth(max(self.width(), 240)))

    def _claim_height(self) -> None:
        """Nested layouts forget the height that goes with a width; a least height they honour."""
        needed = self.heightForWidth(self.width())
        if needed != self.minimumHeight():
            self.setMinimumHeight(needed)

    # Measures

    def _row_height(self, row: SpanRow, width: int) -> int:
        sizes = spacing(self.font())
        words = self._words_box(row, width).height()
        return round(
            self._name_box(row, width).height() + len(row.bars) * self._bar() + words + sizes.gap + sizes.hair
        )

    def _bar(self) -> float:
        return spacing(self.font()).small * 1.5

    def _name_box(self, row: SpanRow, width: float) -> QRectF:
        strong = letters("strong" if row.chosen else "body", self.font())
        room = width - self._figure_width(row) - spacing(self.font()).gap - self._indent()
        return _metrics(strong, self, room, row.name)

    def _words_box(self, row: SpanRow, width: float) -> QRectF:
        if not row.words:
            return QRectF()
        return _metrics(letters("small", self.font()), self, width - self._indent(), row.words)

    def _figure_width(self, row: SpanRow) -> int:
        return self.fontMetrics().horizontalAdvance(row.figure) + 8

    def _indent(self) -> int:
        return spacing(self.font()).small

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        if not self.rows:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        bars = [bar.span for row in self.rows for bar in row.bars]
        low = min([0, *(span.low for span in bars)])
        high = max([1, *(span.high for span in bars)])
        top = 0.0
        for row in self.rows:
            self._paint_row(painter, row, top, low, high)
            top += self._row_height(row, self.width())
        painter.end()

    def _paint_row(self, painter: QPainter, row: SpanRow, top: float, low: int, high: int) -> None:
        colours, sizes = colours_of(self.palette()), spacing(self.font())
        left, width = float(self._indent()), self.width() - self._indent()
        height = self._row_height(row, self.width())
        if row.chosen:
            painter.fillRect(QRectF(0, top, 3, height - sizes.gap), QColor(colours.accent))
        painter.setPen(QColor(colours.muted if row.faint else colours.text))
        painter.setFont(letters("strong" if row.chosen else "body", self.font()))
        name = self._name_box(row, self.width())
        figure = self._figure_width(row)
        painter.drawText(QRectF(left, top, width - figure - sizes.gap, name.height()), int(_WRAP), row.name)
        flags = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop
        painter.drawText(QRectF(left, top, width - 2, name.height()), flags, row.figure)
        y = top + name.height() + sizes.hair
        for bar in row.bars:
            self._paint_bar(painter, bar, QRectF(left, y, width - 2, self._bar()), low, high, faint=row.faint)
            y += self._bar()
        painter.setFont(letters("small", self.font()))
        painter.setPen(QColor(colours.muted))
        painter.drawText(QRectF(left, y, width, height), int(_WRAP), row.words)

    def _paint_bar(
        self, painter: QPainter, bar: Bar, box: QRectF, low: int, high: int, *, faint: bool
    ) -> None:
        colours = colours_of(self.palette())

        def place(value: int) -> float:
            return box.left() + (value - low) / (high - low) * box.width()

        colour = QColor(colours.edge if faint else colours.text)
        thick = box.height() * 0.6
        rect = QRectF(place(bar.span.low), box.top() + box.height() * 0.2,
                      max(3.0, place(bar.span.high) - place(bar.span.low)), thick)  # fmt: skip
        painter.setPen(QPen(QColor(colours.line), 1))
        painter.drawLine(QLineF(box.left(), rect.center().y(), box.right(), rect.center().y()))
        if bar.filled:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(colours.edge if faint else colours.accent))
        else:
            painter.setPen(QPen(colour, 1.2))
            painter.setBrush(QColor(colours.base))
        painter.drawRect(rect)
        tick = QColor(colours.accent_text if bar.filled and not faint else colours.text)
        painter.setPen(QPen(tick, 2))
        x = place(bar.span.likely)
        painter.drawLine(QLineF(x, rect.top(), x, rect.bottom()))


def _metrics(font: QFont, widget: QWidget, room: float, text: str) -> QRectF:
    return QFontMetricsF(font, widget).boundingRect(QRectF(0, 0, max(40.0, room), 4000), int(_WRAP), text)
