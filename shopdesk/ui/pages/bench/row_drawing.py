"""Draws the rows of the Bench, large enough for arm's length: a box to tick, the task, why it waits."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from shopdesk.ui.look import Colours, colours_of, letters, paint_icon, spacing
from shopdesk.ui.pages.bench.shown import PartRow, RangeRow, TaskRow, task_name
from shopdesk.ui.range_picture import paint_range
from shopdesk.ui.widgets.rows import ROW

_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
Index = QModelIndex | QPersistentModelIndex


def row_height(row: object, font: QFont) -> int:
    """How high a row is, in pixels."""
    body, name = QFontMetricsF(font).height(), QFontMetricsF(letters("title", font)).height()
    if isinstance(row, PartRow):
        return round(name * 1.9)
    if isinstance(row, RangeRow):
        return round(body * 2.9)
    assert isinstance(row, TaskRow)
    lines = name + (body * 1.1 if row.facts else 0) + (body * 2.2 if row.refused else 0)
    return max(spacing(font).big_target, round(lines + body * 0.8))


def tick_box(rect: QRectF, font: QFont) -> QRectF:
    """The square that ticks a task, in a row's rectangle."""
    side = QFontMetricsF(letters("title", font)).height() * 1.25
    inset = QFontMetricsF(font).height() * 0.7
    return QRectF(rect.x() + inset, rect.center().y() - side / 2, side, side)


