"""The range from above with the cooktop lifted off: the gas train and the burners."""

from shopdesk.domain.build import Build
from shopdesk.drawing.pathtext import path
from shopdesk.drawing.proportions import DEPTH, INCH, MARGIN, Proportions, Slot, dial_place, knob_places
from shopdesk.drawing.shapes import Circle, Rect, Shape
from shopdesk.drawing.sheet import Drawing, Sheet

PIPE = 16.0


def draw_under_top(build: Build, p: Proportions) -> Drawing:
    """The plan of what lies under the cooktop; the front is below."""
    sheet = Sheet("under-top", p.width + 2 * MARGIN, MARGIN + DEPTH + 2 * MARGIN)
    rear, front = MARGIN, MARGIN + DEPTH
    pipe = front - 26
    _frame(sheet, p, rear, front)
    _oven_cover(sheet, p, rear, front)
    _inlet(sheet, rear, pipe)
    taken = _burners(sheet, build, p, front, pipe)
    _pilots(sheet, p, front)
    _manifold(sheet, build, p, pipe, taken)
    _front_edge(sheet, build, p, front)
    sheet.place("plate", MARGIN + p.width - 116, rear + 14, 84)
    return sheet.drawing()


def _frame(sheet: Sheet, p: Proportions, rear: float, front: float) -> None:
    sheet.add("frame", Rect(MARGIN, rear, p.width, front - rear, 12, "bold", "shade"))
    sheet.add("frame", Rect(MARGIN + 10, rear + 10, p.width - 20, front - rear - 20, 8, "bold", "paper"))
    for n in (0.0, 1.0):
        for y in (rear + 22, front - 60):
            sheet.add("frame", Circle(MARGIN + 5 + n * (p.width - 10), y, 2.4))


def _oven_cover(sheet: Sheet, p: Proportions, rear: float, front: float) -> None:
    """The batts that lie over the oven, in the hatching used for insulation."""
    bay = p.main_oven
    x, y = MARGIN + bay.x, rear + 18
    wide, high = bay.width, front - rear - 92
    sheet.add("insulation", Rect(x, y, wide, high, 10, "fine", "enamel"))
    sheet.add("insulation", *batting(x + 6, y + 8, wide - 12, high - 16))


def batting(x: float, y: float, width: float, height: float) -> list[Shape]:
    """Rows of soft waves, the draughtsman's sign for insulation."""
    lines: list[Shape] = []
    count = max(2, round(width / 34))
    step = width / count
    for row in range(max(1, int(height / 40))):
        at = y + 14 + row * 40
        waves = " ".join(
            f"q{step / 4} {-11} {step / 2} 0 q{step / 4} {11} {step / 2} 0" for _ in range(count)
        )
        lines.append(path(f"M{x} {at} {waves}"))
    return lines


def _inlet(sheet: Sheet, rear: float, pipe: float) -> None:
    """The pipe comes in at the rear left and runs through the regulator to the manifold."""
    x = MARGIN + 26
    sheet.add("inlet", Rect(x - PIPE / 2, rear - 26, PIPE, pipe - rear + 26, 3, "bold", "bright"))
    sheet.add("inlet", Rect(x - 12, rear - 20, 24, 14, 3, "bold", "bright"))
    sheet.centre("regulator", x, rear + (pipe - rear) * 0.62, 48)


def _tube_x(slot: Slot, alone: bool) -> float:
    """Tubes of a fore and a rear burner lie side by side."""
    return MARGIN + slot.x + (0 if alone else 15 if slot.depth > 12 * INCH else -15)


def _alone(p: Proportions, slot: Slot) -> bool:
    return sum(other.x == slot.x for other in p.slots) == 1


def _burners(sheet: Sheet, build: Build, p: Proportions, front: float, pipe: float) -> list[float]:
    """Burner heads with their mixing tubes, rear ones first; hands back where tubes meet the pipe."""
    taken = []
    for slot in sorted(p.slots, key=lambda s: -s.depth):
        x, y = _tube_x(slot, _alone(p, slot)), front - slot.depth
        taken.append(x)
        if slot.number:
            long = pipe - 16 - (y - 42)
            sheet.place("burner-under", x - 42, y - 42, 84, long, {"burner": f"burner-{slot.number}"})
        else:
            sheet.place("well-under", x - 60, y - 60, 120, pipe - 16 - (y - 60))
    if build.griddle:
        x = MARGIN + sum(p.middle) / 2
        taken.append(x)
        sheet.place("griddle-under", x - 45, front - DEPTH + 70, 90, pipe - 16 - (front - DEPTH + 70))
    return taken


