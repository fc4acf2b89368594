"""The range seen from its left or its right side, with the wall and the floor."""

from typing import Literal

from shopdesk.domain.build import Build
from shopdesk.drawing.front import FLOOR
from shopdesk.drawing.pathtext import path
from shopdesk.drawing.proportions import (
    BACK_DEPTH,
    DEPTH,
    INCH,
    LEAF,
    MARGIN,
    PANEL,
    SLAB,
    TOP_HIGH,
    Proportions,
    lamp_high,
    shelf_high,
)
from shopdesk.drawing.shapes import Circle, Ellipse, Rect, moved
from shopdesk.drawing.sheet import Drawing, Sheet

WALL = 30.0  # the wall's face from the left edge
REAR = WALL + 3.4 * INCH  # the rear of the body
FRONT = REAR + DEPTH


def draw_side(build: Build, p: Proportions, side: Literal["left", "right"]) -> Drawing:
    """The elevation of one side: from the left the front looks right, from the right it looks left."""
    sheet = Sheet(side, FRONT + 3.4 * INCH + 20, p.rise + TOP_HIGH + MARGIN + FLOOR)
    top = MARGIN + p.rise
    _room(sheet)
    _services(sheet, build, p, top)
    _rear(sheet, build, p, top)
    _on_top(sheet, build, p, top)
    _body(sheet, build, p, top, side)
    _front_edge(sheet, build, p, top, side)
    if side == "left":
        return sheet.drawing()
    return _mirrored(sheet).drawing()


def _mirrored(sheet: Sheet) -> Sheet:
    other = Sheet(sheet.view, sheet.width, sheet.height)
    for part, shapes in sheet.items():
        other.add(part, *(moved(shape, lambda x, y: (sheet.width - x, y)) for shape in shapes))
    return other


def _room(sheet: Sheet) -> None:
    y = sheet.height - FLOOR
    sheet.add("room", path(f"M{WALL} 10 V{y} H{sheet.width - 6}", "bold"))
    sheet.add("room", *(path(f"M{x} {y + 4} l-9 9") for x in range(50, int(sheet.width) - 10, 26)))
    sheet.add("room", *(path(f"M{WALL - 4} {n} l-9 9") for n in range(26, int(y) - 8, 26)))


def _services(sheet: Sheet, build: Build, p: Proportions, top: float) -> None:
    """Flue, gas and cord between range and wall."""
    y = top + 150
    sheet.add("flue", Rect(WALL, y - 30, REAR - WALL + 8, 60, 0, "bold", "shade"))
    sheet.add("flue", Rect(REAR - 12, y - 35, 12, 70, 2, "bold", "bright"))
    sheet.add("damper", path(f"M{WALL + 12} {y + 22} L{REAR - 20} {y - 22}", "bold"))
    y = top + 470
    sheet.add("inlet", Rect(WALL, y - 7, REAR - WALL + 6, 14, 2, "bold", "bright"))
    sheet.add("inlet", Rect(WALL + 18, y - 12, 20, 24, 4, "bold", "bright"))
    sheet.add("inlet", Rect(WALL + 24, y - 30, 8, 22, 3, "bold", "dark"))
    if build.electrical:
        y = top + 300
        sheet.add("cord", Rect(WALL, y - 22, 7, 44, 2, "bold", "bright"))
        sheet.add("cord", Rect(WALL + 7, y - 9, 18, 18, 4, "bold", "dark"))
        sheet.add(
            "cord",
            path(f"M{WALL + 25} {y} C{WALL + 52} {y} {WALL + 20} {y + 70} {REAR + 2} {y + 60}", "bold"),
        )


def _rear(sheet: Sheet, build: Build, p: Proportions, top: float) -> None:
    crown = top - max(p.back_high, 14)
    face = REAR + BACK_DEPTH - 8
    curl = 10 if build.back == "none" else 26
    sheet.add(
        "back",
        path(
            f"M{REAR} {top} V{crown + 8} Q{REAR} {crown} {REAR + 8} {crown} H{face - curl} "
            f"Q{face} {crown} {face} {crown + curl} V{top} Z",
            "bold",
            "enamel",
        ),
    )
    sheet.add("back", path(f"M{face - 8} {top - 4} V{crown + curl}"))
    if build.shelf:
        _shelf(sheet, build, top)
    if build.lamp:
        y = top - lamp_high(build)
        x = face - 8 if build.back == "high" else REAR + 12
        if not build.shelf and build.back != "high":
            sheet.add(
                "lamp", Rect(REAR + 14, y + 10, 12, top - max(p.back_high, 6) - y - 10, 3, "bold", "bright")
            )
        sheet.place("lamp-side", x, y, 70)
    if build.clock and build.back == "high":
        y = top - p.back_high * 0.46
        sheet.add("clock", path(f"M{face} {y - 36} q9 0 9 9 v54 q0 9 -9 9 Z", "bold", "bright"))
    if build.clock and build.back == "low":
        sheet.add("clock", Rect(face - 20, top - p.back_high - 34, 24, 60, 6, "bold", "bright"))
    if build.outlet and build.back != "none":
        sheet.add("outlet", Rect(face, top - p.back_high * 0.4 - 20, 6, 40, 2, "bold", "bright"))


