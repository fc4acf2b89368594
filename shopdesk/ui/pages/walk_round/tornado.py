"""What the cost hangs on, drawn as a tornado: the widest swing on top, all about the expected cost.

A bar reaches from what everything is expected to cost when this one thing goes well (hollow) to what it is
expected to cost when it goes badly (filled).
"""

from dataclasses import dataclass

from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from shopdesk.domain.money import Spread
from shopdesk.ui.look import colours_of, letters, spacing
from shopdesk.ui.pages.walk_round.drawn_rows import WRAPPED, DrawnRows, text_box


@dataclass(frozen=True, slots=True)
class SwingRow:
    """`swing`: expected cost of everything at this thing's best, as it stands, and at its worst.

    `low` and `high` are its ends in words, `words` what the thing itself may cost; `code` of the finding.
    """

    name: str
    swing: Spread
    low: str
    high: str
    words: str
    code: str = ""

    def spoken(self) -> str:
        return f"{self.name}: {self.low}, {self.high}. {self.words}"


class Tornado(DrawnRows[SwingRow]):
    """All bars on one scale about one middle line."""

    def row_height(self, row: SwingRow, width: int) -> int:
        sizes = spacing(self.font())
        return round(self._name_height(row, width) + self._bar() + self._words_height(row, width) + sizes.gap)

    def paint_row(self, painter: QPainter, row: SwingRow, top: float) -> None:
        colours, sizes = colours_of(self.palette()), spacing(self.font())
        left, width = float(sizes.small), float(self.width() - 2 * sizes.small)
        painter.setPen(QColor(colours.text))
        painter.setFont(letters("body", self.font()))
        name = self._name_height(row, self.width())
        painter.drawText(QRectF(left, top, width, name), int(WRAPPED), row.name)
        self._paint_swing(painter, row, QRectF(left, top + name, width, self._bar()))
        painter.setFont(letters("small", self.font()))
        painter.setPen(QColor(colours.muted))
        below = QRectF(left, top + name + self._bar(), width, self._words_height(row, self.width()))
        painter.drawText(below, int(WRAPPED), row.words)

    # Inside

    def _bar(self) -> float:
        return self.fontMetrics().height() * 1.3

    def _name_height(self, row: SwingRow, width: int) -> float:
        return text_box(
            letters("body", self.font()), self, width - 2 * spacing(self.font()).small, row.name
        ).height()

    def _words_height(self, row: SwingRow, width: int) -> float:
        if not row.words:
            return 0.0
        small = letters("small", self.font())
        return text_box(small, self, width - 2 * spacing(self.font()).small, row.words).height()

    def _paint_swing(self, painter: QPainter, row: SwingRow, box: QRectF) -> None:
        """The two halves of the bar with the figures at their ends."""
        colours = colours_of(self.palette())
        small = letters("small", self.font())
        painter.setFont(small)
        widest = max((self._width(painter, text) for r in self.rows for text in (r.low, r.high)), default=0.0)
        reach = max(
            (max(r.swing.likely - r.swing.low, r.swing.high - r.swing.likely) for r in self.rows), default=1
        )
        middle, half = box.center().x(), max(8.0, box.width() / 2 - widest - 6)
        scale = half / max(1, reach)
        low = middle - (row.swing.likely - row.swing.low) * scale
        high = middle + (row.swing.high - row.swing.likely) * scale
        thick = QRectF(0, box.top() + box.height() * 0.15, 0, box.height() * 0.6)
        painter.setPen(QPen(QColor(colours.text), 1.2))
        painter.setBrush(QColor(colours.base))
        painter.drawRect(QRectF(low, thick.top(), middle - low, thick.height()))
        painter.setBrush(QColor(colours.accent))
        painter.drawRect(QRectF(middle, thick.top(), max(1.0, high - middle), thick.height()))
        painter.setPen(QPen(QColor(colours.text), 2))
        painter.drawLine(QLineF(middle, box.top(), middle, box.bottom()))
        painter.setPen(QColor(colours.text))
        right, across = Qt.AlignmentFlag.AlignRight, Qt.AlignmentFlag.AlignVCenter
        painter.drawText(
            QRectF(box.left(), thick.top(), low - 4 - box.left(), thick.height()), right | across, row.low
        )
        end = QRectF(high + 4, thick.top(), box.right() - high - 4, thick.height())
        painter.drawText(end, Qt.AlignmentFlag.AlignLeft | across, row.high)

    def _width(self, painter: QPainter, text: str) -> float:
        return float(painter.fontMetrics().horizontalAdvance(text))
