"""Draws one row of the Floor: picture, name and owner, stage and hold, promise and money.

Wide rows have two lines side by side in columns; narrow ones (a small window, large text) have four
lines under each other. The room follows the letters, so rows at 200 % are as calm as at 100 %.
"""

from dataclasses import dataclass

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from shopdesk.ui.look import Colours, colours_of, letters, paint_icon
from shopdesk.ui.pages.floor.shown import ShownRow
from shopdesk.ui.range_picture import paint_range
from shopdesk.ui.widgets.rows import ROW
from shopdesk.ui.widgets.stage_strip import StageShown, paint_stage, strip_width
from shopdesk.wording import say

_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


@dataclass(frozen=True, slots=True)
class Room:
    """Where things stand in a row of one width, in pixels."""

    wide: bool
    line: float
    pad: float
    picture: float
    name: float  # widths of the columns
    stage: float
    day: float
    money: float

    @property
    def height(self) -> int:
        return round((2.9 if self.wide else 4.0) * self.line + 2 * self.pad)


def room(width: float, font: QFont) -> Room:
    """The room of a row for a width and a font."""
    metrics = QFontMetricsF(font)
    line, em = metrics.height() * 1.12, metrics.averageCharWidth()
    pad = metrics.height() * 0.3
    left = say("{count} days left", count=88)
    widest = (say("promised {day}", day="Mmm 88"), say("{days}, {percent} %", days=left, percent=88))
    day = max(metrics.horizontalAdvance(words) for words in widest) + em
    money = metrics.horizontalAdvance("$88,888.88") + em
    picture = 2.9 * line
    rest = width - picture - day - money - 6 * pad
    least = strip_width(font) + 16 * em
    if rest >= least + 26 * em:
        stage = max(least, rest * 0.58)
        return Room(True, line, pad, picture, rest - stage, stage, day, money)
    right = max(day, money)
    picture = min(4 * line, width * 0.2)
    rest = width - picture - right - 4 * pad
    return Room(False, line, pad, picture, rest, rest, right, right)


class RowDrawing(QStyledItemDelegate):
    """Knows `ShownRow`; the row's words are the cell's text, for search by typing and screen readers."""

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        row = index.data(ROW)
        if not isinstance(row, ShownRow):
            super().paint(painter, option, index)
            return
        colours = colours_of(option.palette)
        painter.save()
        painter.setClipRect(option.rect)
        painter.setFont(option.font)
        _paint_ground(painter, option, index.row(), colours)
        _RowPainter(painter, QRectF(option.rect), option.font, colours).paint(row)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        return QSize(option.rect.width(), room(option.rect.width(), option.font).height)


def _paint_ground(painter: QPainter, option: QStyleOptionViewItem, place: int, colours: Colours) -> None:
    """The chosen row: another ground, a bar at its left, and a frame while the list has the keyboard."""
    rect = QRectF(option.rect)
    chosen = bool(option.state & QStyle.StateFlag.State_Selected)
    ground = colours.button if chosen else colours.alternate if place % 2 else colours.base
    painter.fillRect(rect, QColor(ground))
    if not chosen:
        return
    painter.fillRect(QRectF(rect.x(), rect.y(), 5, rect.height()), QColor(colours.accent))
    if option.state & QStyle.StateFlag.State_HasFocus or option.state & QStyle.StateFlag.State_Active:
        painter.setPen(QPen(QColor(colours.focus), 2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(rect.adjusted(1, 1, -1, -1))


class _RowPainter:
    """Paints one row into its rectangle."""

    def __init__(self, painter: QPainter, rect: QRectF, font: QFont, colours: Colours) -> None:
        self._painter, self._rect, self._colours = painter, rect, colours
        self._body, self._strong = font, letters("strong", font)
        self._room = room(rect.width(), font)

    def paint(self, row: ShownRow) -> None:
        r = self._room
        left = self._rect.x() + 2 * r.pad
        picture = QRectF(left, self._rect.y() + r.pad / 2, r.picture, self._rect.height() - r.pad)
        paint_range(self._painter, picture, row.build, row.pins, self._colours)
        left += r.picture + 2 * r.pad
        lines = 2 if r.wide else 4
        top = self._rect.center().y() - lines * r.line / 2
        if r.wide:
            self._name(QRectF(left, top, r.name - r.pad, r.line), row)
            self._owner(QRectF(left, top + r.line, r.name - r.pad, r.line), row)
            left += r.name
            self._stage(QRectF(left, top, r.stage - r.pad, r.line), row)
            self._hold(QRectF(left, top + r.line, r.stage - r.pad, r.line), row)
            left += r.stage
            self._promise(left, top, r.day, row, _LEFT)
            money = QRectF(self._rect.right() - r.money - r.pad, top, r.money, r.line)
            self._money(money, row, below=True)
            return
        self._name(QRectF(left, top, r.name, r.line), row)
        self._owner(QRectF(left, top + r.line, r.name, r.line), row)
        self._stage(QRectF(left, top + 2 * r.line, r.name, r.line), row)
        self._hold(QRectF(left, top + 3 * r.line, self._rect.right() - left - r.pad, r.line), row)
        right = self._rect.right() - r.day - r.pad
        self._promise(right, top, r.day, row, _RIGHT)
        self._money(QRectF(right, top + 2 * r.line, r.day, r.line), row, below=False)

    def _name(self, rect: QRectF, row: ShownRow) -> None:
        number = self._text(rect, row.number, self._strong, self._colours.text)
        rest = rect.adjusted(number + self._room.pad * 1.6, 0, 0, 0)
        self._text(rest, row.name, self._body, self._colours.text)

    def _owner(self, rect: QRectF, row: ShownRow) -> None:
        self._text(rect, row.owner, self._body, self._colours.muted)

    def _stage(self, rect: QRectF, row: ShownRow) -> None:
        self._painter.setFont(self._body)
        paint_stage(self._painter, rect, StageShown(row.stage.value, "", row.own), self._colours)

    def _hold(self, rect: QRectF, row: ShownRow) -> None:
        if not row.held:
            return
        side = self._room.line * 0.8
        mark = QRectF(rect.x(), rect.center().y() - side / 2, side, side)
        paint_icon(self._painter, mark, "tag", self._colours.hold)
        self._text(rect.adjusted(side + self._room.pad, 0, 0, 0), row.held, self._body, self._colours.hold)

    def _promise(self, left: float, top: float, width: float, row: ShownRow, side: Qt.AlignmentFlag) -> None:
        line = self._room.line
        self._text(QRectF(left, top, width, line), row.day, self._body, self._colours.text, side)
        ink, font = self._colours.muted, self._body
        if row.late:
            ink, font = self._colours.problem, self._strong
        self._text(QRectF(left, top + line, width, line), row.days, font, ink, side)

    def _money(self, rect: QRectF, row: ShownRow, *, below: bool) -> None:
        if not row.open_money:
            return
        self._text(rect, row.open_money, self._body, self._colours.text, _RIGHT)
        if below:
            word = rect.translated(QPointF(0, self._room.line))
            self._text(word, say("open"), self._body, self._colours.muted, _RIGHT)

    def _text(self, rect: QRectF, text: str, font: QFont, ink: str, side: Qt.AlignmentFlag = _LEFT) -> float:
        """Writes one line, cut with dots where it does not fit; answers how wide it is."""
        metrics = QFontMetricsF(font)
        cut = metrics.elidedText(text, Qt.TextElideMode.ElideRight, max(0.0, rect.width()))
        self._painter.setFont(font)
        self._painter.setPen(QColor(ink))
        self._painter.drawText(rect, side, cut)
        return metrics.horizontalAdvance(cut)