class RowDrawing(QStyledItemDelegate):
    """Knows the rows of `shown`; their words are the item's text for search and screen readers."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row = index.data(ROW)
        colours = colours_of(option.palette)
        painter.save()
        painter.setClipRect(option.rect)
        _paint_ground(painter, option, isinstance(row, TaskRow), colours)
        _RowPainter(painter, QRectF(option.rect), option.font, colours).paint(row)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(100, row_height(index.data(ROW), option.font))


def _paint_ground(painter: QPainter, option: QStyleOptionViewItem, task: bool, colours: Colours) -> None:
    rect = QRectF(option.rect)
    chosen = bool(option.state & QStyle.StateFlag.State_Selected)
    ground = colours.button if chosen else colours.base if task else colours.alternate
    painter.fillRect(rect, QColor(ground))
    painter.setPen(QPen(QColor(colours.line), 1))
    painter.drawLine(rect.bottomLeft(), rect.bottomRight())
    if not chosen:
        return
    painter.fillRect(QRectF(rect.x(), rect.y(), 5, rect.height()), QColor(colours.accent))
    if option.state & QStyle.StateFlag.State_HasFocus:
        painter.setPen(QPen(QColor(colours.focus), 2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(rect.adjusted(1, 1, -1, -1))


class _RowPainter:
    """Paints one row into its rectangle."""

    def __init__(self, painter: QPainter, rect: QRectF, font: QFont, colours: Colours) -> None:
        self._painter, self._rect, self._colours, self._body = painter, rect, colours, font
        self._name, self._strong = letters("title", font), letters("strong", font)
        self._line = QFontMetricsF(font).height()
        self._pad = self._line * 0.7

    def paint(self, row: object) -> None:
        if isinstance(row, PartRow):
            self._text(self._rect.adjusted(self._pad, 0, -self._pad, 0), row.title, self._name, "text")
        elif isinstance(row, RangeRow):
            self._range(row)
        elif isinstance(row, TaskRow):
            self._task(row)

    def _range(self, row: RangeRow) -> None:
        rect, line = self._rect, self._line
        side = rect.height() - line * 0.3
        left = rect.x() + self._pad
        paint_range(self._painter, QRectF(left, rect.y() + line * 0.15, side, side),
                    row.build, row.pins, self._colours)  # fmt: skip
        left += side + self._pad
        right = rect.right() - self._pad
        if row.folds:
            right -= line
            self._fold(QRectF(right, rect.center().y() - line / 2, line, line), row.open)
            right -= self._pad
        top = QRectF(left, rect.center().y() - line * 1.15, right - left, line * 1.15)
        below = top.translated(0, line * 1.15)
        number = self._text(top, row.number, self._strong, "text") + self._pad
        self._text(top.adjusted(number, 0, 0, 0), row.name, self._body, "text")
        promised = self._text(below, row.promise, self._strong if row.late else self._body,
                              "problem" if row.late else "muted")  # fmt: skip
        gap = promised + self._pad if promised else 0
        hours = self._text(below.adjusted(gap, 0, 0, 0), row.hours, self._strong, "hold")
        gap += hours + self._pad if hours else 0
        self._text(below.adjusted(gap, 0, 0, 0), row.why, self._body, "muted")

    def _task(self, row: TaskRow) -> None:
        self._box(tick_box(self._rect, self._body), row)
        left = tick_box(self._rect, self._body).right() + self._pad
        right = self._rect.right() - self._pad
        line, high = self._line * 1.1, QFontMetricsF(self._name).height()
        lines = high + (line if row.facts else 0) + (2 * line if row.refused else 0)
        at = self._rect.center().y() - lines / 2
        hours = QFontMetricsF(self._body).horizontalAdvance(row.hours)
        if (
            QFontMetricsF(self._name).horizontalAdvance(task_name(row.task)) + hours
            > right - left - self._pad
        ):
            hours = 0.0  # the name matters more; the hours stand beside the list as well
        self._text(QRectF(right - hours, at, hours, high), row.hours, self._body, "muted", _RIGHT)
        name = QRectF(left, at, right - left - hours - self._pad, high)
        if row.running:
            side = high * 0.8
            mark = QRectF(left, name.center().y() - side / 2, side, side)
            paint_icon(self._painter, mark, "clock-start", self._colours.accent)
            name.setLeft(left + side + self._pad / 2)
        quiet = row.state != "now"
        self._text(name, task_name(row.task), self._name, "muted" if quiet else "text")
        at += high
        if row.facts:
            self._text(QRectF(left, at, right - left, line), row.facts, self._body,
                       "hold" if row.state == "waits" else "muted")  # fmt: skip
            at += line
        if row.refused:
            self._painter.setFont(self._strong)
            self._painter.setPen(QColor(self._colours.problem))
            wrapped = Qt.AlignmentFlag.AlignLeft | Qt.TextFlag.TextWordWrap
            self._painter.drawText(QRectF(left, at, right - left, 2 * line), wrapped, row.refused)

    def _box(self, box: QRectF, row: TaskRow) -> None:
        """An empty square, a part filled one, a tick; a bar across for what waits."""
        painter, colours = self._painter, self._colours
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        waits = row.state == "waits"
        style = Qt.PenStyle.DotLine if waits else Qt.PenStyle.SolidLine
        painter.setPen(QPen(QColor(colours.muted if waits else colours.text), 2, style))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(box, 4, 4)
        if row.done:
            paint_icon(painter, box.adjusted(3, 3, -3, -3), "tick", colours.accent)
        elif row.task.done_share and not waits:
            high = box.height() * row.task.done_share / 100
            filled = QRectF(box.x(), box.bottom() - high, box.width(), high)
            painter.fillRect(filled.adjusted(4, 0, -4, -4), QColor(colours.accent))

    def _fold(self, box: QRectF, open_: bool) -> None:
        """A triangle that points down when the tasks are shown, else to the right."""
        inner = box.adjusted(box.width() * 0.2, box.height() * 0.2, -box.width() * 0.2, -box.height() * 0.2)
        if open_:
            points = [inner.topLeft(), inner.topRight(), QPointF(inner.center().x(), inner.bottom())]
        else:
            points = [inner.topLeft(), inner.bottomLeft(), QPointF(inner.right(), inner.center().y())]
        self._painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._painter.setPen(Qt.PenStyle.NoPen)
        self._painter.setBrush(QColor(self._colours.text))
        self._painter.drawPolygon(QPolygonF(points))

    def _text(self, rect: QRectF, text: str, font: QFont, ink: str, side: Qt.AlignmentFlag = _LEFT) -> float:
        """One line, cut with dots where it does not fit; answers its width."""
        metrics = QFontMetricsF(font)
        cut = metrics.elidedText(text, Qt.TextElideMode.ElideRight, max(0.0, rect.width()))
        self._painter.setFont(font)
        self._painter.setPen(QColor(getattr(self._colours, ink)))
        self._painter.drawText(rect, side, cut)
        return metrics.horizontalAdvance(cut)
