"""The small drawing of a range with the pins of what was found, for list rows and the head of a jacket."""

from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import QSizePolicy, QWidget

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Catalogue, Purpose
from shopdesk.drawing import Drawing, Pin, compose, place_pins
from shopdesk.ui.look import Colours, colours_of, spacing
from shopdesk.ui.widgets.range_painting import paint_small
from shopdesk.ui.widgets.severity_mark import severity_word
from shopdesk.wording import say

LARGE = 220  # pixels; a larger one would take the room of the words
Wanted = tuple[tuple[int, str, str], ...]  # number, part, severity


def wanted_pins(catalogue: Catalogue, findings: tuple[str, ...], purpose: Purpose = Purpose.FULL) -> Wanted:
    """The pins of findings, numbered as they were found; what the drawing has no part for is left out."""
    wanted = []
    for number, code in enumerate(findings, 1):
        finding = catalogue.findings.get(code)
        part = catalogue.checkpoints[finding.checkpoint].part if finding else ""
        if finding and part:
            wanted.append((number, part, finding.severity[purpose].value))
    return tuple(wanted)


def pins_in_words(wanted: Wanted) -> str:
    """How many of which severity, gravest first."""
    counts = {
        severity: sum(1 for _, _, s in wanted if s == severity) for severity in ("grave", "serious", "minor")
    }
    return ", ".join(f"{count} {severity_word(severity)}" for severity, count in counts.items() if count)


@lru_cache(maxsize=512)
def _placed(build: Build, wanted: Wanted) -> tuple[Drawing, tuple[Pin, ...]]:
    drawing = compose(build, "front")
    return drawing, place_pins(drawing, wanted, hidden_too=True)


@lru_cache(maxsize=512)
def _picture(build: Build, wanted: Wanted, side: int, ratio: float, colours: Colours) -> QPixmap:
    picture = QPixmap(round(side * ratio), round(side * ratio))
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    drawing, pins = _placed(build, wanted)
    paint_small(painter, QRectF(0, 0, side, side), drawing, pins, colours)
    painter.end()
    return picture


def paint_range(painter: QPainter, rect: QRectF, build: Build, wanted: Wanted, colours: Colours) -> None:
    """The front of a range with its pins in a square as high as the rectangle; drawn once and kept."""
    ratio = painter.device().devicePixelRatioF()
    side = int(min(rect.width(), rect.height()))
    corner = QPointF(rect.center().x() - side / 2, rect.center().y() - side / 2)
    painter.drawPixmap(corner, _picture(build, wanted, side, ratio, colours))


class RangePicture(QWidget):
    """The drawing by itself."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown: tuple[Build, Wanted] | None = None
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def show_range(self, build: Build, wanted: Wanted) -> None:
        self._shown = (build, wanted)
        found = pins_in_words(wanted) or say("nothing found")
        self.setAccessibleName(say("Drawing of the range: {found}", found=found))
        self.setToolTip(found)
        self.update()

    def sizeHint(self) -> QSize:
        side = min(LARGE, spacing(self.font()).row * 6)
        return QSize(side, side)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._shown is not None:
            painter = QPainter(self)
            paint_range(painter, QRectF(self.rect()), *self._shown, colours_of(self.palette()))
            painter.end()
