"""The zones in the order of the walk, each with a small mark for every checkpoint."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import (
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from shopdesk.ui.look import colours_of, letters, spacing
from shopdesk.ui.pages.walk_round.standing import Standing
from shopdesk.ui.widgets.severity_mark import paint_severity
from shopdesk.wording import say

_STANDING = Qt.ItemDataRole.UserRole


def standing_words(standing: Standing) -> str:
    """`4 of 9`, how many of a zone's checkpoints are answered."""
    return say("{answered} of {count}", answered=standing.answered, count=len(standing.marks))


class _ZoneDrawing(QStyledItemDelegate):
    """The name in one line, the marks and the count in the next."""

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        sizes = spacing(option.font)
        return QSize(120, 2 * option.fontMetrics.height() + 2 * sizes.hair)

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        standing: Standing = index.data(_STANDING)
        rect, palette, font = option.rect, option.palette, option.font
        sizes, colours = spacing(font), colours_of(palette)
        chosen = bool(option.state & QStyle.StateFlag.State_HasFocus)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if standing.here >= 0:
            painter.fillRect(rect, QColor(colours.button))
            painter.fillRect(QRectF(rect.left(), rect.top(), 4, rect.height()), QColor(colours.accent))
        if chosen:
            painter.setPen(QPen(QColor(colours.focus), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(rect).adjusted(1, 1, -1, -1))
        line = QRectF(rect).adjusted(sizes.gap, sizes.hair, -sizes.small, 0)
        line.setHeight(painter.fontMetrics().height())
        painter.setFont(letters("strong", font) if standing.here >= 0 else font)
        painter.setPen(QColor(colours.text))
        name = painter.fontMetrics().elidedText(
            say(standing.name), Qt.TextElideMode.ElideRight, int(line.width())
        )
        painter.drawText(line, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, name)
        line.translate(0, line.height())
        painter.setFont(letters("small", font))
        painter.setPen(QColor(colours.muted))
        count = standing_words(standing)
        painter.drawText(line, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, count)
        room = line.width() - painter.fontMetrics().horizontalAdvance(count) - sizes.gap
        marks = QRectF(line.left(), line.top() + line.height() * 0.25, room, sizes.icon * 0.55)
        self._paint_marks(painter, marks, standing, palette)
        painter.restore()

    def _paint_marks(self, painter: QPainter, room: QRectF, standing: Standing, palette: Any) -> None:
        side = room.height()
        step = min(side * 1.5, room.width() / max(1, len(standing.marks)))
        for place, mark in enumerate(standing.marks):
            box = QRectF(room.left() + place * step, room.top(), min(side, step), side)
            _paint_mark(painter, box, mark, palette, here=place == standing.here)


def _paint_mark(painter: QPainter, box: QRectF, mark: str, palette: Any, *, here: bool) -> None:
    """Nothing yet: a dot. Sound: a filled bar. Passed over: an empty one. A finding: its shape."""
    colours = colours_of(palette)
    if mark in ("minor", "serious", "grave"):
        paint_severity(painter, box.adjusted(-2, -2, 2, 2), mark, palette)
    elif mark in ("sound", "none"):
        painter.fillRect(box.adjusted(0, box.height() * 0.3, 0, -box.height() * 0.3), QColor(colours.muted))
    elif mark == "passed":
        painter.setPen(QPen(QColor(colours.muted), 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(box.adjusted(0.5, box.height() * 0.3, -0.5, -box.height() * 0.3))
    else:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(colours.edge))
        painter.drawEllipse(box.center(), 1.4, 1.4)
    if here:
        painter.fillRect(QRectF(box.left(), box.bottom() + 1, box.width(), 2), QColor(colours.focus))


class ZoneList(QListWidget):
    """`zoneChosen` tells the zone a person went to."""

    zoneChosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(say("Zones in the order of the walk"))
        self.setItemDelegate(_ZoneDrawing(self))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setUniformItemSizes(True)
        self.itemClicked.connect(self._choose)

    def show_zones(self, standings: Sequence[Standing]) -> None:
        """Shows how far the zones are; the open one is kept in sight."""
        while self.count() > len(standings):
            self.takeItem(self.count() - 1)
        for place, standing in enumerate(standings):
            item = self.item(place) if place < self.count() else QListWidgetItem(self)
            if item.data(_STANDING) == standing:
                continue
            item.setData(_STANDING, standing)
            spoken = say("{zone}: {standing} answered", zone=standing.name, standing=standing_words(standing))
            item.setData(Qt.ItemDataRole.AccessibleTextRole, spoken)
            item.setToolTip(spoken)
            if standing.here >= 0 and not self.hasFocus():
                self.setCurrentItem(item)
                self.scrollToItem(item)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        here = self.currentRow()
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space) and here >= 0:
            self._choose(self.item(here))
        else:
            super().keyPressEvent(event)

    def sizeHint(self) -> QSize:
        rows = self.sizeHintForRow(0) if self.count() else spacing(self.font()).row
        return QSize(220, rows * 6)

    def minimumSizeHint(self) -> QSize:
        rows = self.sizeHintForRow(0) if self.count() else spacing(self.font()).row
        return QSize(120, rows * 3)

    def _choose(self, item: QListWidgetItem) -> None:
        self.zoneChosen.emit(item.data(_STANDING).code)
