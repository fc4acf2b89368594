"""The range seen from the front."""

from shopdesk.domain.build import Build
from shopdesk.drawing.pathtext import path
from shopdesk.drawing.proportions import (
    INCH,
    LEAF,
    MARGIN,
    PANEL,
    SLAB,
    TOP_HIGH,
    Bay,
    Proportions,
    clock_place,
    dial_place,
    knob_places,
    lamp_high,
    shelf_high,
)
from shopdesk.drawing.shapes import Circle, Rect
from shopdesk.drawing.sheet import Drawing, Sheet

FLOOR = 30.0


def draw_front(build: Build, p: Proportions) -> Drawing:
    """The front elevation, from the floor to the crown of the back."""
    sheet = Sheet("front", p.width + 2 * MARGIN, p.rise + TOP_HIGH + MARGIN + FLOOR)
    top = MARGIN + p.rise
    _room(sheet)
    _foot(sheet, build, p, top)
    _rear(sheet, build, p, top)
    _on_top(sheet, build, p, top)
    _slab(sheet, p, top)
    _panel(sheet, build, p, top + SLAB)
    _body(sheet, build, p, top + SLAB + PANEL)
    return sheet.drawing()


def _room(sheet: Sheet) -> None:
    y = sheet.height - FLOOR
    sheet.add("room", path(f"M6 {y} H{sheet.width - 6}", "bold"))
    sheet.add("room", *(path(f"M{x} {y + 4} l-9 9") for x in range(26, int(sheet.width) - 10, 26)))


def _foot(sheet: Sheet, build: Build, p: Proportions, top: float) -> None:
    y = top + TOP_HIGH - p.foot
    left, right = MARGIN, MARGIN + p.width
    if build.base == "legs":
        sheet.add("frame", Rect(left + 20, y - 2, p.width - 40, 12, 2, "fine", "shade"))
        sheet.place("leg", left + 6, y, 46)
        sheet.place("leg-right", right - 52, y, 46)
        return
    sheet.add("legs", Rect(left + 22, y, p.width - 44, p.foot, 3, "bold", "shade"))
    sheet.add("legs", path(f"M{left + 34} {y + 18} H{right - 34} M{left + 34} {y + 40} H{right - 34}"))


def _rear(sheet: Sheet, build: Build, p: Proportions, top: float) -> None:
    """Back, shelf, lamp, clock, outlet and a raised top, from the wall forward."""
    middle = MARGIN + p.width / 2
    if build.back == "none":
        sheet.add("back", Rect(MARGIN + 10, top - 14, p.width - 20, 14, 4, "bold", "enamel"))
    else:
        _back_panel(sheet, build, p, top)
    if build.shelf:
        _shelf(sheet, build, p, top)
    if build.lamp:
        _lamp(sheet, build, p, top, middle)
    if build.clock and build.back != "none":
        r = 40.0 if build.back == "high" else 30.0
        y = top - (p.back_high * 0.46 if build.back == "high" else p.back_high + 4)
        sheet.centre("clock", middle, y, 2 * r)
    if build.outlet and build.back != "none":
        width = 40 if build.back == "high" else 32
        y = top - (p.back_high * 0.3 if build.back == "high" else p.back_high * 0.45)
        sheet.centre("outlet", MARGIN + p.width - (74 if build.back == "high" else 44), y, width)
    if build.fold_top:
        _raised_top(sheet, p, top)


def _back_panel(sheet: Sheet, build: Build, p: Proportions, top: float) -> None:
    left, right, crown = MARGIN + 8, MARGIN + p.width - 8, top - p.back_high
    middle = (left + right) / 2
    r = 46 if build.back == "high" else 26
    sheet.add("back", path(_arch(left, crown, right, top, r), "bold", "enamel"))
    inset = 13.0
    sheet.add(
        "back", path(_arch(left + inset, crown + inset, right - inset, top - 4, r - 9).removesuffix(" Z"))
    )
    if build.back == "low":
        sheet.add("back", path(f"M{left} {top - 20} H{right}"))
        return
    sheet.add("back", path(f"M{left} {top - 58} H{right} M{left} {top - 50} H{right}"))
    for side in (-1, 1):
        for n in range(6):
            x = middle + side * (p.width * 0.30 + (n - 2.5) * 14)
            sheet.add("flue", Rect(x - 3.2, crown + 44, 6.4, 62, 3.2, "fine", "dark"))
    if not build.clock:
        sheet.add("back", *(path(f"M{middle - 60} {top - 112 + n * 9} h120") for n in range(4)))


def _arch(left: float, crown: float, right: float, foot: float, r: float) -> str:
    """A panel with round upper corners and a slightly risen middle."""
    k, middle = r * 0.45, (left + right) / 2
    lift = min(10.0, r / 3)
    return (
        f"M{left} {foot} V{crown + r} C{left} {crown + k} {left + k} {crown} {left + r} {crown} "
        f"C{left + r + 90} {crown} {middle - 130} {crown - lift} {middle} {crown - lift} "
        f"C{middle + 130} {crown - lift} {right - r - 90} {crown} {right - r} {crown} "
        f"C{right - k} {crown} {right} {crown + k} {right} {crown + r} V{foot} Z"
    )


