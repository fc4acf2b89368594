"""Bars on paper: the same as in the window, told apart by fill and legend, readable in black and white."""

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from shopdesk.documents.layout.look import ACCENT, INK, PAPER, QUIET, RULE
from shopdesk.documents.layout.typeface import BOLD, REGULAR, fitted
from shopdesk.drawing.bars import Bar, Bars, Fill

_SIZE = 7.4  # points of the letters
_STEP = 10.0  # points from line to line
_HATCH = 3.2  # points between the strokes of a fill
_ROW = 9.0  # points of one lying bar

Box = tuple[float, float, float, float]  # left, bottom, width, height


class DrawnBars(Flowable):
    """A chart across `wide` points; lying bars make it as high as they need."""

    def __init__(self, bars: Bars, wide: float, high: float = 150.0) -> None:
        super().__init__()
        self.bars, self.width = bars, wide
        each = max((len(group.bars) for group in bars.groups), default=1) * _ROW + 5
        frame = _STEP * (3.4 + (len(bars.legend) > 1) * 1.2)
        self.height = high if bars.upright else frame + each * len(bars.groups)

    def wrap(self, *_: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        bars, canvas = self.bars, self.canv
        canvas.saveState()
        canvas.setFillColor(INK)
        canvas.setFont(BOLD, _SIZE + 1)
        canvas.drawString(0, self.height - _STEP, bars.title)
        canvas.setFont(REGULAR, _SIZE)
        below = _STEP * (1.8 + (len(bars.legend) > 1) * 1.2)
        left = self._left()
        right = _widest(canvas, bars) + 6 if not bars.upright else 4
        box = (left, below, self.width - left - right, self.height - below - _STEP * 1.9)
        self._scale(box)
        for place, group in enumerate(bars.groups):
            slot = _slot(box, place, len(bars.groups), bars.upright)
            self._name(box, slot, group.name)
            for number, bar in enumerate(group.bars):
                self._bar(_within(slot, number, len(group.bars), bars.upright), bar, box)
        self._zero(box)
        self._legend(left)
        canvas.restoreState()

    def _left(self) -> float:
        texts = (
            [text for _, text in self.bars.scale] if self.bars.upright else [g.name for g in self.bars.groups]
        )
        most = self.width * (0.2 if self.bars.upright else 0.34)
        return min(most, max((self.canv.stringWidth(t, REGULAR, _SIZE) for t in texts), default=0) + 6)

    def _scale(self, box: Box) -> None:
        x, y, wide, high = box
        canvas = self.canv
        for at, text in self.bars.scale:
            canvas.setStrokeColor(RULE)
            canvas.setLineWidth(0.4)
            canvas.setFillColor(QUIET)
            if self.bars.upright:
                canvas.line(x, y + at * high, x + wide, y + at * high)
                canvas.drawRightString(x - 4, y + at * high - _SIZE * 0.35, text)
            else:
                canvas.line(x + at * wide, y, x + at * wide, y + high)
                canvas.drawCentredString(x + at * wide, y - _STEP, text)

    def _name(self, box: Box, slot: Box, name: str) -> None:
        canvas = self.canv
        canvas.setFillColor(INK)
        if self.bars.upright:
            canvas.drawCentredString(
                slot[0] + slot[2] / 2, box[1] - _STEP, fitted(name, REGULAR, _SIZE, slot[2] + 6)
            )
        else:
            canvas.drawRightString(
                box[0] - 5, slot[1] + slot[3] / 2 - _SIZE * 0.35, fitted(name, REGULAR, _SIZE, box[0] - 6)
            )

    def _bar(self, lane: Box, bar: Bar, box: Box) -> None:
        x, y, wide, high = lane
        if self.bars.upright:
            rect = (x, box[1] + bar.begin * box[3], wide, (bar.end - bar.begin) * box[3])
        else:
            rect = (box[0] + bar.begin * box[2], y, (bar.end - bar.begin) * box[2], high)
        fill_box(self.canv, rect, bar.fill)
        if not self.bars.upright:
            self.canv.setFillColor(INK)
            reach = max(bar.end, bar.span[1] if bar.span else 0.0)
            self.canv.drawString(box[0] + reach * box[2] + 3, y + high / 2 - _SIZE * 0.35, bar.words)
        if bar.span is not None:
            self._whisker(lane, bar.span, box)

    def _whisker(self, lane: Box, span: tuple[float, float], box: Box) -> None:
        """The span of a figure: a line with a stroke at each end."""
        canvas = self.canv
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(0.8)
        if self.bars.upright:
            middle, low, high = lane[0] + lane[2] / 2, box[1] + span[0] * box[3], box[1] + span[1] * box[3]
            canvas.line(middle, low, middle, high)
            canvas.lines([(middle - 2, end, middle + 2, end) for end in (low, high)])
        else:
            middle, low, high = lane[1] + lane[3] / 2, box[0] + span[0] * box[2], box[0] + span[1] * box[2]
            canvas.line(low, middle, high, middle)
            canvas.lines([(end, middle - 2, end, middle + 2) for end in (low, high)])

    def _zero(self, box: Box) -> None:
        x, y, wide, high = box
        self.canv.setStrokeColor(INK)
        self.canv.setLineWidth(0.8)
        if self.bars.upright:
            self.canv.line(x, y + self.bars.zero * high, x + wide, y + self.bars.zero * high)
        else:
            self.canv.line(x + self.bars.zero * wide, y, x + self.bars.zero * wide, y + high)

    def _legend(self, left: float) -> None:
        """The fills with their names, and what the scale is in."""
        canvas = self.canv
        x = left
        if len(self.bars.legend) > 1:
            for fill, name in self.bars.legend:
                fill_box(canvas, (x, 1, 14, 7), fill)
                canvas.setFillColor(INK)
                canvas.drawString(x + 18, 2, name)
                x += 18 + canvas.stringWidth(name, REGULAR, _SIZE) + 14
        canvas.setFillColor(QUIET)
        canvas.drawRightString(self.width, self.height - _STEP, self.bars.unit)


def fill_box(canvas: Canvas, rect: Box, fill: Fill) -> None:
    """One bar: solid, hollow, or with strokes one or both ways."""
    x, y, wide, high = rect
    canvas.setStrokeColor(INK)
    canvas.setLineWidth(0.7)
    canvas.setFillColor(ACCENT if fill == "solid" else PAPER)
    canvas.rect(x, y, wide, high, stroke=1, fill=1)
    if fill not in ("hatched", "crossed") or wide < 1 or high < 1:
        return
    canvas.saveState()
    path = canvas.beginPath()
    path.rect(x, y, wide, high)
    canvas.clipPath(path, stroke=0)
    canvas.setLineWidth(0.5)
    steps = int((wide + high) / _HATCH) + 1
    canvas.lines([(x + n * _HATCH - high, y, x + n * _HATCH, y + high) for n in range(steps + 1)])
    if fill == "crossed":
        canvas.lines([(x + n * _HATCH, y, x + n * _HATCH - high, y + high) for n in range(steps + 1)])
    canvas.restoreState()


def _slot(box: Box, place: int, count: int, upright: bool) -> Box:
    """The room of one group."""
    x, y, wide, high = box
    if upright:
        each = wide / count
        return x + place * each + each * 0.1, y, each * 0.8, high
    each = high / count
    return x, y + high - (place + 1) * each + each * 0.12, wide, each * 0.76


def _within(slot: Box, number: int, count: int, upright: bool) -> Box:
    """The room of one bar of a group; lying ones from the top."""
    x, y, wide, high = slot
    if upright:
        return x + number * wide / count, y, wide / count * 0.92, high
    return x, y + high - (number + 1) * high / count, wide, high / count * 0.88


def _widest(canvas: Canvas, bars: Bars) -> float:
    words = [bar.words for group in bars.groups for bar in group.bars]
    return max((canvas.stringWidth(text, REGULAR, _SIZE) for text in words), default=0.0)
