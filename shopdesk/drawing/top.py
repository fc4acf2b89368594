"""The range seen from above: the cooktop with its grates, the griddle and the well."""

from shopdesk.domain.build import Build
from shopdesk.drawing.pathtext import path
from shopdesk.drawing.proportions import (
    BACK_DEPTH,
    DEPTH,
    INCH,
    MARGIN,
    Proportions,
    clock_place,
    dial_place,
    knob_places,
)
from shopdesk.drawing.shapes import Circle, Rect
from shopdesk.drawing.sheet import Drawing, Sheet

KNOB_OUT = 24.0


def draw_top(build: Build, p: Proportions) -> Drawing:
    """The plan, the wall above and the front below."""
    rear = MARGIN + BACK_DEPTH
    sheet = Sheet("top", p.width + 2 * MARGIN, rear + DEPTH + KNOB_OUT + MARGIN)
    front = rear + DEPTH
    _room(sheet)
    _rear(sheet, build, p, rear)
    _deck(sheet, build, p, rear, front)
    for slot in p.slots:
        x, y = MARGIN + slot.x, front - slot.depth
        if slot.number:
            size = min(p.pitch - 14, 146)
            sheet.centre("burner-top", x, y, size, {"burner": f"burner-{slot.number}"})
        else:
            sheet.centre("well-top", x, y, min(p.pitch - 16, 132))
    _centre(sheet, build, p, rear, front)
    _front_edge(sheet, build, p, front)
    if build.fold_top:
        _folded(sheet, p, rear)
    if build.shelf:
        _shelf(sheet, p)
    if build.lamp:
        _lamp(sheet, build, p, rear)
    return sheet.drawing()


def _room(sheet: Sheet) -> None:
    sheet.add("room", path(f"M6 24 H{sheet.width - 6}", "bold"))
    sheet.add("room", *(path(f"M{x} 20 l9 -9") for x in range(20, int(sheet.width) - 14, 26)))


def _rear(sheet: Sheet, build: Build, p: Proportions, rear: float) -> None:
    high = BACK_DEPTH - 12
    sheet.add("back", Rect(MARGIN + 6, rear - high, p.width - 12, high, 7, "bold", "enamel"))
    if build.back == "none":
        sheet.add("back", path(f"M{MARGIN + 20} {rear - high / 2} h{p.width - 40}"))
        return
    sheet.add("back", path(f"M{MARGIN + 16} {rear - 12} h{p.width - 32}"))
    for side in (0.22, 0.70):
        for n in range(6):
            x = MARGIN + p.width * side + n * 12
            sheet.add("flue", Rect(x, rear - high + 8, 6, 13, 3, "fine", "dark"))
    if build.clock:
        sheet.add("clock", Rect(MARGIN + p.width / 2 - 36, rear - 9, 72, 12, 4, "bold", "bright"))
    if build.outlet:
        sheet.add("outlet", Rect(MARGIN + p.width - 92, rear - 6, 36, 8, 2, "bold", "bright"))


def _deck(sheet: Sheet, build: Build, p: Proportions, rear: float, front: float) -> None:
    sheet.add("top", Rect(MARGIN - 6, rear, p.width + 12, front - rear, 20, "bold", "enamel"))
    sheet.add("trim", Rect(MARGIN + 2, rear + 8, p.width - 4, front - rear - 16, 14))
    left, right = p.middle
    for x in (left, right):
        if 2 * INCH < x < p.width - 2 * INCH:
            sheet.add("top", path(f"M{MARGIN + x} {rear + 8} V{front - 8}"))


def _centre(sheet: Sheet, build: Build, p: Proportions, rear: float, front: float) -> None:
    left, right = p.middle
    if build.griddle:
        width = min(right - left - 26, 168)
        x = MARGIN + (left + right - width) / 2
        sheet.place("griddle-top", x, rear + 56, width, front - rear - 112)
    elif right - left > 3 * INCH:
        x, y = MARGIN + left + 16, rear + 34
        sheet.add("top", Rect(x, y, right - left - 32, front - rear - 68, 10))
        high = front - rear - 68
        for n in range(3):
            sheet.add("top", path(f"M{x + 24} {y + high * 0.3 + n * 13} l{30 - n * 5} {-30 + n * 5}"))


def _front_edge(sheet: Sheet, build: Build, p: Proportions, front: float) -> None:
    for x in knob_places(build, p):
        sheet.place("knob-top", MARGIN + x - 18, front + 1, 36)
    dial = MARGIN + dial_place(p)
    if build.thermostat:
        sheet.add("thermostat", Rect(dial - 30, front, 60, 10, 3, "bold", "bright"))
        sheet.add("thermostat", path(f"M{dial - 14} {front + 10} h28 l-3 16 h-22 Z", "bold", "dark"))
    else:
        sheet.place("knob-top", dial - 18, front + 1, 36)
    if build.back != "none":
        return
    if build.clock:
        sheet.add("clock", Rect(MARGIN + clock_place(p) - 28, front, 56, 10, 3, "bold", "bright"))
    if build.outlet:
        x = MARGIN + (p.width - 34 if build.oven_side == "left" else 34)
        sheet.add("outlet", Rect(x - 17, front, 34, 7, 2, "bold", "bright"))


def _folded(sheet: Sheet, p: Proportions, rear: float) -> None:
    """The leaves stand open, so they show as strips; dashed, where they lie when closed."""
    leaf = (p.width - 44) / 2
    for n in range(2):
        x = MARGIN + 20 + n * (leaf + 4)
        sheet.add("fold-top", Rect(x, rear + 2, leaf, 20, 6, "bold", "bright"))
        sheet.add("fold-top", path(f"M{x + 8} {rear + 15} h{leaf - 16}"))
        sheet.add("fold-top", Rect(x, rear + 22, leaf, DEPTH - 34, 14, "hidden"))


def _shelf(sheet: Sheet, p: Proportions) -> None:
    """The shelf is over everything at the rear: its front edge, dashed."""
    sheet.add("shelf", Rect(MARGIN + 2, MARGIN + 8, p.width - 4, 8 * INCH, 12, "hidden"))


def _lamp(sheet: Sheet, build: Build, p: Proportions, rear: float) -> None:
    width = p.width * 0.42
    x = MARGIN + (p.width - width) / 2
    y = rear - (BACK_DEPTH * 0.55)
    sheet.add("lamp", Rect(x, y, width, 34, 13, "bold", "bright"))
    sheet.add("lamp", path(f"M{x + 12} {y + 24} h{width - 24}"), Circle(x + 14, y + 12, 2.5))
    sheet.add("lamp", Circle(x + width - 14, y + 12, 2.5))