def _shelf(sheet: Sheet, build: Build, p: Proportions, top: float) -> None:
    y = top - shelf_high(build) - 1.0 * INCH
    left, right = MARGIN + 2, MARGIN + p.width - 2
    if build.back != "high":
        for x in (left + 40, right - 52):
            sheet.add("shelf", Rect(x, y + 14, 12, top - y - 14, 3, "bold", "bright"))
            sheet.add("shelf", path(f"M{x + 4} {y + 20} V{top - 6}"))
    else:
        for x, way in ((left + 34, 1), (right - 34, -1)):
            sheet.add(
                "shelf",
                path(f"M{x} {y + 17} h{way * 16} c0 26 {-way * 8} 40 {-way * 16} 52 Z", "bold", "bright"),
            )
    sheet.add("shelf", Rect(left, y, right - left, 17, 7, "bold", "enamel"))
    sheet.add("shelf", path(f"M{left + 6} {y + 11} H{right - 6}"))


def _lamp(sheet: Sheet, build: Build, p: Proportions, top: float, middle: float) -> None:
    y = top - lamp_high(build)
    if not build.shelf and build.back != "high":
        foot = top - p.back_high
        for x in (middle - 60, middle + 48):
            sheet.add("lamp", Rect(x, y + 20, 12, foot - y - 20, 3, "bold", "bright"))
    width = p.width * 0.42
    sheet.place("lamp", middle - width / 2, y, width)


def _raised_top(sheet: Sheet, p: Proportions, top: float) -> None:
    """Two leaves of the folding top, standing open before the back."""
    high, gap, edge = LEAF, 5.0, 68.0
    leaf = (p.width - 2 * edge - gap) / 2
    for n in range(2):
        x = MARGIN + edge + n * (leaf + gap)
        sheet.add("fold-top", Rect(x, top - high, leaf, high, 12, "bold", "enamel"))
        sheet.add("fold-top", Rect(x + 8, top - high + 9, leaf - 16, high - 16, 7))
        sheet.add("fold-top", Rect(x + leaf / 2 - 34, top - high - 5, 68, 10, 5, "bold", "bright"))
        for hinge in (x + 36, x + leaf - 60):
            sheet.add("fold-top", Rect(hinge, top - 9, 24, 8, 2, "fine", "bright"))


def _on_top(sheet: Sheet, build: Build, p: Proportions, top: float) -> None:
    columns = sorted({slot.x for slot in p.slots if slot.number})
    for slot in p.slots:
        if slot.number == 0:
            sheet.place("well-profile", MARGIN + slot.x - 55, top - 32, 110)
    for x in columns:
        wide = min(p.pitch - 12, 140)
        sheet.place("grate-profile", MARGIN + x - wide / 2, top - 14, wide)
    if build.griddle:
        left, right = p.middle
        sheet.place("griddle-profile", MARGIN + left + 8, top - 12, right - left - 16)


def _slab(sheet: Sheet, p: Proportions, top: float) -> None:
    sheet.add("top", Rect(MARGIN - 6, top, p.width + 12, SLAB, 9, "bold", "enamel"))
    sheet.add("trim", Rect(MARGIN - 4, top + SLAB - 8, p.width + 8, 6, 3, "fine", "bright"))


def _panel(sheet: Sheet, build: Build, p: Proportions, y: float) -> None:
    left, right = MARGIN, MARGIN + p.width
    sheet.add("front", Rect(left, y, p.width, PANEL, 5, "bold", "enamel"))
    sheet.add("front", path(f"M{left + 8} {y + 9} H{right - 8} M{left + 8} {y + PANEL - 9} H{right - 8}"))
    middle = y + PANEL / 2
    dial = MARGIN + dial_place(p)
    for x in knob_places(build, p):
        sheet.centre("knob", MARGIN + x, middle, 40)
    if build.thermostat:
        sheet.centre("dial", dial, middle, 62)
    else:
        sheet.centre("knob", dial, middle, 40)
    if build.back == "none":
        if build.clock:
            sheet.centre("clock", MARGIN + clock_place(p), middle, 58)
        if build.outlet:
            end = right - 34 if build.oven_side == "left" else left + 34
            sheet.centre("outlet", end, middle, 36)


def _body(sheet: Sheet, build: Build, p: Proportions, y: float) -> None:
    sheet.add("front", Rect(MARGIN, y, p.width, p.body_high, 6, "bold", "enamel"))
    for bay in p.bays:
        _bay(sheet, build, p, bay, y)
    oven = p.main_oven
    sheet.centre("badge", MARGIN + oven.x + oven.width / 2, y + oven.y + oven.height - 46, 84)
    sheet.add("trim", Circle(MARGIN + 9, y + 9, 2.2), Circle(MARGIN + p.width - 9, y + 9, 2.2))


def _bay(sheet: Sheet, build: Build, p: Proportions, bay: Bay, y: float) -> None:
    x, top = MARGIN + bay.x, y + bay.y
    match bay.kind:
        case "oven":
            sheet.place("oven-door", x, top, bay.width, bay.height)
            if build.window and bay == p.main_oven:
                wide, high = bay.width * 0.56, bay.height * 0.42
                sheet.place("oven-window", x + (bay.width - wide) / 2, top + bay.height * 0.27, wide, high)
        case "broiler":
            sheet.place("broiler-door", x, top, bay.width, bay.height)
        case "drawer":
            sheet.place("drawer", x, top, bay.width, bay.height)
