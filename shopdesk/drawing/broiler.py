"""The broiler opened: its box cut through, burner above, pan on its lift, griddle over it."""

from shopdesk.domain.build import Build
from shopdesk.drawing.pathtext import path
from shopdesk.drawing.proportions import Proportions
from shopdesk.drawing.shapes import Circle, Rect
from shopdesk.drawing.sheet import Drawing, Sheet
from shopdesk.drawing.under_top import batting

WIDTH, HEIGHT = 760.0, 700.0
LEFT, RIGHT, TOP, FLOOR = 130.0, 630.0, 168.0, 480.0


def draw_broiler(build: Build, p: Proportions) -> Drawing:
    """One view straight in; `p` is not needed, every broiler is drawn alike."""
    sheet = Sheet("broiler", WIDTH, HEIGHT)
    sheet.add("front", Rect(40, 56, 680, 470, 14, "bold", "enamel"))
    sheet.add("top", Rect(30, 36, 700, 24, 9, "bold", "enamel"))
    sheet.add("insulation", Rect(76, 112, 608, 402, 14, "bold", "shade"))
    for x in (82.0, 636.0):
        sheet.add("insulation", *batting(x, 160, 42, 330))
    _box(sheet)
    _griddle(sheet, build)
    _burner(sheet)
    _lift(sheet)
    _door(sheet)
    return sheet.drawing()


def _box(sheet: Sheet) -> None:
    sheet.add("broiler-box", Rect(LEFT, TOP - 30, RIGHT - LEFT, FLOOR - TOP + 46, 6, "bold", "enamel"))
    sheet.add("broiler-box", Rect(206, 222, 348, 206, 4, "fine", "shade"))
    for x, inner in ((LEFT, 206.0), (RIGHT, 554.0)):
        sheet.add("broiler-box", path(f"M{x} {TOP - 26} L{inner} 222 M{x} {FLOOR + 12} L{inner} 428"))
    for n in range(7):
        share = n / 6
        sheet.add("broiler-box", Circle(LEFT + 9 + 66 * share, FLOOR - 2 - 56 * share, 2.2))
        sheet.add("broiler-box", Circle(RIGHT - 9 - 66 * share, FLOOR - 2 - 56 * share, 2.2))
    sheet.add("flue", Rect(318, 232, 124, 24, 6, "bold", "dark"), Rect(324, 237, 112, 14, 4))


def _griddle(sheet: Sheet, build: Build) -> None:
    if build.griddle:
        sheet.add("griddle", Rect(150, 28, 460, 20, 6, "bold", "bright"), path("M162 38 H598"))
        sheet.add("griddle", path("M170 48 v10 M590 48 v10", "bold"))
        sheet.add("griddle", Rect(592, 84, 84, 22, 4, "bold", "bright"), path("M600 90 H668"))
        return
    sheet.add("top", path("M60 48 H700"))


def _burner(sheet: Sheet) -> None:
    sheet.add("broiler", Rect(178, 156, 404, 10, 3, "bold", "bright"))
    sheet.place("broiler-burner", 230, 170, 300)
    sheet.add("broiler", path("M530 170 H566 L584 173 V182 L566 185 H530 Z", "bold", "bright"))
    sheet.add("pilot", Rect(196, 182, 14, 16, 3, "bold", "bright"))
    sheet.add("pilot", path("M203 198 v14 h-40 v20", "bold"))


def _lift(sheet: Sheet) -> None:
    """The pan and grid on a lift of crossed arms."""
    sheet.add("broiler-box", path("M226 462 L534 396 M534 462 L226 396", "bold"))
    sheet.add("broiler-box", Circle(380, 429, 6, "bold", "bright"))
    sheet.add("broiler-box", Rect(190, 458, 380, 9, 4, "bold", "bright"))
    sheet.place("broiler-pan", 190, 304, 380)


def _door(sheet: Sheet) -> None:
    sheet.place("door-open", 96, 534, 568, 126, {"oven-door": "broiler-door"})
    for x in (146.0, 614.0):
        out = -24 if x < 380 else 24
        sheet.add(
            "broiler-door", path(f"M{x} 502 L{x + out} 556", "bold"), Circle(x, 502, 5, "fine", "bright")
        )
