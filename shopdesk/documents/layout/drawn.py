"""Things drawn rather than set: a range's drawing with its pins, tick boxes, severity marks, QR codes."""

from collections.abc import Iterable

import segno
from reportlab.lib.colors import Color, HexColor
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from shopdesk.documents.layout.look import INK, PAPER
from shopdesk.documents.layout.typeface import BOLD
from shopdesk.domain.catalogue.model import Severity
from shopdesk.drawing.pins import PIN_SIZE, Pin, pin_shapes, spread_pins
from shopdesk.drawing.shapes import DASH, WEIGHTS, Pen, Shape, Text, Tone, outline
from shopdesk.drawing.sheet import Drawing

_TONES: dict[Tone, Color | None] = {
    "none": None, "paper": PAPER, "enamel": HexColor("#fbfaf7"), "shade": HexColor("#e9e5dd"),
    "dark": HexColor("#8d8a86"), "glass": HexColor("#e3e8ec"), "bright": HexColor("#f1f1ef"), "ink": INK,
}  # fmt: skip
_PIN_POINTS = 7.0  # half a pin's width on paper, whatever the drawing's scale


class DrawnRange(Flowable):
    """A drawing fitted into a box, with numbered pins that stay legible at any scale."""

    def __init__(self, drawing: Drawing, pins: Iterable[Pin], wide: float, high: float) -> None:
        super().__init__()
        self.drawing = drawing
        self.scale = min(wide / drawing.width, high / drawing.height)
        self.pin_size = max(_PIN_POINTS / self.scale, PIN_SIZE * 0.6)
        self.pins = sorted(spread_pins(drawing, pins, self.pin_size), key=lambda pin: pin.number)
        self.width, self.height = drawing.width * self.scale, drawing.height * self.scale

    def wrap(self, *_: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        self.canv.saveState()
        self.canv.setLineCap(1)
        self.canv.setLineJoin(1)
        for part in self.drawing.parts:
            for shape in part.shapes:
                self._shape(shape, weight=max(self.scale * 1.15, 0.25))
        for pin in self.pins:
            for shape in pin_shapes(pin, self.pin_size):
                self._shape(shape, weight=0.4)
        self.canv.restoreState()

    def _shape(self, shape: Shape, weight: float) -> None:
        if isinstance(shape, Text):
            self._text(shape)
            return
        path = self.canv.beginPath()
        body = outline(shape)
        for kind, at in body.segments:
            points = [self._at(at[i], at[i + 1]) for i in range(0, len(at), 2)]
            flat = [value for point in points for value in point]
            {"M": path.moveTo, "L": path.lineTo, "C": path.curveTo}[kind](*flat)
        if body.closed:
            path.close()
        fill = _TONES[body.tone]
        _pen(self.canv, body.pen, weight)
        if fill is not None:
            self.canv.setFillColor(fill)
        self.canv.drawPath(path, stroke=int(body.pen != "none"), fill=int(fill is not None))

    def _text(self, text: Text) -> None:
        self.canv.setFillColor(_TONES[text.tone] or INK)
        self.canv.setFont(BOLD, text.size * self.scale)
        self.canv.drawCentredString(*self._at(text.x, text.y), text.text)

    def _at(self, x: float, y: float) -> tuple[float, float]:
        return x * self.scale, self.height - y * self.scale


def _pen(canvas: Canvas, pen: Pen, weight: float) -> None:
    canvas.setStrokeColor(INK)
    canvas.setLineWidth(WEIGHTS[pen] * weight)
    canvas.setDash(*([d * weight for d in DASH],) if pen == "hidden" else ())


class TickBox(Flowable):
    """An empty box to tick, or a ticked one."""

    def __init__(self, size: float = 13.0, *, ticked: bool = False) -> None:
        super().__init__()
        self.size, self.ticked = size, ticked

    def wrap(self, *_: float) -> tuple[float, float]:
        return self.size, self.size

    def draw(self) -> None:
        self.canv.setStrokeColor(INK)
        self.canv.setLineWidth(1.1)
        self.canv.rect(0.6, 0.6, self.size - 1.2, self.size - 1.2)
        if self.ticked:
            s = self.size
            self.canv.lines(
                [(s * 0.24, s * 0.5, s * 0.42, s * 0.27), (s * 0.42, s * 0.27, s * 0.78, s * 0.78)]
            )


class PinMark(Flowable):
    """A pin beside its finding, in the shape it has on the drawing; empty without a number."""

    def __init__(self, number: int, severity: Severity, size: float = 7.0) -> None:
        super().__init__()
        blank = Drawing("front", size * 2.8, size * 2.8, ())
        self.inner = DrawnRange(
            blank, [Pin(number, size * 1.4, size * 1.4, severity)], size * 2.8, size * 2.8
        )
        self.number = number

    def wrap(self, *room: float) -> tuple[float, float]:
        return self.inner.wrap(*room)

    def draw(self) -> None:
        if self.number:
            self.inner.canv = self.canv
            self.inner.draw()


class QrCode(Flowable):
    """A QR code (ISO/IEC 18004, level M) as one vector path with its quiet zone."""

    def __init__(self, text: str, size: float = 76.0) -> None:
        super().__init__()
        self.matrix = [bytes(row) for row in segno.make(text, error="m", micro=False).matrix]
        self.size = size

    def wrap(self, *_: float) -> tuple[float, float]:
        return self.size, self.size

    def draw(self) -> None:
        quiet = 4
        unit = self.size / (len(self.matrix) + 2 * quiet)
        path = self.canv.beginPath()
        for down, row in enumerate(self.matrix):
            for across, dark in enumerate(row):
                if dark:
                    path.rect((across + quiet) * unit, self.size - (down + quiet + 1) * unit, unit, unit)
        self.canv.setFillColor(HexColor("#000000"))
        self.canv.drawPath(path, stroke=0, fill=1)
