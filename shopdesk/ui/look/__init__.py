"""The look of the window: colours, letters, icons and distances, and putting them on.

Knows Qt and `resources/`; no records, services or screens.
"""

from typing import Literal

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from shopdesk.ui.look.colours import MARKS, PAIRS, SCHEMES, Colours, colours_of
from shopdesk.ui.look.icons import PROGRAM, icon, icon_names, icon_pixmap, paint_icon
from shopdesk.ui.look.letters import body_font, letters, tabular
from shopdesk.ui.look.palette import FRAMED, framed_palette, palette_of, style_sheet
from shopdesk.ui.look.spacing import Spacing, spacing

Wish = Literal["system", "light", "dark", "contrast"]
WISHES: tuple[Wish, ...] = ("system", "light", "dark", "contrast")
LARGEST = 2.0


def apply_look(app: QApplication, scheme: Wish = "system", scale: float = 1.0) -> Colours:
    """Put style, palette, letters and the program's icon on; hands back the colours in use.

    `scale` is the text scale, held between 0.8 and 2.0. `system` follows the desktop where
    it says anything, else light.
    """
    colours = _wished(app, scheme)
    if app.style().objectName().lower() != "fusion":
        app.setStyle("Fusion")
    app.setFont(body_font(min(LARGEST, max(0.8, scale))))
    app.setPalette(palette_of(colours))
    for name in FRAMED:
        app.setPalette(framed_palette(colours), name)  # type: ignore[arg-type]  # the stub asks for bytes, the call for str
    app.setStyleSheet(style_sheet(colours))
    app.setWindowIcon(icon(PROGRAM))
    return colours


def _wished(app: QApplication, scheme: Wish) -> Colours:
    if scheme != "system":
        return SCHEMES[scheme]
    dark = app.styleHints().colorScheme() == Qt.ColorScheme.Dark
    return SCHEMES["dark" if dark else "light"]


__all__ = [
    "LARGEST",
    "MARKS",
    "PAIRS",
    "PROGRAM",
    "SCHEMES",
    "WISHES",
    "Colours",
    "Spacing",
    "Wish",
    "apply_look",
    "body_font",
    "colours_of",
    "icon",
    "icon_names",
    "icon_pixmap",
    "letters",
    "paint_icon",
    "palette_of",
    "spacing",
    "style_sheet",
    "tabular",
]
