"""A job's stage as a filled strip, with what it is held for as a word and a small mark.

The strip is a row of ten fields like tiles of enamel: fired ones are passed, the present one
stands higher and carries its word, those to come are open. Stages off the road (donor, not
taken, withdrawn) are drawn apart: the road breaks off. No share of the whole is shown.
Knows stages as words and colours; no records.
"""

from dataclasses import dataclass

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPaintEvent, QPalette, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from shopdesk.ui.look import Colours, colours_of
from shopdesk.wording import say

ROAD = (
    "looked at",
    "booked in",
    "inspected",
    "quoted",
    "agreed",
    "on the bench",
    "proving",
    "ready",
    "gone",
    "settled",
)
ASIDE = ("donor", "not taken", "withdrawn")
STAGE_ROLE = Qt.ItemDataRole.UserRole + 41
_SKIPPED = ("quoted", "agreed")  # by a range the shop owns
_FIELD, _JOINT = 13.0, 2.0  # width of a field and the joint between two, at 18 px of text
_SHARE = 0.4  # the strip leaves the larger part of a narrow place to its words


@dataclass(frozen=True, slots=True)
class StageShown:
    """What a strip shows. `owned`: the shop's own range, which skips quoted and agreed."""

    stage: str
    held_for: str = ""
    owned: bool = False

    def words(self) -> str:
        """The strip in words, for a screen reader and a narrow column."""
        stage = say(self.stage)
        if not self.held_for:
            return stage
        return say("{stage}, held for {reason}", stage=stage, reason=say(self.held_for))


def strip_width(font: QFont) -> float:
    """Width of the strip alone, in pixels, for a font."""
    return len(ROAD) * (_FIELD + _JOINT) * _unit(font)


def strip_size(shown: StageShown, font: QFont) -> QSize:
    """Room for the strip and its words side by side."""
    metrics = QFontMetricsF(font)
    wide = strip_width(font) + metrics.height() * 0.6 + metrics.horizontalAdvance(say(shown.stage))
    if shown.held_for:
        wide += metrics.height() * 1.8 + metrics.horizontalAdvance(_hold_words(shown))
    return QSize(round(wide + 8), round(metrics.height() * 1.5))


def paint_stage(painter: QPainter, rect: QRectF, shown: StageShown, colours: Colours, ink: str = "") -> None:
    """The strip, the stage's word and the hold, from the left, centred on the rectangle's height.

    `ink` replaces the text colour on a selected row. Words that do not fit are cut with dots.
    """
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    text = ink or colours.text
    whole = len(ROAD) * (_FIELD + _JOINT)
    unit = min(_unit(painter.font()), rect.width() * _SHARE / whole)
    _paint_fields(painter, rect.x() + 2, rect.center().y(), unit, shown, colours, text)
    metrics = QFontMetricsF(painter.font())
    x = rect.x() + 2 + whole * unit + metrics.height() * 0.4
    x = _paint_words(painter, rect, x, say(shown.stage), text)
    if shown.held_for and x < rect.right():
        hold = ink or colours.hold
        x += metrics.height() * 0.6
        _paint_hold_mark(painter, QPointF(x, rect.center().y()), metrics.height(), hold)
        _paint_words(painter, rect, x + metrics.height() * 0.75, _hold_words(shown), hold)
    painter.restore()


def _hold_words(shown: StageShown) -> str:
    return say("held for {reason}", reason=say(shown.held_for))


def _unit(font: QFont) -> float:
    return QFontMetricsF(font).height() / 18.0


def _paint_words(painter: QPainter, rect: QRectF, x: float, words: str, colour: str) -> float:
    metrics = QFontMetricsF(painter.font())
    room = rect.right() - x
    if room < metrics.height():
        return rect.right()
    cut = metrics.elidedText(words, Qt.TextElideMode.ElideRight, room + 1)
    painter.setPen(QColor(colour))
    flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
    painter.drawText(QRectF(x, rect.y(), room + 1, rect.height()), flags, cut)
    return x + metrics.horizontalAdvance(cut)


def _paint_fields(
    painter: QPainter, x: float, y: float, unit: float, shown: StageShown, colours: Colours, ink: str
) -> None:
    wide, step = _FIELD * unit, (_FIELD + _JOINT) * unit
    fill = colours.accent if ink == colours.text else ink
    if shown.stage not in ROAD:
        _paint_aside(painter, x, y, unit, shown.stage, fill)
        return
    at = ROAD.index(shown.stage)
    for n, stage in enumerate(ROAD):
        left = x + n * step
        if shown.owned and stage in _SKIPPED:
            painter.setPen(QPen(QColor(fill), max(1.0, unit)))
            painter.drawLine(QPointF(left + unit, y), QPointF(left + wide - unit, y))
            continue
        half = (6.5 if n == at else 4.0) * unit
        _paint_field(painter, QRectF(left, y - half, wide, 2 * half), unit, fill, filled=n <= at)


