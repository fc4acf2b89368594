"""The range seen from the wall's side: sheet, flue, gas inlet, cord and rating plate."""

from shopdesk.domain.build import Build
from shopdesk.drawing.front import FLOOR
from shopdesk.drawing.pathtext import path
from shopdesk.drawing.proportions import INCH, MARGIN, SLAB, TOP_HIGH, Proportions, shelf_high
from shopdesk.drawing.shapes import Circle, Rect
from shopdesk.drawing.sheet import Drawing, Sheet


def draw_rear(build: Build, p: Proportions) -> Drawing:
    """The rear elevation; left and right are exchanged against the front."""
    sheet = Sheet("back", p.width + 2 * MARGIN, p.rise + TOP_HIGH + MARGIN + FLOOR)
    top = MARGIN + p.rise
    _foot(sheet, build, p, top)
    _sheet_metal(sheet, p, top)
    _upper(sheet, build, p, top)
    _flues(sheet, build, p, top)
    _services(sheet, build, p, top)
    return sheet.drawing()


def _foot(sheet: Sheet, build: Build, p: Proportions, top: float) -> None:
    y = top + TOP_HIGH - p.foot
    left, right = MARGIN, MARGIN + p.width
    if build.base == "legs":
        sheet.place("leg", left + 6, y, 46)
        sheet.place("leg-right", right - 52, y, 46)
    else:
        sheet.add("legs", Rect(left + 6, y, p.width - 12, p.foot, 2, "bold", "shade"))
        sheet.add("legs", Rect(left + 60, y + 14, p.width - 120, p.foot - 14, 2, "bold", "dark"))
    floor = sheet.height - FLOOR
    sheet.add("room", path(f"M6 {floor} H{sheet.width - 6}", "bold"))
    sheet.add("room", *(path(f"M{x} {floor + 4} l-9 9") for x in range(26, int(sheet.width) - 10, 26)))


def _upper(sheet: Sheet, build: Build, p: Proportions, top: float) -> None:
    left, wide = MARGIN + 8, p.width - 16
    if build.shelf:
        y = top - shelf_high(build) - INCH
        sheet.add("shelf", Rect(MARGIN + 2, y, p.width - 4, 17, 7, "bold", "enamel"))
        if build.back != "high":
            for x in (MARGIN + 42, MARGIN + p.width - 54):
                sheet.add("shelf", Rect(x, y + 17, 12, top - y - 17, 2, "bold", "bright"))
    high = max(p.back_high, 14)
    sheet.add("back", Rect(left, top - high, wide, high, 10 if high < 20 else 24, "bold", "shade"))
    if build.back == "none":
        return
    sheet.add("back", Rect(left + 10, top - high + 10, wide - 20, high - 16, 14))
    if build.back == "high":
        for side in (0.12, 0.62):
            for n in range(4):
                y = top - high + 40 + n * 14
                sheet.add("flue", Rect(left + wide * side, y, wide * 0.26, 6, 3, "fine", "dark"))
    if build.clock:
        x = left + wide / 2
        y = top - (high * 0.46 if build.back == "high" else high * 0.5)
        sheet.add("clock", Rect(x - 34, y - 30, 68, 60, 5, "bold", "bright"))
        sheet.add("clock", *(Circle(x + dx, y + dy, 2.4) for dx in (-26, 26) for dy in (-22, 22)))


def _sheet_metal(sheet: Sheet, p: Proportions, top: float) -> None:
    left, y = MARGIN, top + SLAB
    high = TOP_HIGH - SLAB - p.foot
    sheet.add("top", Rect(left - 6, top, p.width + 12, SLAB, 6, "bold", "enamel"))
    sheet.add("frame", Rect(left, y, p.width, high, 3, "bold", "shade"))
    sheet.add("frame", path(f"M{left + 22} {y} V{y + high} M{left + p.width - 22} {y} V{y + high}"))
    sheet.add("frame", path(f"M{left} {y + high - 26} H{left + p.width}"))
    inner_wide, inner_high = p.width - 60, high - 62
    sheet.add("back", Rect(left + 30, y + 16, inner_wide, inner_high, 4, "bold", "enamel"))
    sheet.add("back", path(f"M{left + p.width / 2} {y + 16} v{inner_high}"))
    for n in range(5):
        for x in (left + 40, left + p.width - 40):
            sheet.add("back", Circle(x, y + 30 + n * (inner_high - 28) / 4, 2.6))


def _flues(sheet: Sheet, build: Build, p: Proportions, top: float) -> None:
    """A collar behind each oven."""
    for bay in p.bays:
        if bay.kind != "oven":
            continue
        x = MARGIN + p.width - (bay.x + bay.width / 2)
        sheet.centre("flue-collar", x, top + 140 + bay.y * 0.9, 84 if bay == p.main_oven else 68)


def _services(sheet: Sheet, build: Build, p: Proportions, top: float) -> None:
    left, low = MARGIN, top + TOP_HIGH - p.foot - 90
    sheet.add("inlet", Rect(left + 66, top + 300, 14, low - top - 300, 2, "bold", "bright"))
    sheet.add("inlet", Circle(left + 73, top + 296, 13, "bold", "bright"), Circle(left + 73, top + 296, 6))
    sheet.place("cock", left + 59, low - 8, 60)
    sheet.centre("plate", left + p.width * 0.5 + 34, low - 16, 96)
    if build.electrical:
        x, y = left + p.width - 92, top + 250
        sheet.add("cord", Circle(x, y, 8, "bold", "dark"))
        sheet.add(
            "cord", path(f"M{x} {y + 8} C{x + 6} {y + 90} {x - 60} {y + 110} {x - 40} {y + 180}", "bold")
        )
        sheet.place("plug", x - 60, y + 176, 40)
