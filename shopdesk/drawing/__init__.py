"""The drawing of the range: our own line drawings, composed from a range's build.

From a build and a view to plain shapes that a window, an SVG file and a printed paper can
draw alike. Knows the domain's values and the wording; no screens, papers or records.
"""

from shopdesk.drawing.compose import VIEWS, compose, find, views
from shopdesk.drawing.hits import Hits, hits
from shopdesk.drawing.names import PART_IDS, PARTS, part_name
from shopdesk.drawing.pins import PIN_SIZE, Pin, pin_shapes, place_pins, spread_pins, stand_in
from shopdesk.drawing.shapes import (
    DASH,
    WEIGHTS,
    Bounds,
    Circle,
    Ellipse,
    Path,
    Pen,
    Rect,
    Shape,
    Text,
    Tone,
    outline,
)
from shopdesk.drawing.sheet import Drawing, DrawnPart, View
from shopdesk.drawing.svg import TONES, to_svg

__all__ = [
    "DASH",
    "PARTS",
    "PART_IDS",
    "PIN_SIZE",
    "TONES",
    "VIEWS",
    "WEIGHTS",
    "Bounds",
    "Circle",
    "Drawing",
    "DrawnPart",
    "Ellipse",
    "Hits",
    "Path",
    "Pen",
    "Pin",
    "Rect",
    "Shape",
    "Text",
    "Tone",
    "View",
    "compose",
    "find",
    "hits",
    "outline",
    "part_name",
    "pin_shapes",
    "place_pins",
    "spread_pins",
    "stand_in",
    "to_svg",
    "views",
]
