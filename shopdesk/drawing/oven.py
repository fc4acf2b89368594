"""Inside the main oven, its door let down and its floor cut away to show the burner."""

from shopdesk.domain.build import Build
from shopdesk.drawing.pathtext import path
from shopdesk.drawing.proportions import Proportions
from shopdesk.drawing.shapes import Circle, Ellipse, Rect, Shape
from shopdesk.drawing.sheet import Drawing, Sheet
from shopdesk.drawing.under_top import batting

WIDTH, HEIGHT = 760.0, 900.0
LEFT, RIGHT, TOP, FLOOR, SILL = 132.0, 628.0, 166.0, 520.0, 640.0  # the liner's mouth
BACK_LEFT, BACK_RIGHT, BACK_TOP, BACK_FLOOR = 212.0, 548.0, 214.0, 462.0  # the rear wall


def draw_oven(build: Build, p: Proportions) -> Drawing:
    """One view straight in; `p` is not needed, every oven is drawn alike."""
    sheet = Sheet("oven", WIDTH, HEIGHT)
    _shell(sheet, build)
    _liner(sheet)
    _flue(sheet)
    _bulb(sheet, build)
    _racks(sheet)
    _floor(sheet)
    _burner(sheet, build)
    _door(sheet, build)
    return sheet.drawing()


def _shell(sheet: Sheet, build: Build) -> None:
    sheet.add("front", Rect(40, 36, 680, 650, 14, "bold", "enamel"))
    sheet.add("front", path("M40 104 H720"))
    if build.thermostat:
        sheet.centre("dial", 380, 70, 58)
    else:
        sheet.centre("knob", 380, 70, 42)
    sheet.add("insulation", Rect(76, 116, 608, 560, 16, "bold", "shade"))
    sheet.add("insulation", *batting(84, 118, 592, 40))
    for x in (84.0, 636.0):
        sheet.add("insulation", *batting(x, 164, 42, 480))


def _liner(sheet: Sheet) -> None:
    sheet.add("liner", Rect(LEFT, TOP, RIGHT - LEFT, SILL + 26 - TOP, 10, "bold", "enamel"))
    sheet.add(
        "liner",
        path(
            f"M{LEFT + 4} {TOP + 4} L{BACK_LEFT} {BACK_TOP} M{RIGHT - 4} {TOP + 4} L{BACK_RIGHT} {BACK_TOP}"
        ),
    )
    for n in range(4):
        share = (n + 1.0) / 5
        near = TOP + (FLOOR - TOP) * share
        far = BACK_TOP + (BACK_FLOOR - BACK_TOP) * share
        sheet.add("liner", path(f"M{LEFT + 12} {near} L{BACK_LEFT - 8} {far}"))
        sheet.add("liner", path(f"M{RIGHT - 12} {near} L{BACK_RIGHT + 8} {far}"))
    box = Rect(BACK_LEFT, BACK_TOP, BACK_RIGHT - BACK_LEFT, BACK_FLOOR - BACK_TOP, 6, "bold", "shade")
    sheet.add("oven", box)


def _flue(sheet: Sheet) -> None:
    sheet.add("flue", Rect(318, 226, 124, 40, 8, "bold", "dark"), Rect(324, 232, 112, 28, 5))
    sheet.add("damper", path("M326 258 L434 236 L434 242 L326 264 Z", "bold", "bright"))
    sheet.add("damper", Circle(380, 250, 4, "fine", "paper"))


def _bulb(sheet: Sheet, build: Build) -> None:
    if not build.thermostat:
        return
    sheet.place("bulb", 392, 284, 136)
    sheet.add("bulb", path("M394 302 C372 310 372 330 350 330", "bold"))


def _racks(sheet: Sheet) -> None:
    for near, far in ((322.0, 322.0), (410.0, 392.0)):
        sheet.add("racks", *_rack(near, far + 2))


def _rack(near: float, far: float) -> list[Shape]:
    """A wire rack: front bar, rear bar and the wires between, seen from a little above."""
    far -= 18
    near += 8
    lines: list[Shape] = []
    for n in range(15):
        share = (n + 0.5) / 15
        x1 = LEFT + 18 + (RIGHT - LEFT - 36) * share
        x2 = BACK_LEFT + 8 + (BACK_RIGHT - BACK_LEFT - 16) * share
        lines.append(path(f"M{x1} {near} L{x2} {far}"))
    lines.append(
        path(f"M{BACK_LEFT + 4} {far} H{BACK_RIGHT - 4} L{RIGHT - 10} {near} H{LEFT + 10} Z", "bold")
    )
    lines.append(Rect(LEFT + 8, near - 4, RIGHT - LEFT - 16, 8, 4, "bold", "bright"))
    return lines


def _floor(sheet: Sheet) -> None:
    """The floor plate with its slots, and its cut edge."""
    sheet.add(
        "oven-floor",
        path(
            f"M{BACK_LEFT} {BACK_FLOOR} H{BACK_RIGHT} L{RIGHT} {FLOOR} V{FLOOR + 10} H{LEFT} V{FLOOR} Z",
            "bold",
            "bright",
        ),
        path(f"M{LEFT} {FLOOR} H{RIGHT}"),
    )
    for side in (-1, 1):
        for n in range(3):
            near, far = 200 - n * 22, 142 - n * 15
            text = f"M{380 + side * far} {BACK_FLOOR + 12} L{380 + side * near} {FLOOR - 10}"
            sheet.add("oven-floor", path(text, "bold"))
    sheet.add("oven-floor", Ellipse(380, 490, 12, 4))


def _burner(sheet: Sheet, build: Build) -> None:
    sheet.add("liner", path(f"M{LEFT + 8} {SILL + 4} H{RIGHT - 8}", "hidden"))
    sheet.place("oven-burner", 240, 578, 300)
    sheet.add("oven-burner", path("M536 588 H566 L590 592 V602 L566 606 H536 Z", "bold", "bright"))
    sheet.add("oven-burner", path("M226 556 L246 548 H514 L534 556 Z", "bold", "enamel"))
    if build.lighting == "match":
        sheet.add("oven-floor", Circle(190, FLOOR + 5, 3, "bold", "dark"))
        return
    sheet.add("oven-pilot", path("M214 640 V616 H202 V600", "bold"))
    sheet.add("oven-pilot", Rect(194, 588, 16, 14, 3, "bold", "bright"))
    sheet.add(
        "oven-pilot",
        path(
            "M202 564 Q214 576 209 584 Q207 588 202 588 Q197 588 195 584 Q192 576 202 564 Z", "fine", "shade"
        ),
    )
    if build.lighting == "match with safety pilot":
        sheet.add("oven-pilot", Rect(216, 582, 8, 26, 3, "bold", "dark"), path("M220 608 V640", "fine"))


def _door(sheet: Sheet, build: Build) -> None:
    sheet.place("door-open", 96, 700, 568, 164)
    for x in (150.0, 610.0):
        out = -26 if x < 380 else 26
        sheet.add(
            "oven-door", path(f"M{x} {660} L{x + out} 724", "bold"), Circle(x, 660, 5, "fine", "bright")
        )
    if build.window:
        sheet.add(
            "oven-window",
            path("M246 738 H514 L530 806 Q532 814 522 814 H238 Q228 814 230 806 Z", "bold", "glass"),
            path("M300 794 L330 756 M318 798 L340 772"),
        )
