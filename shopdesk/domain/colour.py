"""Colours by their six hexadecimal figures, and whether they can be read on paper."""

import re

from shopdesk.domain.problem import Problem

_WRITTEN = re.compile(r"#?([0-9a-f]{6})", re.IGNORECASE)
WHITE = "#ffffff"
LEAST_FOR_TEXT = 4.5  # W3C, WCAG 2.2, success criterion 1.4.3 (AA)


def contrast(one: str, other: str) -> float:
    """Contrast of two colours, 1 to 21 (W3C, WCAG 2.2, "contrast ratio")."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def ink(text: str) -> str:
    """A colour for headings on white paper as `#rrggbb`; "" stays "". A Problem for one that is too light."""
    if not text.strip():
        return ""
    found = _WRITTEN.fullmatch(text.strip())
    if found is None:
        raise Problem("{typed} is not a colour. Write six figures from 0 to f, such as #1c2b45.", typed=text)
    colour = f"#{found[1].lower()}"
    if contrast(colour, WHITE) < LEAST_FOR_TEXT:
        raise Problem("{colour} is too light to be read on white paper. Choose a darker one.", colour=colour)
    return colour


def _luminance(colour: str) -> float:
    """Relative luminance, 0 to 1 (W3C, WCAG 2.2, "relative luminance")."""
    parts = [int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