def _pilots(sheet: Sheet, p: Proportions, front: float) -> None:
    """One pilot among each group of burners, a flash tube from it to each."""
    half = sum(p.middle) / 2
    for group in ([s for s in p.slots if s.x < half], [s for s in p.slots if s.x >= half]):
        burners = [s for s in group if s.number]
        if not burners:
            continue
        middle = MARGIN + (min(s.x for s in group) + max(s.x for s in group)) / 2
        y = front - sum(s.depth for s in burners) / len(burners)
        heads = [(_tube_x(s, _alone(p, s)), front - s.depth) for s in group]
        inward = 1 if middle < MARGIN + half else -1
        x = _clear_of(heads, middle, y, p.pitch, inward)
        for slot in burners:
            sheet.add("pilot", *_flash_tube(x, y, _tube_x(slot, _alone(p, slot)), front - slot.depth))
        sheet.centre("pilot", x, y, 42)


def _clear_of(heads: list[tuple[float, float]], x: float, y: float, pitch: float, inward: int) -> float:
    """The first place beside x where no burner head is in the pilot's way."""
    for step in (0.0, 58.0, -58.0, pitch / 2, -pitch / 2):
        at = x + inward * step
        if all(abs(at - hx) >= 56 or abs(y - hy) >= 62 for hx, hy in heads):
            return at
    return x


def _flash_tube(x1: float, y1: float, x2: float, y2: float) -> list[Shape]:
    long = max(1.0, ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5)
    ux, uy = (x2 - x1) / long, (y2 - y1) / long
    reach = max(16.0, long - 34)
    ax, ay, bx, by = x1 + ux * 10, y1 + uy * 10, x1 + ux * reach, y1 + uy * reach
    nx, ny = -uy * 5, ux * 5
    text = f"M{ax + nx} {ay + ny} L{bx + nx} {by + ny} L{bx - nx} {by - ny} L{ax - nx} {ay - ny} Z"
    return [path(text, "fine", "bright")]


def _manifold(sheet: Sheet, build: Build, p: Proportions, pipe: float, taken: list[float]) -> None:
    left, right = MARGIN + 26, MARGIN + p.width - 26
    sheet.add("manifold", Rect(left - 8, pipe - 2, right - left + 16, PIPE, 7, "bold", "bright"))
    sheet.add("manifold", path(f"M{left + 4} {pipe + 3} H{right - 4}"))
    dial = _clear(MARGIN + dial_place(p), taken, left, right)
    others = [dial]
    for _ in range(build.valves - 1 - len(taken)):
        others.append(_clear(MARGIN + p.width - dial_place(p), [*taken, *others], left, right))
    for x in (*taken, *(others[1:] if build.thermostat else others)):
        sheet.place("valve", x - 16, pipe - 26, 32)
    if build.thermostat:
        _thermostat(sheet, dial, pipe)


def _clear(wished: float, taken: list[float], left: float, right: float) -> float:
    """The place nearest to the wished one with 34 units of room, or the roomiest there is."""
    spots = [left + 30 + n * 4 for n in range(int((right - left - 60) / 4) + 1)]
    for room in (40, 34, 28, 20, 0):
        free = [x for x in spots if all(abs(x - t) >= room for t in taken)]
        if free:
            return min(free, key=lambda x: abs(x - wished))
    return wished


def _thermostat(sheet: Sheet, x: float, pipe: float) -> None:
    sheet.add(
        "thermostat",
        path(f"M{x} {pipe - 30} C{x} {pipe - 90} {x + 40} {pipe - 70} {x + 40} {pipe - 130}", "bold"),
    )
    sheet.add("thermostat", Circle(x + 40, pipe - 134, 5, "fine", "dark"))
    sheet.add("thermostat", Rect(x - 20, pipe - 32, 40, 48, 6, "bold", "bright"), Circle(x, pipe - 8, 12))
    sheet.add("thermostat", path(f"M{x - 8} {pipe - 8} h16"))


def _front_edge(sheet: Sheet, build: Build, p: Proportions, front: float) -> None:
    for x in knob_places(build, p):
        sheet.place("knob-top", MARGIN + x - 18, front + 1, 36)
    sheet.place("knob-top", MARGIN + dial_place(p) - 21, front + 1, 42)