def _shelf(sheet: Sheet, build: Build, top: float) -> None:
    y = top - shelf_high(build) - INCH
    deep = 8.5 * INCH
    if build.back == "high":
        x = REAR + BACK_DEPTH - 8
        sheet.add("shelf", path(f"M{x} {y + 17} h76 c-30 8 -66 26 -76 56 Z", "bold", "bright"))
    else:
        sheet.add("shelf", Rect(REAR + 10, y + 14, 14, top - y - 14, 3, "bold", "bright"))
        sheet.add("shelf", path(f"M{REAR + 24} {y + 17} h66 c-26 6 -58 22 -66 50 Z", "bold", "bright"))
    sheet.add("shelf", Rect(REAR, y, deep, 17, 7, "bold", "enamel"))


def _on_top(sheet: Sheet, build: Build, p: Proportions, top: float) -> None:
    if build.griddle:
        sheet.place("griddle-profile", REAR + 66, top - 13, DEPTH - 120)
    for slot in p.slots:
        x = FRONT - slot.depth
        if slot.number:
            sheet.place("grate-profile", x - 66, top - 14, 132)
        else:
            sheet.place("well-profile", x - 55, top - 32, 110)
    if build.fold_top:
        x = REAR + BACK_DEPTH + 4
        long = LEAF * 1.5
        sheet.add(
            "fold-top",
            path(f"M{x} {top - 3} l{long * 0.72} {-LEAF} l7 7 L{x + 12} {top} Z", "bold", "enamel"),
        )
        sheet.add("fold-top", Circle(x + 5, top - 4, 5, "bold", "bright"))
        sheet.add(
            "fold-top",
            path(
                f"M{x + long * 0.8} {top - LEAF} C{x + 190} {top - LEAF - 6} {FRONT - 60} {top - 60} "
                f"{FRONT - 46} {top - 18}",
                "hidden",
            ),
        )


def _body(sheet: Sheet, build: Build, p: Proportions, top: float, side: str) -> None:
    floor = top + TOP_HIGH
    y = floor - p.foot
    if build.base == "legs":
        sheet.add("frame", Rect(REAR + 20, y - 2, DEPTH - 40, 12, 2, "fine", "shade"))
        sheet.place("leg", REAR + 4, y, 46)
        sheet.place("leg-right", FRONT - 50, y, 46)
    else:
        sheet.add("legs", Rect(REAR + 6, y, DEPTH - 58, p.foot, 2, "bold", "shade"))
        sheet.add("legs", path(f"M{REAR + 20} {y + 18} H{FRONT - 66} M{REAR + 20} {y + 40} H{FRONT - 66}"))
    panel = f"side-{side}"
    sheet.add(panel, Rect(REAR, top + SLAB, DEPTH, y - top - SLAB, 5, "bold", "enamel"))
    inner = Rect(REAR + 34, top + SLAB + PANEL + 14, DEPTH - 68, y - top - SLAB - PANEL - 46, 26)
    sheet.add(panel, inner, Rect(inner.x + 7, inner.y + 7, inner.width - 14, inner.height - 14, 20))
    sheet.add(panel, path(f"M{REAR + 8} {top + SLAB + PANEL} H{FRONT - 4}"))
    sheet.add(panel, *(Circle(REAR + 10, top + SLAB + 24 + n * 150, 2.4) for n in range(3)))
    sheet.add(
        "top",
        path(
            f"M{REAR - 2} {top} H{FRONT} Q{FRONT + 8} {top} {FRONT + 8} {top + 9} V{top + SLAB - 4} "
            f"Q{FRONT + 8} {top + SLAB} {FRONT + 4} {top + SLAB} H{REAR - 2} Z",
            "bold",
            "enamel",
        ),
    )
    sheet.add("trim", path(f"M{REAR + 4} {top + SLAB - 7} H{FRONT + 6}"))


def _front_edge(sheet: Sheet, build: Build, p: Proportions, top: float, side: str) -> None:
    """What stands out at the front: handles of valves and doors, and the door skins' edge."""
    y = top + SLAB + PANEL / 2
    sheet.add("knobs", Rect(FRONT, y - 16, 6, 32, 2, "fine", "bright"))
    sheet.add("knobs", path(f"M{FRONT + 6} {y - 12} h16 q6 0 6 6 v12 q0 6 -6 6 h-16 Z", "bold", "dark"))
    if build.thermostat and build.oven_side == side:
        sheet.add("thermostat", Rect(FRONT, y - 30, 8, 60, 3, "bold", "bright"))
        sheet.add(
            "thermostat", path(f"M{FRONT + 8} {y - 14} h18 q6 0 6 6 v16 q0 6 -6 6 h-18 Z", "bold", "dark")
        )
    body = top + SLAB + PANEL
    edge = min(b.x for b in p.bays) if side == "left" else max(b.x + b.width for b in p.bays)
    for bay in p.bays:
        near = bay.x if side == "left" else bay.x + bay.width
        if abs(near - edge) > 1:
            continue
        part = {"oven": "oven-door", "broiler": "broiler-door", "drawer": "drawers"}[bay.kind]
        sheet.add(part, Rect(FRONT - 2, body + bay.y, 11, bay.height, 5, "bold", "enamel"))
        at = body + bay.y + 32
        sheet.add("handles", Rect(FRONT + 8, at - 5, 16, 10, 2, "fine", "shade"))
        sheet.add("handles", Ellipse(FRONT + 28, at, 7, 10, "bold", "bright"))
