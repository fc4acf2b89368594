"""The one typeface of papers, embedded in every file. Registered once, here."""

from functools import cache

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from shopdesk import paths

REGULAR, BOLD, ITALIC = "ShopdeskText", "ShopdeskText-Bold", "ShopdeskText-Italic"
_FILES = {REGULAR: "Regular", BOLD: "Bold", ITALIC: "Italic"}


@cache
def register() -> None:
    """Make the typeface known to reportlab; harmless to call again."""
    for name, style in _FILES.items():
        pdfmetrics.registerFont(TTFont(name, str(paths.resource("fonts", f"ShopdeskText-{style}.ttf"))))
    pdfmetrics.registerFontFamily(REGULAR, normal=REGULAR, bold=BOLD, italic=ITALIC, boldItalic=BOLD)


def width_of(text: str, font: str, size: float) -> float:
    """Width of a line in points."""
    register()
    return float(pdfmetrics.stringWidth(text, font, size))


def fitted(text: str, font: str, size: float, room: float) -> str:
    """The text, cut with an ellipsis where it would run past `room` points."""
    if width_of(text, font, size) <= room:
        return text
    while text and width_of(text + "…", font, size) > room:
        text = text[:-1]
    return text.rstrip() + "…"