def _paint_field(painter: QPainter, field: QRectF, unit: float, colour: str, *, filled: bool) -> None:
    painter.setPen(QPen(QColor(colour), max(1.0, 0.9 * unit)))
    painter.setBrush(QColor(colour) if filled else Qt.BrushStyle.NoBrush)
    inset = max(0.5, 0.45 * unit)
    painter.drawRoundedRect(field.adjusted(inset, inset, -inset, -inset), 2.2 * unit, 2.2 * unit)


def _paint_aside(painter: QPainter, x: float, y: float, unit: float, stage: str, colour: str) -> None:
    """The road breaks off: donor is hatched, not taken ends crossed, withdrawn ends in a gap."""
    step, wide = (_FIELD + _JOINT) * unit, _FIELD * unit
    passed = {"donor": 2, "not taken": 1}.get(stage, 3)
    for n in range(passed):
        field = QRectF(x + n * step, y - 4 * unit, wide, 8 * unit)
        _paint_field(painter, field, unit, colour, filled=stage != "donor")
        if stage == "donor":
            _hatch(painter, field, unit)
    end = x + passed * step
    painter.setPen(QPen(QColor(colour), max(1.2, 1.4 * unit)))
    if stage == "not taken":
        for sign in (-1, 1):
            painter.drawLine(
                QPointF(end + 2 * unit, y - sign * 4 * unit), QPointF(end + 10 * unit, y + sign * 4 * unit)
            )
    elif stage == "withdrawn":
        painter.drawLine(QPointF(end + 3 * unit, y + 6 * unit), QPointF(end + 9 * unit, y - 6 * unit))
        painter.drawLine(QPointF(end + 7 * unit, y + 6 * unit), QPointF(end + 13 * unit, y - 6 * unit))


def _hatch(painter: QPainter, field: QRectF, unit: float) -> None:
    painter.save()
    painter.setClipRect(field.adjusted(unit, unit, -unit, -unit))
    x = field.left() - field.height()
    while x < field.right():
        painter.drawLine(QPointF(x, field.bottom()), QPointF(x + field.height(), field.top()))
        x += 3.4 * unit
    painter.restore()


def _paint_hold_mark(painter: QPainter, at: QPointF, height: float, colour: str) -> None:
    """A tag hung on a nail: the shop's sign that something waits."""
    u = height / 18.0
    x, y = at.x(), at.y()
    tag = QPainterPath(QPointF(x, y - 1 * u))
    for px, py in ((4.5, -5), (9, -1), (9, 7), (0, 7)):
        tag.lineTo(x + px * u, y + py * u)
    tag.closeSubpath()
    painter.setPen(QPen(QColor(colour), max(1.1, 1.3 * u), Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(tag)
    painter.drawEllipse(QPointF(x + 4.5 * u, y), 1.1 * u, 1.1 * u)
    painter.drawLine(QPointF(x + 4.5 * u, y - 5 * u), QPointF(x + 4.5 * u, y - 7.5 * u))


class StageDelegate(QStyledItemDelegate):
    """Draws a `StageShown` found under `STAGE_ROLE`; the words stay the cell's display text."""

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        shown = index.data(STAGE_ROLE)
        if not isinstance(shown, StageShown):
            super().paint(painter, option, index)
            return
        self.initStyleOption(option, index)
        option.text = ""
        widget = option.widget
        style = widget.style()
        style.drawControl(QStyle.ControlElement.CE_ItemViewItem, option, painter, widget)
        colours = colours_of(option.palette)
        selected = bool(option.state & QStyle.StateFlag.State_Selected)
        ink = option.palette.color(QPalette.ColorRole.HighlightedText).name() if selected else ""
        painter.save()
        painter.setFont(option.font)
        rect = QRectF(option.rect).adjusted(4, 0, -4, 0)
        paint_stage(painter, rect, shown, colours, ink)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        shown = index.data(STAGE_ROLE)
        if not isinstance(shown, StageShown):
            return super().sizeHint(option, index)
        return strip_size(shown, option.font)


class StageStrip(QWidget):
    """The strip by itself, at the head of a jacket."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown: StageShown | None = None

    def setShown(self, shown: StageShown) -> None:
        self._shown = shown
        self.setAccessibleName(say("Stage: {words}", words=shown.words()))
        self.setToolTip(shown.words())
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return strip_size(self._shown or StageShown(ROAD[0]), self.font())

    def minimumSizeHint(self) -> QSize:
        return QSize(round(strip_width(self.font())), self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._shown is None:
            return
        painter = QPainter(self)
        painter.setFont(self.font())
        paint_stage(painter, QRectF(self.rect()), self._shown, colours_of(self.palette()))
        painter.end()
