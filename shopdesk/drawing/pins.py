"""Numbered pins on a drawing: where they stand and what shape says how grave a finding is.

A circle is minor, a square serious, a diamond grave; a ring says that nothing is wrong there.
Colour is left to whoever draws and only supports the shape. Knows drawings, no widgets.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import cos, hypot, pi, sin

from shopdesk.drawing.hits import hits
from shopdesk.drawing.names import BURNERS
from shopdesk.drawing.shapes import Circle, Path, Rect, Shape, Text, Tone
from shopdesk.drawing.sheet import Drawing

PIN_SIZE = 15.0  # half the width of a pin on the full drawing

_STANDS_FOR: dict[str, tuple[str, ...]] = {
    "burners": ("grates", "top"),
    "grates": ("burners", "top"),
    "pilot": ("grates", "top"),
    "manifold": ("knobs", "front"),
    "valves": ("knobs", "front"),
    "regulator": ("front",),
    "inlet": ("side-left", "side-right", "frame", "legs"),
    "cord": ("outlet", "back"),
    "broiler": ("broiler-door", "griddle", "front"),
    "broiler-door": ("front",),
    "lamp": ("back", "shelf"),
    "clock": ("back", "front"),
    "outlet": ("back", "front"),
    "broiler-box": ("broiler-door", "front"),
    "oven": ("oven-door", "side-right", "side-left"),
    "oven-floor": ("oven", "oven-door"),
    "oven-burner": ("oven", "oven-door"),
    "oven-pilot": ("oven", "oven-door"),
    "bulb": ("oven", "oven-door"),
    "racks": ("oven", "oven-door"),
    "liner": ("oven", "oven-door"),
    "insulation": ("oven-door", "side-right", "side-left"),
    "damper": ("flue", "back", "oven-door"),
    "flue": ("back", "oven-door"),
    "thermostat": ("knobs", "oven-door"),
    "plate": ("frame", "broiler-door", "drawers", "back"),
    "frame": ("legs", "front"),
    "side-left": ("front",),
    "side-right": ("front",),
    "oven-window": ("oven-door",),
    "deep-well": ("top",),
    "griddle": ("top",),
    "drawers": ("front",),
    "handles": ("front",),
    "badge": ("front",),
    "trim": ("top", "front"),
    "room": ("legs",),
} | dict.fromkeys(BURNERS, ("burners", "grates", "top"))


@dataclass(frozen=True, slots=True)
class Pin:
    """A numbered mark; `severity` is a word of the catalogue: none, minor, serious, grave.

    `part` is the part meant, even where the pin stands on another that hides it.
    """

    number: int
    x: float
    y: float
    severity: str
    part: str = ""


def stand_in(drawing: Drawing, part: str) -> str | None:
    """The part itself if this view shows it, else the part that hides it, else None."""
    seen = {p.id for p in drawing.parts}
    if part in seen:
        return part
    return next((other for other in _STANDS_FOR.get(part, ()) if other in seen), None)


def place_pins(
    drawing: Drawing,
    wanted: Iterable[tuple[int, str, str]],
    *,
    hidden_too: bool = False,
    size: float = PIN_SIZE,
) -> tuple[Pin, ...]:
    """Pins for (number, part, severity), none over another and none off the drawing.

    Parts this view does not show get no pin; with `hidden_too` they stand on the part that
    hides them. `size` is half a pin's width in drawing units.
    """
    placed: list[Pin] = []
    for number, part, severity in wanted:
        home = stand_in(drawing, part) if hidden_too else part
        drawn = drawing.part(home) if home else None
        if drawn is None:
            continue
        x, y = _free_place(drawing, hits(drawing).anchor(drawn), placed, size)
        placed.append(Pin(number, x, y, severity, part))
    return tuple(placed)


def spread_pins(drawing: Drawing, pins: Iterable[Pin], size: float) -> tuple[Pin, ...]:
    """The same pins moved apart for another pin size, the gravest keeping their places best."""
    rank = {"grave": 0, "serious": 1, "minor": 2}
    placed: list[Pin] = []
    for pin in sorted(pins, key=lambda p: (rank.get(p.severity, 3), p.number)):
        x, y = _free_place(drawing, (pin.x, pin.y), placed, size)
        placed.append(replace(pin, x=x, y=y))
    return tuple(placed)


def _free_place(
    drawing: Drawing, start: tuple[float, float], placed: list[Pin], size: float
) -> tuple[float, float]:
    """The nearest free place on rings round the start; the last one tried when all are taken."""
    apart = size * 2.25
    x, y = start
    for ring in range(60):
        steps = max(1, ring * 6)
        for step in range(steps):
            angle = 2 * pi * step / steps
            x = start[0] + ring * apart / 2 * cos(angle)
            y = start[1] + ring * apart / 2 * sin(angle)
            inside = size <= x <= drawing.width - size and size <= y <= drawing.height - size
            if inside and all(hypot(x - pin.x, y - pin.y) >= apart for pin in placed):
                return x, y
    return x, y


def pin_shapes(pin: Pin, size: float) -> list[Shape]:
    """What a pin looks like: its shape and its number."""
    x, y = pin.x, pin.y
    match pin.severity:
        case "grave":
            d = size * 1.3
            points = ((x, y - d), (x + d, y), (x, y + d), (x - d, y))
            body: Shape = Path(
                tuple(("M" if n == 0 else "L", at) for n, at in enumerate(points)), True, "bold", "ink"
            )
            tone: Tone = "paper"
        case "serious":
            body, tone = Rect(x - size, y - size, 2 * size, 2 * size, size * 0.2, "bold", "shade"), "ink"
        case "minor":
            body, tone = Circle(x, y, size, "bold", "paper"), "ink"
        case _:
            body, tone = Circle(x, y, size, "hidden", "paper"), "ink"
    letters = size * (1.15 if pin.number < 10 else 1.0 if pin.number < 100 else 0.8)
    return [body, Text(x, y + letters * 0.36, letters, str(pin.number), "none", tone)]
