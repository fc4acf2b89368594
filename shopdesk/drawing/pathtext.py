"""Reads the path text of SVG (M L H V C Q Z, both cases) into segments. Knows nothing else."""

import re

from shopdesk.drawing.shapes import Path, Pen, Segment, Tone

_WORDS = re.compile(r"[MLHVCQZmlhvcqz]|-?(?:\d+\.?\d*|\.\d+)")
_LENGTH = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "Q": 4}


def path(text: str, pen: Pen = "fine", tone: Tone = "none") -> Path:
    """A path from its text; it counts as closed when the text ends in Z."""
    return Path(tuple(_segments(text)), text.strip()[-1:] in "Zz", pen, tone)


def _segments(text: str) -> list[Segment]:
    words = _WORDS.findall(text)
    if re.sub(r"[\s,]", "", text) != "".join(words):
        raise ValueError(f"path text with commands this program does not draw: {text!r}")
    out: list[Segment] = []
    x = y = x0 = y0 = 0.0
    kind, i = "", 0
    while i < len(words):
        if words[i].isalpha():
            kind = words[i]
            i += 1
            if kind in "Zz":
                out.append(("L", (x0, y0)))
                x, y = x0, y0
                continue
        take = _LENGTH[kind.upper()]
        at = _absolute(kind, [float(w) for w in words[i : i + take]], x, y)
        i += take
        out.append(_segment(kind.upper(), at, x, y))
        x, y = at[-2], at[-1]
        if kind in "Mm":
            x0, y0 = x, y
            kind = "L" if kind == "M" else "l"
    return out


def _absolute(kind: str, at: list[float], x: float, y: float) -> list[float]:
    match kind:
        case "H":
            return [at[0], y]
        case "h":
            return [x + at[0], y]
        case "V":
            return [x, at[0]]
        case "v":
            return [x, y + at[0]]
    if kind.islower():
        return [value + (x, y)[n % 2] for n, value in enumerate(at)]
    return at


def _segment(kind: str, at: list[float], x: float, y: float) -> Segment:
    if kind == "Q":
        qx, qy, ex, ey = at
        return "C", (
            x + (qx - x) * 2 / 3,
            y + (qy - y) * 2 / 3,
            ex + (qx - ex) * 2 / 3,
            ey + (qy - ey) * 2 / 3,
            ex,
            ey,
        )
    if kind == "C":
        return "C", tuple(at)
    return ("M" if kind == "M" else "L"), tuple(at)
