"""The typeface and its few sizes, all derived from one size in points."""

from functools import cache
from typing import Literal

from PySide6.QtGui import QFont, QFontDatabase, QFontInfo

from shopdesk import paths

Role = Literal["small", "body", "strong", "title", "head"]

BODY_POINTS = 10.5
_SIZES: dict[Role, tuple[float, QFont.Weight]] = {
    "small": (0.88, QFont.Weight.Normal),
    "body": (1.0, QFont.Weight.Normal),
    "strong": (1.0, QFont.Weight.DemiBold),
    "title": (1.25, QFont.Weight.DemiBold),
    "head": (1.6, QFont.Weight.DemiBold),
}


@cache
def shipped_family() -> str:
    """The family of the first upright shipped typeface; "" when none is shipped or readable."""
    try:
        files = sorted(paths.resource("fonts").glob("*.ttf"))
    except FileNotFoundError:
        return ""
    families: list[str] = []
    for file in files:
        number = QFontDatabase.addApplicationFont(str(file))
        families += QFontDatabase.applicationFontFamilies(number) if number >= 0 else []
    words = [f for f in families if "mono" not in f.lower()]
    return (words or families or [""])[0]


def body_font(scale: float = 1.0) -> QFont:
    """The window's font at a text scale (1.0 to 2.0), figures all of one width."""
    font = QFont(shipped_family()) if shipped_family() else QFont()
    font.setPointSizeF(BODY_POINTS * scale)
    font.setStyleStrategy(QFont.StyleStrategy.PreferAntialias)
    return tabular(font)


def tabular(font: QFont) -> QFont:
    """The same font with figures of one width, for money, hours and dates in columns."""
    figures = QFont(font)
    figures.setFeature(QFont.Tag("tnum"), 1)
    return figures


def letters(role: Role, body: QFont) -> QFont:
    """The font of a role, sized from the body font it stands among."""
    size, weight = _SIZES[role]
    font = QFont(body)
    points = body.pointSizeF() if body.pointSizeF() > 0 else QFontInfo(body).pointSizeF()
    font.setPointSizeF(points * size)
    font.setWeight(weight)
    return font
