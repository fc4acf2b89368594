"""How a row of the plan looks: bars, stretches away, the promised day. Knows places in pixels, no records.

What is late is told thrice: a notched end, hatching, and the word where there is room.
"""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from shopdesk.services.planning.picture import Bar
from shopdesk.ui.look import Colours
from shopdesk.wording import say

_WORDS_FROM = 26.0  # pixels of a bar from which words are written into it


@dataclass(frozen=True, slots=True)
class Inks:
    """Colours and fonts of one painting, made once."""

    colours: Colours
    body: QFont
    small: QFont

    @property
    def metrics(self) -> QFontMetricsF:
        return QFontMetricsF(self.small)


def paint_bar(painter: QPainter, rect: QRectF, bar: Bar, inks: Inks, *, words: str, chosen: bool) -> None:
    """One bar; `words` are written into it as far as they go."""
    c = inks.colours
    rect = QRectF(rect.x(), rect.y(), max(2.5, rect.width()), rect.height())
    by_hand = bar.kind == "hand"
    fill = QColor(c.serious if bar.late else c.glass if by_hand else c.base)
    ink = QColor(c.serious_text if bar.late else c.text)
    edge = QPen(QColor(c.accent if by_hand else c.edge), 1.2)
    if not by_hand:
        edge.setStyle(Qt.PenStyle.DashLine)
    painter.setPen(edge)
    painter.setBrush(fill)
    if rect.width() < 5:
        painter.fillRect(rect, edge.color())
    else:
        painter.drawRoundedRect(rect, 3, 3)
    if bar.late and rect.width() >= 5:
        _hatch_end(painter, rect, ink)
    if bar.started and rect.width() >= 8:
        painter.fillRect(QRectF(rect.x(), rect.y(), 5, rect.height()), QColor(c.accent))
    left = rect.x() + (9 if bar.started else 5)
    if bar.pinned and rect.width() >= 12:
        paint_pin(painter, QPointF(left + 4, rect.center().y()), rect.height() * 0.32, ink)
        left += 13
    room = QRectF(left, rect.y(), rect.right() - left - (12 if bar.late else 3), rect.height())
    if room.width() >= _WORDS_FROM:
        painter.setFont(inks.small)
        painter.setPen(ink)
        text = inks.metrics.elidedText(words, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, text)
    if chosen:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(c.focus), 3))
        painter.drawRoundedRect(rect.adjusted(-2, -2, 2, 2), 4, 4)


def paint_pin(painter: QPainter, at: QPointF, size: float, ink: QColor) -> None:
    """A pin stuck in: a head and a needle."""
    painter.setPen(QPen(ink, 1.4))
    painter.setBrush(ink)
    painter.drawEllipse(QPointF(at.x(), at.y() - size * 0.5), size * 0.45, size * 0.45)
    painter.drawLine(at, QPointF(at.x(), at.y() + size))


def paint_promise(painter: QPainter, x: float, top: float, bottom: float, inks: Inks, *, late: bool) -> None:
    """The promised day: a line with a flag; a late one's flag is filled and turned back."""
    c = inks.colours
    ink = QColor(c.problem if late else c.accent)
    painter.setPen(QPen(ink, 2))
    painter.drawLine(QPointF(x, top + 2), QPointF(x, bottom - 2))
    side = -9.0 if late else 9.0
    flag = QPolygonF([QPointF(x, top + 2), QPointF(x + side, top + 6), QPointF(x, top + 10)])
    painter.setBrush(QBrush(ink) if late else Qt.BrushStyle.NoBrush)
    painter.drawPolygon(flag)


def paint_away(painter: QPainter, rect: QRectF, inks: Inks) -> None:
    """Hours in which someone is not there: slanting lines, and the word where there is room."""
    c = inks.colours
    painter.save()
    painter.setClipRect(rect)
    painter.fillRect(rect, QColor(c.alternate))
    painter.setPen(QPen(QColor(c.line), 1))
    x = rect.left() - rect.height()
    while x < rect.right():
        painter.drawLine(QPointF(x, rect.bottom()), QPointF(x + rect.height(), rect.top()))
        x += 9
    painter.restore()
    word = say("away")
    if rect.width() > inks.metrics.horizontalAdvance(word) + 12:
        painter.setFont(inks.small)
        painter.setPen(QColor(c.muted))
        painter.drawText(rect.adjusted(6, 0, 0, 0), Qt.AlignmentFlag.AlignVCenter, word)


def _hatch_end(painter: QPainter, rect: QRectF, ink: QColor) -> None:
    """A late bar ends in two notches and slanting lines over its last stretch."""
    painter.save()
    painter.setClipRect(rect)
    painter.setPen(QPen(ink, 1))
    x = max(rect.left(), rect.right() - 16)
    while x < rect.right() + rect.height():
        painter.drawLine(QPointF(x, rect.bottom()), QPointF(x + rect.height() * 0.6, rect.top()))
        x += 4.5
    painter.restore()
