"""A list of drawn strips: a name with a quiet line under it, and to the right a figure with its word.

Strips are words made beforehand; this room knows no records. Rows grow with the letters, long words are
cut with dots, and the whole strip is spoken as one sentence.
"""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from PySide6.QtCore import QEvent, QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import QHeaderView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from shopdesk.ui.look import Colours, colours_of, letters, spacing
from shopdesk.ui.widgets.list_table import ListTable
from shopdesk.ui.widgets.rows import ROW, Column
from shopdesk.ui.widgets.stage_strip import StageShown, paint_stage

Tone = Literal["muted", "hold", "problem"]
_RIGHT_SHARE = 0.46  # the figures leave the larger part of a narrow strip to the words


@dataclass(frozen=True, slots=True)
class Strip:
    """One row. `tone` colours the word under the figure; it supports, the word tells."""

    key: Hashable
    title: str
    second: str = ""
    right: str = ""
    below: str = ""
    tone: Tone = "muted"
    stage: StageShown | None = None
    strong: bool = False

    def spoken(self) -> str:
        stage = self.stage.words() if self.stage else ""
        return "; ".join(word for word in (self.title, self.second, stage, self.right, self.below) if word)


class StripDrawing(QStyledItemDelegate):
    """Paints `Strip`; its sentence is the cell's text."""

    def __init__(self, lines: int) -> None:
        super().__init__()
        self.lines = lines

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        strip = index.data(ROW)
        if not isinstance(strip, Strip):
            super().paint(painter, option, index)
            return
        colours = colours_of(option.palette)
        painter.save()
        painter.setClipRect(option.rect)
        _paint_ground(painter, option, index.row(), colours)
        pad = spacing(option.font).small
        _paint_words(
            painter, QRectF(option.rect).adjusted(pad * 1.4, 0, -pad, 0), option.font, strip, colours
        )
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        return QSize(option.rect.width(), strip_height(option.font, self.lines))


class StripList(ListTable):
    """A ListTable of one drawn column. `most` rows make it as high as its rows, up to so many."""

    def __init__(
        self, name: str, *, empty: str, first: tuple[str, Callable[[], object]] | None = None,
        lines: int = 2, most: int = 0,
    ) -> None:  # fmt: skip
        self._lines, self._most = lines, most
        column = Column("strip", name, Strip.spoken, stretch=True, spoken=Strip.spoken, tip=Strip.spoken)
        super().__init__(name, [column], key=lambda strip: strip.key, empty=empty, first=first)
        self.draw("strip", StripDrawing(lines))
        self.view.horizontalHeader().hide()
        self.view.setAlternatingRowColors(False)
        self.view.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self._fit()

    def show_rows(self, rows: Sequence[Any]) -> None:
        super().show_rows(rows)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit()

    def _fit(self) -> None:
        height = strip_height(self.view.font(), self._lines)
        rows = self.view.verticalHeader()
        if rows.defaultSectionSize() != height:
            rows.setMinimumSectionSize(height)
            rows.setDefaultSectionSize(height)
        if not self._most:
            return
        count = self.model.rowCount()
        sizes = spacing(self.font())
        button = sizes.target + sizes.gap if self.empty.button else 0
        empty = sizes.row + 2 * sizes.wide + button
        wanted = min(count, self._most) * height + 2 * self.view.frameWidth() if count else empty
        if self.minimumHeight() != wanted or self.maximumHeight() != wanted:
            self.setFixedHeight(wanted)


def strip_height(font: QFont, lines: int) -> int:
    """Pixels of a strip with so many lines."""
    metrics = QFontMetricsF(font)
    return round(metrics.height() * (1.12 * lines + 0.7))


def _paint_ground(painter: QPainter, option: QStyleOptionViewItem, place: int, colours: Colours) -> None:
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


def _paint_words(painter: QPainter, rect: QRectF, body: QFont, strip: Strip, colours: Colours) -> None:
    title = letters("strong", body) if strip.strong else body
    small = letters("small", body)
    line = QFontMetricsF(body).height() * 1.12
    right = _paint_figures(painter, rect, (title, small), strip, colours, line)
    rows = [(strip.title, title, colours.text)]
    if strip.second:
        rows.append((strip.second, small, colours.muted))
    count = len(rows) + (1 if strip.stage else 0)
    top = rect.center().y() - line * count / 2
    left = QRectF(rect.x(), top, rect.width() - right, line)
    for text, font, ink in rows:
        _text(painter, left, text, font, ink)
        left.translate(0, line)
    if strip.stage is not None:
        painter.setFont(small)
        paint_stage(painter, QRectF(left.x() - 2, left.y(), rect.width(), line), strip.stage, colours)


def _paint_figures(
    painter: QPainter, rect: QRectF, fonts: tuple[QFont, QFont], strip: Strip, colours: Colours, line: float
) -> float:
    """The right-hand words; answers how much room they took."""
    rows = [(strip.right, fonts[0], colours.text), (strip.below, fonts[1], getattr(colours, strip.tone))]
    shown = [row for row in rows if row[0]]
    if not shown:
        return 0.0
    wide = max(QFontMetricsF(font).horizontalAdvance(text) for text, font, _ in shown) + 2
    wide = min(wide, rect.width() * _RIGHT_SHARE)
    lines = 2 if strip.second or len(shown) == 2 else 1
    top = rect.center().y() - line * (lines + (1 if strip.stage else 0)) / 2
    room = QRectF(rect.right() - wide, top, wide, line)
    for text, font, ink in rows:
        if text:
            _text(painter, room, text, font, ink, Qt.AlignmentFlag.AlignRight)
        room.translate(0, line)
    return wide + line * 0.6


def _text(
    painter: QPainter, room: QRectF, text: str, font: QFont, ink: str,
    side: Qt.AlignmentFlag = Qt.AlignmentFlag.AlignLeft,
) -> None:  # fmt: skip
    painter.setFont(font)
    painter.setPen(QColor(ink))
    cut = QFontMetricsF(font).elidedText(text, Qt.TextElideMode.ElideRight, room.width())
    painter.drawText(room, side | Qt.AlignmentFlag.AlignVCenter, cut)
