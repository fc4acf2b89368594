"""The colours of the window, one set for each scheme, told by what they are for.

Warm paper grey with one accent, a blue-black like the ground coat under enamel. Severity and
hold are told by word and shape; their colours only support. `PAIRS` names every text and
ground that meet on a screen, for the contrast test.
"""

from dataclasses import dataclass
from typing import Literal

from PySide6.QtGui import QColor, QPalette

Scheme = Literal["light", "dark", "contrast"]


@dataclass(frozen=True, slots=True)
class Colours:
    """Hexadecimal colours by their use."""

    scheme: Scheme
    window: str  # the paper everything lies on
    rail: str  # the rail of places
    base: str  # lists and fields
    alternate: str  # every other row
    button: str
    text: str
    muted: str  # secondary text
    line: str  # hairlines and frames
    edge: str  # edges one must see: fields, focusless controls
    off: str  # words of what cannot be used now
    accent: str
    accent_text: str
    link: str
    focus: str
    enamel: str  # tones of the drawing
    shade: str
    dark: str
    glass: str
    bright: str
    minor: str  # grounds of pins and marks
    minor_text: str
    serious: str
    serious_text: str
    grave: str
    grave_text: str
    hold: str  # the mark of what a range is held for
    problem: str  # the sentence beside a wrong field


LIGHT = Colours(
    scheme="light",
    window="#efece6",
    rail="#e4e0d8",
    base="#faf8f4",
    alternate="#f3f0ea",
    button="#e9e5dd",
    text="#22262a",
    muted="#5b5a55",
    line="#d3cec4",
    edge="#817b71",
    off="#817b71",
    accent="#22384d",
    accent_text="#ffffff",
    link="#1f4f7a",
    focus="#2f6690",
    enamel="#fdfcf9",
    shade="#e9e5dd",
    dark="#c8c3b9",
    glass="#dbe2e6",
    bright="#f5f5f3",
    minor="#fdfcf9",
    minor_text="#22262a",
    serious="#f0c979",
    serious_text="#22262a",
    grave="#8c2f23",
    grave_text="#ffffff",
    hold="#7a4a10",
    problem="#8c2f23",
)

DARK = Colours(
    scheme="dark",
    window="#25221e",
    rail="#1d1b18",
    base="#1c1a17",
    alternate="#221f1b",
    button="#35312b",
    text="#ece6da",
    muted="#b5ad9f",
    line="#423d36",
    edge="#8d8578",
    off="#8d8578",
    accent="#a9c1d6",
    accent_text="#17212b",
    link="#a3c6e6",
    focus="#8fb9dd",
    enamel="#34302a",
    shade="#292621",
    dark="#5a5348",
    glass="#39444c",
    bright="#454038",
    minor="#25221e",
    minor_text="#ece6da",
    serious="#d9aa50",
    serious_text="#1c1a17",
    grave="#f0a396",
    grave_text="#2a0f0a",
    hold="#e4b878",
    problem="#f0a396",
)

CONTRAST = Colours(
    scheme="contrast",
    window="#000000",
    rail="#000000",
    base="#000000",
    alternate="#0d0d0d",
    button="#000000",
    text="#ffffff",
    muted="#ffffff",
    line="#ffffff",
    edge="#ffffff",
    off="#9a9a9a",
    accent="#ffe14a",
    accent_text="#000000",
    link="#8fd0ff",
    focus="#ffe14a",
    enamel="#000000",
    shade="#1a1a1a",
    dark="#4d4d4d",
    glass="#14303f",
    bright="#262626",
    minor="#000000",
    minor_text="#ffffff",
    serious="#ffe14a",
    serious_text="#000000",
    grave="#ffffff",
    grave_text="#000000",
    hold="#ffe14a",
    problem="#ffb3a6",
)

SCHEMES: dict[Scheme, Colours] = {"light": LIGHT, "dark": DARK, "contrast": CONTRAST}

_GROUNDS = ("window", "rail", "base", "alternate", "button")
PAIRS: tuple[tuple[str, str], ...] = (
    *((text, ground) for text in ("text", "muted") for ground in _GROUNDS),
    *((text, ground) for text in ("link", "hold", "problem") for ground in ("window", "base", "alternate")),
    ("accent_text", "accent"),
    ("minor_text", "minor"),
    ("serious_text", "serious"),
    ("grave_text", "grave"),
    *(("text", tone) for tone in ("enamel", "shade", "glass", "bright")),
)
MARKS: tuple[tuple[str, str], ...] = (
    *((mark, ground) for mark in ("accent", "focus", "edge") for ground in ("window", "base", "rail")),
    ("text", "dark"),
)


def colours_of(palette: QPalette) -> Colours:
    """The set of colours a palette was made from; for a foreign palette the nearest by lightness.

    Told by the ground of lists and fields, which no class of widgets has changed.
    """
    base = palette.color(QPalette.ColorRole.Base)
    for colours in SCHEMES.values():
        if QColor(colours.base) == base:
            return colours
    return LIGHT if base.lightness() > 128 else DARK
