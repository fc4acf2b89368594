"""Draws the thread: rows of findings and tasks, lit where they hang together, and the lines between."""

from collections.abc import Sequence

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QPixmap,
)
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from shopdesk.ui.look import Colours, colours_of, letters, paint_icon, spacing
from shopdesk.ui.pages.jacket.thread import ShownFinding, ShownTask
from shopdesk.ui.widgets.list_table import ListTable
from shopdesk.ui.widgets.rows import ROW
from shopdesk.ui.widgets.severity_mark import paint_severity

Key = int


class ThreadRow(QStyledItemDelegate):
    """Two lines with a mark before them; `lit` rows are tied to what is chosen on the other side."""

    def __init__(self) -> None:
        super().__init__()
        self.lit: frozenset[Key] = frozenset()
        self.thumbnails: dict[int, QPixmap] = {}

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        row = index.data(ROW)
        colours = colours_of(option.palette)
        rect = QRectF(option.rect)
        painter.save()
        painter.setClipRect(option.rect)
        lit = row.key in self.lit
        _paint_ground(painter, option, index.row(), colours, lit)
        sizes = spacing(option.font)
        left = rect.x() + sizes.gap
        if isinstance(row, ShownFinding):
            left = self._paint_finding_mark(
                painter, QRectF(left, rect.y(), sizes.icon, rect.height()), row, option
            )
        elif isinstance(row, ShownTask):
            mark = QRectF(left, rect.center().y() - sizes.icon / 2, sizes.icon, sizes.icon)
            if row.done:
                paint_icon(painter, mark, "tick", colours.text)
            left += sizes.icon + sizes.small
        words = rect.adjusted(left - rect.x(), 0, -sizes.small, 0)
        _paint_lines(painter, words, row, option, colours, strong=lit or _chosen(option))
        painter.restore()

    def _paint_finding_mark(
        self, painter: QPainter, rect: QRectF, row: ShownFinding, option: QStyleOptionViewItem
    ) -> float:
        """The severity's shape, and the first picture; answers where the words begin."""
        sizes = spacing(option.font)
        paint_severity(painter, rect, row.severity, option.palette)
        left = rect.right() + sizes.small
        side = rect.height() - 2 * sizes.hair
        picture = next((self.thumbnails[p] for p in row.photographs if p in self.thumbnails), None)
        if picture is not None:
            _paint_picture(painter, QRectF(left, rect.y() + sizes.hair, side * 1.25, side), picture)
        if row.photographs:
            left += side * 1.25 + sizes.small
        return left

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        return QSize(200, spacing(option.font).picture_row)


class ThreadFigure(QStyledItemDelegate):
    """A figure of a row that `beside` draws: the same ground, the figure at the right."""

    def __init__(self, beside: ThreadRow) -> None:
        super().__init__()
        self._beside = beside

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        colours = colours_of(option.palette)
        lit = index.data(ROW).key in self._beside.lit
        painter.save()
        rect = QRectF(option.rect)
        painter.fillRect(rect, QColor(_ground(option, index.row(), colours, lit)))
        painter.setFont(letters("strong", option.font) if lit or _chosen(option) else option.font)
        painter.setPen(QColor(colours.text))
        room = rect.adjusted(0, 0, -spacing(option.font).small, 0)
        side = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(room, side, index.data(Qt.ItemDataRole.DisplayRole))
        painter.restore()


def _ground(option: QStyleOptionViewItem, place: int, colours: Colours, lit: bool) -> str:
    if lit or _chosen(option):
        return colours.button
    return colours.alternate if place % 2 else colours.base


def _chosen(option: QStyleOptionViewItem) -> bool:
    return bool(option.state & QStyle.StateFlag.State_Selected)


def _paint_ground(
    painter: QPainter, option: QStyleOptionViewItem, place: int, colours: Colours, lit: bool
) -> None:
    rect = QRectF(option.rect)
    painter.fillRect(rect, QColor(_ground(option, place, colours, lit)))
    if lit or _chosen(option):
        painter.fillRect(QRectF(rect.x(), rect.y(), 5, rect.height()), QColor(colours.accent))
    if _chosen(option) and option.state & QStyle.StateFlag.State_Active:
        painter.setPen(QPen(QColor(colours.focus), 2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(rect.adjusted(1, 1, -1, -1))


def _paint_picture(painter: QPainter, room: QRectF, picture: QPixmap) -> None:
    """The middle of a picture, filling its room."""
    share = room.width() / room.height()
    wide, high = picture.width(), picture.height()
    cut_w, cut_h = (wide, wide / share) if wide / high < share else (high * share, high)
    source = QRectF((wide - cut_w) / 2, (high - cut_h) / 2, cut_w, cut_h)
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    painter.drawPixmap(room, picture, source)


def _paint_lines(
    painter: QPainter, rect: QRectF, row: ShownFinding | ShownTask, option: QStyleOptionViewItem,
    colours: Colours, *, strong: bool,
) -> None:  # fmt: skip
    font = letters("strong", option.font) if strong else option.font
    small = letters("small", option.font)
    line = QFontMetricsF(font).height() * 1.12
    lines = ((row.name, font, colours.text), (row.second, small, colours.muted))
    top = rect.center().y() - (line if row.second else line / 2)
    for place, (text, face, ink) in enumerate(lines):
        room = QRectF(rect.x(), top + place * line, rect.width(), line)
        cut = QFontMetricsF(face).elidedText(text, Qt.TextElideMode.ElideRight, room.width())
        painter.setFont(face)
        painter.setPen(QColor(ink))
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, cut)


class ThreadLines(QWidget):
    """The lines from findings to tasks, in the room between the two lists; decoration for the eye."""

    def __init__(self, findings: ListTable, tasks: ListTable) -> None:
        super().__init__()
        self._findings, self._tasks = findings, tasks
        self._links: tuple[tuple[Key, Key], ...] = ()
        self._lit: frozenset[tuple[Key, Key]] = frozenset()
        for table in (findings, tasks):
            table.view.verticalScrollBar().valueChanged.connect(lambda _value: self.update())

    def show_links(self, links: Sequence[tuple[Key, Key]], lit: frozenset[tuple[Key, Key]]) -> None:
        self._links, self._lit = tuple(links), lit
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(spacing(self.font()).wide * 3, 40)

    def minimumSizeHint(self) -> QSize:
        return QSize(spacing(self.font()).wide * 2, 40)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        colours = colours_of(self.palette())
        for pair in sorted(self._links, key=lambda pair: pair in self._lit):
            ends = self._end(self._findings, pair[0]), self._end(self._tasks, pair[1])
            if not any(seen for _, seen in ends):
                continue
            lit = pair in self._lit
            painter.setPen(QPen(QColor(colours.accent if lit else colours.line), 2.4 if lit else 1.2))
            painter.drawPath(_curve(ends[0][0], ends[1][0], self.width()))
        painter.end()

    def _end(self, table: ListTable, key: Key) -> tuple[float, bool]:
        """How high a row's middle lies here, held within its list, and whether the row is in sight."""
        place = table.model.place_of(key)
        port = table.view.viewport()
        if place is None:
            return 0.0, False
        middle = table.view.visualRect(table.model.index(place, 0)).center().y()
        seen = 0 <= middle <= port.height()
        held = QPointF(0, min(max(0, middle), port.height()))
        return self.mapFromGlobal(port.mapToGlobal(held)).y(), seen


def _curve(left: float, right: float, width: float) -> QPainterPath:
    line = QPainterPath(QPointF(0, left))
    line.cubicTo(QPointF(width * 0.5, left), QPointF(width * 0.5, right), QPointF(width, right))
    return line
