"""A compact drawn table: each row a name, a figure, and spans from low to high on one common scale.

A span is drawn hollow (what goes out) or filled (what comes in), with a tick where it likely lies; every
row says its figures in words below.
"""

from dataclasses import dataclass

from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from shopdesk.domain.money import Spread
from shopdesk.ui.look import colours_of, letters, spacing
from shopdesk.ui.pages.walk_round.drawn_rows import WRAPPED, DrawnRows, text_box


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

    def spoken(self) -> str:
        return f"{self.name}: {self.figure}. {self.words}"


class SpanBars(DrawnRows[SpanRow]):
    """All spans on the scale of the widest."""

    def row_height(self, row: SpanRow, width: int) -> int:
        sizes = spacing(self.font())
        words = text_box(letters("small", self.font()), self, width - sizes.small, row.words).height()
        return round(
            self._name_box(row, width).height() + len(row.bars) * self._bar() + words + sizes.gap + sizes.hair
        )

    def paint_row(self, painter: QPainter, row: SpanRow, top: float) -> None:
        colours, sizes = colours_of(self.palette()), spacing(self.font())
        left, width = float(sizes.small), self.width() - sizes.small
        height = self.row_height(row, self.width())
        if row.chosen:
            painter.fillRect(QRectF(0, top, 3, height - sizes.gap), QColor(colours.accent))
        painter.setPen(QColor(colours.muted if row.faint else colours.text))
        painter.setFont(letters("strong" if row.chosen else "body", self.font()))
        name = self._name_box(row, self.width())
        room = width - self._figure_width(row) - sizes.gap
        painter.drawText(QRectF(left, top, room, name.height()), int(WRAPPED), row.name)
        flags = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop
        painter.drawText(QRectF(left, top, width - 2, name.height()), flags, row.figure)
        y = top + name.height() + sizes.hair
        for bar in row.bars:
            self._paint_bar(painter, bar, QRectF(left, y, width - 2, self._bar()), faint=row.faint)
            y += self._bar()
        painter.setFont(letters("small", self.font()))
        painter.setPen(QColor(colours.muted))
        painter.drawText(QRectF(left, y, width, height), int(WRAPPED), row.words)

    # Inside

    def _bar(self) -> float:
        return spacing(self.font()).small * 1.5

    def _name_box(self, row: SpanRow, width: float) -> QRectF:
        strong = letters("strong" if row.chosen else "body", self.font())
        sizes = spacing(self.font())
        return text_box(strong, self, width - self._figure_width(row) - sizes.gap - sizes.small, row.name)

    def _figure_width(self, row: SpanRow) -> int:
        return self.fontMetrics().horizontalAdvance(row.figure) + 8

    def _scale(self) -> tuple[int, int]:
        spans = [bar.span for row in self.rows for bar in row.bars]
        return min([0, *(span.low for span in spans)]), max([1, *(span.high for span in spans)])

    def _paint_bar(self, painter: QPainter, bar: Bar, box: QRectF, *, faint: bool) -> None:
        colours = colours_of(self.palette())
        low, high = self._scale()

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
