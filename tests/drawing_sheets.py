"""Contact sheets of the range's drawings, to be looked at: `python -m tests.drawing_sheets FOLDER`.

One sheet a view with every build beside the others, as the widget paints them with pins, light and dark,
at 100 % and at 200 %. Needs a display (or QT_QPA_PLATFORM=offscreen).
"""

import sys
from pathlib import Path

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QColor, QFont, QImage, QPainter
from PySide6.QtWidgets import QApplication

from shopdesk.domain.build import Build
from shopdesk.drawing import View, compose, place_pins, views
from shopdesk.drawing.compose import VIEWS
from shopdesk.ui.look import apply_look, colours_of
from shopdesk.ui.widgets.range_drawing import RangeDrawing

BUILDS = {
    "plain": Build(),
    "low back": Build(back="low"),
    "no back": Build(back="none"),
    "6 burners": Build(burners=6),
    "2 burners": Build(burners=2),
    "8 burners, 2 ovens": Build(burners=8, ovens=2),
    "2 ovens": Build(ovens=2),
    "3 ovens": Build(ovens=3, burners=6),
    "deep well": Build(deep_well=True),
    "6 burners, deep well": Build(burners=6, deep_well=True),
    "griddle": Build(griddle=True),
    "griddle, no broiler": Build(griddle=True, broiler=False),
    "lamp, clock, shelf": Build(lamp=True, clock=True, shelf=True, outlet=True),
    "low back, lamp, clock": Build(back="low", lamp=True, clock=True, shelf=True),
    "legs": Build(base="legs"),
    "oven on the left": Build(oven_side="left", griddle=True),
    "fold top, window": Build(fold_top=True, window=True),
    "match, no thermostat": Build(lighting="match", thermostat=False, back="low", base="legs"),
    "everything": Build(
        burners=6, ovens=2, griddle=True, deep_well=True, lamp=True, clock=True, shelf=True, outlet=True,
        fold_top=True, window=True,
    ),
    "everything, left, legs": Build(
        burners=6, ovens=2, griddle=True, deep_well=True, lamp=True, clock=True, shelf=True, outlet=True,
        fold_top=True, window=True, oven_side="left", base="legs", lighting="match with safety pilot",
    ),
}  # fmt: skip
CELL, COLUMNS, PINS = (300, 290), 5, 7
_NAME = 20  # pixels for the name of the build
_SEVERITIES = ("grave", "serious", "minor", "none")


def main(folder: Path) -> None:
    app = QApplication.instance() or QApplication(["shopdesk"])
    assert isinstance(app, QApplication)
    folder.mkdir(parents=True, exist_ok=True)
    for scheme in ("light", "dark"):
        for scale in (1, 2):
            apply_look(app, scheme, float(scale))
            for view in VIEWS:
                sheet(app, view, scale).save(str(folder / f"{view}-{scheme}-{scale}00.png"))


def sheet(app: QApplication, view: View, scale: int) -> QImage:
    """Every build that has the view, each with pins on some of its parts."""
    shown = {name: build for name, build in BUILDS.items() if view in views(build)}
    wide, high = CELL[0], CELL[1]
    image = QImage(COLUMNS * wide, -(-len(shown) // COLUMNS) * high, QImage.Format.Format_RGB32)
    colours = colours_of(app.palette())
    image.fill(QColor(colours.window))
    painter = QPainter(image)
    for place, (name, build) in enumerate(shown.items()):
        box = QRect(place % COLUMNS * wide, place // COLUMNS * high, wide, high)
        painter.drawPixmap(box.left(), box.top() + _NAME, _drawn(build, view).grab())
        painter.setPen(QColor(colours.text))
        painter.setFont(_caption(app))
        painter.drawText(box, Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignHCenter, name)
    painter.end()
    return image


def _drawn(build: Build, view: View) -> RangeDrawing:
    drawing = compose(build, view)
    widget = RangeDrawing()
    widget.resize(CELL[0] - 8, CELL[1] - _NAME - 4)
    widget.setDrawing(drawing)
    parts = widget.parts()
    some = parts[:: max(1, len(parts) // PINS)]
    wanted = [(n, part, _SEVERITIES[n % 4]) for n, part in enumerate(some, 1)]
    widget.setPins(place_pins(drawing, wanted))
    return widget


def _caption(app: QApplication) -> QFont:
    font = app.font()
    font.setPixelSize(13)
    return font


if __name__ == "__main__":
    main(Path(sys.argv[1]))
