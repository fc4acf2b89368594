"""Paints a drawing of the range with Qt: lines, tones and numbered pins, large or small.

Knows drawings and colours; no widget, so that list rows and widgets share it.
"""

from collections.abc import Iterable
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen

from shopdesk.drawing import (
    DASH,
    PIN_SIZE,
    WEIGHTS,
    Drawing,
    DrawnPart,
    Path,
    Pen,
    Pin,
    Shape,
    Text,
    Tone,
    outline,
    spread_pins,
)
from shopdesk.ui.look import Colours

LEAST_PIN = 8.5  # pixels; half the width of a pin whose number can still be read
SMALL = 0.2  # below this scale fine lines would only blur


def scale_to(rect: QRectF, drawing: Drawing) -> float:
    """Pixels for one drawing unit when the drawing fills the rectangle."""
    return min(rect.width() / drawing.width, rect.height() / drawing.height)


def origin_in(rect: QRectF, drawing: Drawing) -> QPointF:
    """Where the drawing's upper left corner comes to lie, centred."""
    scale = scale_to(rect, drawing)
    return QPointF(
        rect.x() + (rect.width() - drawing.width * scale) / 2,
        rect.y() + (rect.height() - drawing.height * scale) / 2,
    )


def paint_drawing(
    painter: QPainter, rect: QRectF, drawing: Drawing, pins: Iterable[Pin], colours: Colours,
    least_pin: float = LEAST_PIN,
) -> None:  # fmt: skip
    """The whole drawing with its pins, centred in the rectangle."""
    scale = scale_to(rect, drawing)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(origin_in(rect, drawing))
    painter.scale(scale, scale)
    for part in drawing.parts:
        paint_part(painter, part, colours, scale)
    shown, half = readable_pins(drawing, pins, scale, least_pin)
    for pin in shown:
        paint_pin(painter, pin, half, colours, numbered=True)
    painter.restore()


def least_pin(text_height: float) -> float:
    """Half the width of a pin in pixels beside text of this height; larger text asks for larger pins."""
    return max(LEAST_PIN, text_height * 0.4)


def readable_pins(
    drawing: Drawing, pins: Iterable[Pin], scale: float, least: float = LEAST_PIN
) -> tuple[tuple[Pin, ...], float]:
    """The pins and half their width in drawing units; on a small drawing larger, and moved apart."""
    half = max(PIN_SIZE, least / scale)
    return (tuple(pins) if half == PIN_SIZE else spread_pins(drawing, pins, half)), half


def paint_small(
    painter: QPainter, rect: QRectF, drawing: Drawing, pins: Iterable[Pin], colours: Colours
) -> None:
    """The drawing as a picture for a list row: outlines only, the gravest pins as shapes.

    Pins keep one size in pixels; their numbers show when there is room for them.
    """
    scale = scale_to(rect, drawing)
    half = max(3.4, min(9.0, rect.height() * 0.066)) / scale
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(origin_in(rect, drawing))
    painter.scale(scale, scale)
    for part in drawing.parts:
        if part.id != "room":
            paint_part(painter, part, colours, scale)
    for pin in reversed(spread_pins(drawing, pins, half)[:12]):
        paint_pin(painter, pin, half, colours, numbered=half * scale >= 7)
    painter.restore()


def paint_part(painter: QPainter, part: DrawnPart, colours: Colours, scale: float) -> None:
    """One part's shapes; fine lines are left out where they would run together."""
    small = scale < SMALL
    for shape in part.shapes:
        if isinstance(shape, Text):
            _paint_text(painter, shape, QColor(colours.text))
            continue
        faint = small and shape.pen != "bold"
        if faint and shape.tone in ("none", "enamel", "bright", "shade"):
            continue
        painter.setPen(Qt.PenStyle.NoPen if faint else _pen(shape.pen, colours, scale))
        painter.setBrush(_brush(shape.tone, colours))
        painter.drawPath(qt_path(shape))


def _pen(pen: Pen, colours: Colours, scale: float) -> QPen:
    if pen == "none":
        return QPen(Qt.PenStyle.NoPen)
    least = (1.25 if pen == "bold" else 0.8) / scale  # a line never gets thinner than the eye sees
    made = QPen(QColor(colours.text), max(WEIGHTS[pen], least))
    made.setCapStyle(Qt.PenCapStyle.RoundCap)
    made.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    if pen == "hidden":
        made.setDashPattern([length / made.widthF() for length in DASH])
    return made


def _brush(tone: Tone, colours: Colours) -> QBrush:
    if tone == "none":
        return QBrush(Qt.BrushStyle.NoBrush)
    return QBrush(QColor({"ink": colours.text, "paper": colours.window}.get(tone) or getattr(colours, tone)))


@lru_cache(maxsize=8192)
def qt_path(shape: Shape) -> QPainterPath:
    """A shape as a painter path; a word as the box it fills."""
    path = QPainterPath()
    if isinstance(shape, Text):
        half = shape.size * 0.3 * len(shape.text)
        path.addRect(shape.x - half, shape.y - shape.size, 2 * half, shape.size)
        return path
    line: Path = outline(shape)
    for kind, at in line.segments:
        if kind == "M":
            path.moveTo(at[0], at[1])
        elif kind == "L":
            path.lineTo(at[0], at[1])
        else:
            path.cubicTo(*at)
    if line.closed:
        path.closeSubpath()
    return path


def _paint_text(painter: QPainter, text: Text, colour: QColor) -> None:
    font = painter.font()
    font.setPixelSize(max(1, round(text.size)))
    painter.setFont(font)
    painter.setPen(colour)
    box = QRectF(text.x - 200, text.y - text.size, 400, text.size * 1.2)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text.text)


def pin_path(pin: Pin, half: float) -> QPainterPath:
    """A pin's shape: circle minor, square serious, diamond grave, dashed ring for nothing."""
    path = QPainterPath()
    x, y = pin.x, pin.y
    match pin.severity:
        case "grave":
            d = half * 1.32
            path.moveTo(x, y - d)
            for dx, dy in ((d, 0.0), (0.0, d), (-d, 0.0)):
                path.lineTo(x + dx, y + dy)
            path.closeSubpath()
        case "serious":
            path.addRoundedRect(x - half, y - half, 2 * half, 2 * half, half * 0.2, half * 0.2)
        case _:
            path.addEllipse(QPointF(x, y), half, half)
    return path


def paint_pin(painter: QPainter, pin: Pin, half: float, colours: Colours, *, numbered: bool) -> None:
    """One pin; the ground's colour only supports its shape."""
    known = pin.severity in ("minor", "serious", "grave")
    ground = getattr(colours, pin.severity) if known else colours.window
    ink = getattr(colours, f"{pin.severity}_text") if known else colours.text
    pen = QPen(QColor(colours.text), half * 0.16)
    if not known:
        pen.setDashPattern([2.0, 2.0])
    path = pin_path(pin, half)
    painter.setPen(QPen(QColor(colours.window), half * 0.5))  # a clear rim against the lines
    painter.drawPath(path)
    painter.setPen(pen)
    painter.setBrush(QColor(ground))
    painter.drawPath(path)
    if not numbered:
        return
    font = painter.font()
    font.setPixelSize(max(1, round(half * (1.2 if pin.number < 10 else 1.05 if pin.number < 100 else 0.8))))
    font.setBold(True)
    painter.setFont(font)
    painter.setPen(QColor(ink))
    box = QRectF(pin.x - 2 * half, pin.y - half, 4 * half, 2 * half)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(pin.number))
