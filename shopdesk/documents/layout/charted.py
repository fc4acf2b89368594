"""A chart on paper: the same lines as in the window, told apart by stroke and legend."""

from reportlab.lib.colors import Color
from reportlab.platypus import Flowable

from shopdesk.documents.layout.look import ACCENT, INK, PAPER, QUIET, RULE
from shopdesk.documents.layout.typeface import BOLD, REGULAR
from shopdesk.drawing.chart import Chart, Line

_SIZE = 7.4  # points of the letters
_STEP = 10.0  # points from line to line
_CROWDED = 12
_EDGE = 0.03


class DrawnChart(Flowable):
    """A chart fitted into `wide` by `high` points."""

    def __init__(self, chart: Chart, wide: float, high: float) -> None:
        super().__init__()
        self.chart = chart
        self.width, self.height = wide, high

    def wrap(self, *_: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        chart, canvas = self.chart, self.canv
        canvas.saveState()
        canvas.setFillColor(INK)
        canvas.setFont(BOLD, _SIZE + 1)
        canvas.drawString(0, self.height - _STEP, chart.title)
        canvas.setFont(REGULAR, _SIZE)
        left = max(canvas.stringWidth(text, REGULAR, _SIZE) for _, text in chart.up) + 6
        below = _STEP * (1.6 + chart.legends)
        box = (left, below, self.width - left - 12, self.height - below - _STEP * 2.8)
        self._axes(box)
        for number, line in enumerate(chart.lines):
            self._line(box, line)
            self._pen(line)
            self._key(left, below - _STEP * (2.2 + number), line.name)
        if chart.level is not None:
            self._dotted()
            self._key(left, below - _STEP * (2.2 + len(chart.lines)), chart.level[1])
        self._marks(box)
        canvas.restoreState()

    def _axes(self, box: tuple[float, float, float, float]) -> None:
        x, y, wide, high = box
        canvas, chart = self.canv, self.chart
        for at, text in chart.up:
            canvas.setStrokeColor(RULE)
            canvas.setLineWidth(0.4)
            canvas.line(x, y + at * high, x + wide, y + at * high)
            canvas.setFillColor(QUIET)
            canvas.drawRightString(x - 4, y + at * high - _SIZE * 0.35, text)
        for at, text in chart.across:
            canvas.setFillColor(QUIET)
            canvas.drawCentredString(x + at * wide, y - _STEP, text)
        canvas.drawString(x, y + high + 3, chart.up_unit)
        canvas.drawRightString(x + wide, y - _STEP * 1.9, chart.across_unit)
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(0.7)
        canvas.line(x, y, x, y + high)
        canvas.line(x, y, x + wide, y)
        if chart.level is not None:
            at = chart.level[0]
            self._dotted()
            canvas.line(x, y + at * high, x + wide, y + at * high)
            canvas.setDash()

    def _pen(self, line: Line) -> None:
        colour: Color = INK if line.style == "dashed" else ACCENT
        self.canv.setStrokeColor(colour)
        self.canv.setLineWidth(0.9 if line.style == "dashed" else 1.3)
        self.canv.setDash(*((4, 2.4) if line.style == "dashed" else ()))

    def _line(self, box: tuple[float, float, float, float], line: Line) -> None:
        x, y, wide, high = box
        self._pen(line)
        path = self.canv.beginPath()
        for number, (across, up) in enumerate(line.spots):
            (path.lineTo if number else path.moveTo)(x + across * wide, y + up * high)
        self.canv.drawPath(path, stroke=1, fill=0)
        self.canv.setDash()

    def _dotted(self) -> None:
        self.canv.setStrokeColor(INK)
        self.canv.setLineWidth(0.7)
        self.canv.setDash(1, 2)

    def _key(self, x: float, y: float, name: str) -> None:
        """One line of the legend, drawn with the pen that is set."""
        self.canv.line(x, y + 2.4, x + 20, y + 2.4)
        self.canv.setDash()
        self.canv.setFillColor(INK)
        self.canv.setFont(REGULAR, _SIZE)
        self.canv.drawString(x + 25, y, name)

    def _marks(self, box: tuple[float, float, float, float]) -> None:
        x, y, wide, high = box
        canvas = self.canv
        for across, up, word in self.chart.marks:
            canvas.setStrokeColor(ACCENT)
            canvas.setFillColor(ACCENT if word == "off" else PAPER)
            canvas.setLineWidth(0.8)
            canvas.circle(x + across * wide, y + up * high, 1.9, stroke=1, fill=1)
            if word and len(self.chart.marks) <= _CROWDED:
                canvas.setFillColor(INK)
                drop = -_SIZE - 2 if up < 0.5 else 5
                aside = 7 if across < _EDGE else -7 if across > 1 - _EDGE else 0
                canvas.drawCentredString(x + across * wide + aside, y + up * high + drop, word)
