"""Draws a work order: the task in its place, and the time it lies in as a bar with what it may wait."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from shopdesk.ui.look import Colours, colours_of, letters, paint_icon, spacing
from shopdesk.ui.pages.jacket.order import OrderRow
from shopdesk.ui.widgets.rows import ROW

Index = QModelIndex | QPersistentModelIndex
_BAR = 0.42  # of a row's height
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class OrderTask(QStyledItemDelegate):
    """Its place, its name and a quiet line; a tick before what is done."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row: OrderRow = index.data(ROW)
        colours, sizes = colours_of(option.palette), spacing(option.font)
        rect = QRectF(option.rect)
        painter.save()
        painter.setClipRect(option.rect)
        _ground(painter, option, index.row(), colours, mark=True)
        place = QRectF(rect.x() + sizes.gap, rect.y(), sizes.icon * 1.7, rect.height())
        if row.state == "done":
            paint_icon(painter, QRectF(place.x(), rect.center().y() - sizes.icon / 2, sizes.icon, sizes.icon),
                       "tick", colours.muted)  # fmt: skip
        else:
            _text(painter, place, str(row.place), option.font, colours.muted)
        font = letters("strong", option.font) if row.state == "now" else option.font
        small = letters("small", option.font)
        line = QFontMetricsF(option.font).height() * 1.12
        room = QRectF(
            place.right(), rect.center().y() - line, rect.right() - place.right() - sizes.small, line
        )
        _text(painter, room, row.name, font, colours.muted if row.state == "done" else colours.text)
        _text(painter, room.translated(0, line), row.second, small, colours.muted)
        painter.restore()


class OrderBar(QStyledItemDelegate):
    """Filled where the task moves the end, hollow with a dotted line where it may wait."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row: OrderRow = index.data(ROW)
        colours, pad = colours_of(option.palette), spacing(option.font).small
        painter.save()
        painter.setClipRect(option.rect)
        _ground(painter, option, index.row(), colours, mark=False)
        small = letters("small", option.font)
        line = QFontMetricsF(small).height()
        room = QRectF(option.rect).adjusted(pad, 0, -pad, 0)
        words = QRectF(room.x(), room.bottom() - line * 1.15, room.width(), line)
        if row.timing is not None and row.length and row.state != "done":
            bars = QRectF(room.x(), room.y(), room.width(), room.height() - line * 1.15)
            _bar(painter, bars, row, colours)
            _text(painter, words, row.when, small, colours.text if row.timing.critical else colours.muted)
        painter.restore()


def _bar(painter: QPainter, room: QRectF, row: OrderRow, colours: Colours) -> None:
    timing = row.timing
    assert timing is not None
    minute = room.width() / row.length
    high = room.height() * _BAR
    top = room.center().y() - high / 2
    left, wide = room.x() + timing.start * minute, max(3.0, (timing.finish - timing.start) * minute)
    left = min(left, room.right() - 3)
    ink = QColor(colours.accent)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if timing.slack > 0:
        end = min(room.right(), room.x() + (timing.finish + timing.slack) * minute)
        middle = room.center().y()
        painter.setPen(QPen(QColor(colours.muted), 1.4, Qt.PenStyle.DotLine))
        painter.drawLine(QPointF(left + wide, middle), QPointF(end, middle))
        painter.drawLine(QPointF(end, middle - high / 3), QPointF(end, middle + high / 3))
    painter.setPen(QPen(ink, 1.4))
    painter.setBrush(ink if timing.critical else QColor(colours.base))
    painter.drawRect(QRectF(left, top, wide, high))


def _ground(
    painter: QPainter, option: QStyleOptionViewItem, place: int, colours: Colours, *, mark: bool
) -> None:
    rect = QRectF(option.rect)
    chosen = bool(option.state & QStyle.StateFlag.State_Selected)
    ground = colours.button if chosen else colours.alternate if place % 2 else colours.base
    painter.fillRect(rect, QColor(ground))
    if chosen and mark:
        painter.fillRect(QRectF(rect.x(), rect.y(), 5, rect.height()), QColor(colours.accent))
        if option.state & QStyle.StateFlag.State_Active:
            painter.setPen(QPen(QColor(colours.focus), 2))
            painter.drawRect(rect.adjusted(1, 1, -1, -1))


def _text(painter: QPainter, room: QRectF, text: str, font: QFont, ink: str) -> None:
    painter.setFont(font)
    painter.setPen(QColor(ink))
    cut = QFontMetricsF(font).elidedText(text, Qt.TextElideMode.ElideRight, max(0.0, room.width()))
    painter.drawText(room, _LEFT, cut)
