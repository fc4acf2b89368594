"""How a row of the plan looks: bars, stretches away, the promised day. Knows places in pixels, no records.

What is late is told thrice: a notched end, hatching, and the word where there is room.
"""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from shopdesk.services.planning.picture import Bar
from shopdesk.ui.look import Colours
from shopdesk.wording import say

_NARROW = 12.0  # pixels below which a bar is drawn plainly
_WORDS_FROM = 26.0  # pixels of a bar from which words are written into it


@dataclass(frozen=True, slots=True)
class Inks:
    """Colours, pens and fonts of one painting, made once."""

    colours: Colours
    body: QFont
    small: QFont
    metrics: QFontMetricsF
    fills: dict[tuple[bool, bool], QColor]  # by hand, late
    edges: dict[bool, QPen]  # by hand

    @classmethod
    def of(cls, colours: Colours, body: QFont, small: QFont) -> "Inks":
        c = colours
        away = QPen(QColor(c.edge), 1.2, Qt.PenStyle.DashLine)
        return cls(
            c, body, small, QFontMetricsF(small),
            {(hand, late): QColor(c.serious if late else c.glass if hand else c.base)
             for hand in (True, False) for late in (True, False)},
            {True: QPen(QColor(c.accent), 1.2), False: away},
        )  # fmt: skip


def paint_bar(painter: QPainter, rect: QRectF, bar: Bar, inks: Inks, *, words: str, chosen: bool) -> None:
    """One bar; `words` are written into it as far as they go."""
    c = inks.colours
    rect = QRectF(rect.x(), rect.y(), max(2.5, rect.width()), rect.height())
    by_hand = bar.kind == "hand"
    fill, edge = inks.fills[by_hand, bar.late], inks.edges[by_hand]
    if rect.width() < _NARROW:  # hundreds of these stand in a wide view: no corners, no words
        painter.fillRect(rect, QColor(c.problem) if bar.late else edge.color())
        if rect.width() >= 5:
            painter.fillRect(rect.adjusted(1.2, 1.2, -1.2, -1.2), fill)
        if bar.late:  # cut through, so that it stands out without its colour
            painter.fillRect(QRectF(rect.x(), rect.center().y() - 1.5, rect.width(), 3), QColor(c.base))
        if chosen:
            _ring(painter, rect, c)
        return
    ink = QColor(c.serious_text if bar.late else c.text)
    painter.setPen(edge)
    painter.setBrush(fill)
    painter.drawRoundedRect(rect, 3, 3)
    if bar.late:
        _hatch_end(painter, rect, ink)
    if bar.started:
        painter.fillRect(QRectF(rect.x(), rect.y(), 5, rect.height()), QColor(c.accent))
    left = rect.x() + (9 if bar.started else 5)
    if bar.pinned:
        paint_pin(painter, QPointF(left + 4, rect.center().y()), rect.height() * 0.32, ink)
        left += 13
    room = QRectF(left, rect.y(), rect.right() - left - (12 if bar.late else 3), rect.height())
    if room.width() >= _WORDS_FROM:
        painter.setFont(inks.small)
        painter.setPen(ink)
        text = inks.metrics.elidedText(words, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, text)
    if chosen:
        _ring(painter, rect, c)


def _ring(painter: QPainter, rect: QRectF, colours: Colours) -> None:
    """The keyboard is here."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(colours.focus), 3))
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
