"""Our line icons, in the colours of the palette and crisp at every size.

Source: `resources/icons/*.svg`, a 24 unit grid with 1.6 strokes in currentColor.
"""

from functools import cache

from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QGuiApplication, QIcon, QPainter, QPalette, QPixmap
from PySide6.QtSvg import QSvgRenderer

from shopdesk import paths

SIZES = (16, 20, 24, 32, 48, 64, 96)
PROGRAM = "shopdesk"


@cache
def icon_names() -> tuple[str, ...]:
    """Every icon that is shipped."""
    return tuple(sorted(file.stem for file in paths.resource("icons").glob("*.svg")))


def icon(name: str, palette: QPalette | None = None) -> QIcon:
    """An icon in the palette's colours (the application's when none is given).

    Ask again after a change of palette. FileNotFoundError for a name that is not shipped.
    """
    colours = palette or QGuiApplication.palette()
    role = QPalette.ColorRole
    return _icon(
        name,
        colours.color(QPalette.ColorGroup.Active, role.ButtonText).name(),
        colours.color(QPalette.ColorGroup.Disabled, role.ButtonText).name(),
        colours.color(QPalette.ColorGroup.Active, role.HighlightedText).name(),
    )


@cache
def _icon(name: str, normal: str, disabled: str, chosen: str) -> QIcon:
    picture = QIcon()
    for size in SIZES:
        picture.addPixmap(icon_pixmap(name, size, normal), QIcon.Mode.Normal, QIcon.State.Off)
        picture.addPixmap(icon_pixmap(name, size, chosen), QIcon.Mode.Normal, QIcon.State.On)
        picture.addPixmap(icon_pixmap(name, size, disabled), QIcon.Mode.Disabled, QIcon.State.Off)
        picture.addPixmap(icon_pixmap(name, size, chosen), QIcon.Mode.Selected, QIcon.State.Off)
    return picture


def icon_pixmap(name: str, size: int, colour: str, ratio: float = 1.0) -> QPixmap:
    """One icon at `size` logical pixels, drawn for a screen with `ratio` dots a pixel."""
    _renderer(name, colour)  # before a painter stands open: a missing file must not leave one behind
    pixmap = QPixmap(round(size * ratio), round(size * ratio))
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    paint_icon(painter, QRectF(0, 0, size * ratio, size * ratio), name, colour)
    painter.end()
    pixmap.setDevicePixelRatio(ratio)
    return pixmap


def paint_icon(painter: QPainter, rect: QRectF, name: str, colour: str) -> None:
    """Draw an icon into a rectangle, for delegates and drawn strips."""
    _renderer(name, colour).render(painter, rect)


@cache
def _renderer(name: str, colour: str) -> QSvgRenderer:
    text = paths.resource("icons", f"{name}.svg").read_text(encoding="utf-8")
    return QSvgRenderer(QByteArray(text.replace("currentColor", colour).encode()))
