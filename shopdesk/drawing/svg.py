"""A drawing with its pins as SVG text. Colours are the paper's: ink on white."""

from collections.abc import Iterable, Mapping
from html import escape  # the XML library's own brings the whole network with it

from shopdesk.drawing.pins import PIN_SIZE, Pin, pin_shapes
from shopdesk.drawing.shapes import DASH, WEIGHTS, Circle, Ellipse, Path, Rect, Shape, Text, Tone
from shopdesk.drawing.sheet import Drawing

INK = "#1f2a35"
TONES: Mapping[Tone, str] = {
    "none": "none",
    "paper": "#ffffff",
    "enamel": "#fbfaf7",
    "shade": "#ebe8e1",
    "dark": "#c9c5bc",
    "glass": "#dfe4e6",
    "bright": "#f4f4f2",
    "ink": INK,
}


def to_svg(drawing: Drawing, pins: Iterable[Pin] = ()) -> str:
    """The drawing as one SVG document; each part is a group with its id and its name as title."""
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_n(drawing.width)} {_n(drawing.height)}"'
        f' fill="none" stroke="{INK}" stroke-linecap="round" stroke-linejoin="round">'
    ]
    for part in drawing.parts:
        lines.append(f'<g id="{escape(part.id)}"><title>{escape(part.name, quote=False)}</title>')
        lines += [svg_shape(shape) for shape in part.shapes]
        lines.append("</g>")
    for pin in pins:
        lines.append(f'<g id="pin-{pin.number}">')
        lines += [svg_shape(shape) for shape in pin_shapes(pin, PIN_SIZE)]
        lines.append("</g>")
    return "\n".join([*lines, "</svg>", ""])


def svg_shape(shape: Shape) -> str:
    """One shape as an SVG element."""
    match shape:
        case Path(segments):
            words = " ".join(kind + " ".join(_n(v) for v in at) for kind, at in segments)
            return f'<path d="{words}{" Z" if shape.closed else ""}"{_style(shape)}/>'
        case Rect(x, y, w, h, r):
            box = f'x="{_n(x)}" y="{_n(y)}" width="{_n(w)}" height="{_n(h)}" rx="{_n(r)}"'
            return f"<rect {box}{_style(shape)}/>"
        case Circle(x, y, r):
            return f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(r)}"{_style(shape)}/>'
        case Ellipse(x, y, rx, ry):
            return f'<ellipse cx="{_n(x)}" cy="{_n(y)}" rx="{_n(rx)}" ry="{_n(ry)}"{_style(shape)}/>'
        case Text(x, y, size, text):
            return (
                f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(size)}" text-anchor="middle"'
                f' fill="{TONES[shape.tone]}" stroke="none">{escape(text, quote=False)}</text>'
            )


def _style(shape: Path | Rect | Circle | Ellipse) -> str:
    words = f' fill="{TONES[shape.tone]}"' if shape.tone != "none" else ""
    if shape.pen == "none":
        return words + ' stroke="none"'
    words += f' stroke-width="{WEIGHTS[shape.pen]}"'
    if shape.pen == "hidden":
        words += f' stroke-dasharray="{DASH[0]} {DASH[1]}"'
    return words


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
