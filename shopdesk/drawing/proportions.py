"""Where everything stands on a range of a given build, in drawing units.

The sizes are those of household ranges of the 1930s to 1950s (36 to 54 in wide, cooking top at
36 in, body 25 in deep; common practice, no source) and belong to no maker's model. Knows no
view: each view reads its positions from here.
"""

from dataclasses import dataclass
from math import ceil
from typing import Literal

from shopdesk.domain.build import Build

INCH = 17.0
MARGIN = 40.0
TOP_HIGH = 36 * INCH  # cooking top above the floor
SLAB = 1.4 * INCH  # thickness of the cooktop's edge
PANEL = 4.2 * INCH  # the panel with the handles
DEPTH = 25 * INCH
BACK_DEPTH = 3 * INCH
LEAF = 3.4 * INCH  # how high a lifted leaf of a folding top looks from the front
REAR, MIDDLE, FORE = 17.4 * INCH, 12.8 * INCH, 8.2 * INCH  # burner rows, from the front edge

BayKind = Literal["oven", "broiler", "drawer"]


@dataclass(frozen=True, slots=True)
class Slot:
    """A place in the cooktop: a burner by its number, or the well (number 0)."""

    number: int
    x: float  # from the left edge of the range
    depth: float  # from the front edge


@dataclass(frozen=True, slots=True)
class Bay:
    """An opening in the front: x from the range's left edge, y down from below the panel."""

    kind: BayKind
    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Proportions:
    """One range's sizes and positions."""

    width: float
    pitch: float  # across one column of burners
    slots: tuple[Slot, ...]
    middle: tuple[float, float]  # left and right edge of the griddle or the plain centre
    back_high: float
    rise: float  # everything above the cooking top
    foot: float  # height of legs or base
    bays: tuple[Bay, ...]

    @property
    def body_high(self) -> float:
        """From below the panel to the top of legs or base."""
        return TOP_HIGH - SLAB - PANEL - self.foot

    @property
    def main_oven(self) -> Bay:
        return max((b for b in self.bays if b.kind == "oven"), key=lambda b: b.height * b.width)

    def bay(self, kind: BayKind) -> Bay | None:
        return next((b for b in self.bays if b.kind == kind), None)


def proportions(build: Build) -> Proportions:
    """Sizes and positions for a build."""
    columns = max(2, ceil((build.burners + build.deep_well) / 2))
    width = _width(build, columns) * INCH
    foot = (5.6 if build.base == "legs" else 3.4) * INCH
    pitch, middle = _pitch(build, columns, width)
    back = {"high": 14.5, "low": 5.2, "none": 0.0}[build.back] * INCH
    high = TOP_HIGH - SLAB - PANEL - foot
    return Proportions(
        width=width,
        pitch=pitch,
        slots=_slots(build, columns, pitch, middle),
        middle=middle,
        back_high=back,
        rise=_rise(build, back),
        foot=foot,
        bays=_bays(build, width, high),
    )


def shelf_high(build: Build) -> float:
    """The shelf's underside above the cooking top."""
    return (14.5 if build.back == "high" else 13.5) * INCH


def lamp_high(build: Build) -> float:
    """The lamp hood's upper edge above the cooking top."""
    if build.shelf:
        return shelf_high(build)
    return {"high": 15.6, "low": 10.0, "none": 10.0}[build.back] * INCH


def _rise(build: Build, back: float) -> float:
    rise = max(back, 1.6 * INCH)
    if build.shelf:
        rise = max(rise, shelf_high(build) + 1.2 * INCH)
    if build.lamp:
        rise = max(rise, lamp_high(build))
    if build.fold_top:
        rise = max(rise, LEAF + 0.6 * INCH)
    if build.clock and build.back == "low":
        rise = max(rise, back + 2.2 * INCH)
    return rise


def _width(build: Build, columns: int) -> float:
    if build.burners == 2 and build.ovens == 1 and not build.griddle and not build.deep_well:
        return 30
    least = {1: 36, 2: 40, 3: 46}[build.ovens]
    return min(54, max(least, columns * 9 + (11 if build.griddle else 0) + 2))


def _pitch(build: Build, columns: int, width: float) -> tuple[float, tuple[float, float]]:
    centre = 10.5 * INCH if build.griddle else 0.0
    pitch = min(9.4 * INCH, (width - INCH * 2 - centre) / columns)
    left = ceil(columns / 2)
    return pitch, (INCH + left * pitch, width - INCH - (columns - left) * pitch)


def _slots(build: Build, columns: int, pitch: float, middle: tuple[float, float]) -> tuple[Slot, ...]:
    """Columns from the left, each fore then rear; a lone burner of a column stands midway."""
    left = ceil(columns / 2)
    middles = [INCH + (n + 0.5) * pitch for n in range(left)]
    middles += [middle[1] + (n + 0.5) * pitch for n in range(columns - left)]
    counts = _column_counts(build, columns)
    slots: list[Slot] = []
    number = 1
    for column, (x, count) in enumerate(zip(middles, counts, strict=True)):
        well = build.deep_well and column == 0
        depths = [MIDDLE] if count + well == 1 else [FORE, REAR]
        for depth in depths[:count]:
            slots.append(Slot(number, x, depth))
            number += 1
        if well:
            slots.append(Slot(0, x, depths[-1]))
    return tuple(slots)


def _column_counts(build: Build, columns: int) -> list[int]:
    """Burners in each column; the well takes the rear of the first one."""
    counts = [0] * columns
    room = [2] * columns
    if build.deep_well:
        room[0] = 1
    order = (
        sorted(range(columns), key=lambda c: (c != 0, -c)) if build.burners < columns * 2 else range(columns)
    )
    left = build.burners
    for row in (1, 2):
        for column in order:
            if left and room[column] >= row:
                counts[column] += 1
                left -= 1
    return counts


def _bays(build: Build, width: float, high: float) -> tuple[Bay, ...]:
    """The doors and drawers of both columns, the main oven on its side."""
    edge, gap = 0.9 * INCH, 0.7 * INCH
    share = {1: 0.56, 2: 0.54, 3: 0.56}[build.ovens]
    main = (width - 2 * edge - gap) * share
    side = width - 2 * edge - gap - main
    main_x, side_x = edge, edge + main + gap
    if build.oven_side == "right":
        side_x, main_x = edge, edge + side + gap
    main_kinds, side_kinds = _columns(build)
    return (*_stack(main_kinds, main_x, main, high), *_stack(side_kinds, side_x, side, high))


def _columns(build: Build) -> tuple[list[tuple[BayKind, float]], list[tuple[BayKind, float]]]:
    """What stands in the main column and beside it, with shares of the height."""
    grill: BayKind = "broiler" if build.broiler else "drawer"
    if build.ovens == 1:
        return [("oven", 0.74), ("drawer", 0.26)], [(grill, 0.36), ("drawer", 0.32), ("drawer", 0.32)]
    if build.ovens == 2:
        return [("oven", 0.70), ("drawer", 0.30)], [("oven", 0.70), (grill, 0.30)]
    return [("oven", 0.70), (grill, 0.30)], [("oven", 0.41), ("oven", 0.41), ("drawer", 0.18)]


def _stack(kinds: list[tuple[BayKind, float]], x: float, width: float, high: float) -> tuple[Bay, ...]:
    edge, gap = 0.5 * INCH, 0.55 * INCH
    free = high - 2 * edge - gap * (len(kinds) - 1)
    bays, y = [], edge
    for kind, share in kinds:
        bays.append(Bay(kind, x, y, width, free * share))
        y += free * share + gap
    return tuple(bays)


def dial_place(p: Proportions) -> float:
    """Where the main oven's dial stands on the panel, from the range's left edge."""
    return p.main_oven.x + p.main_oven.width / 2


def clock_place(p: Proportions) -> float:
    """Where a clock stands on the panel of a range without a back."""
    return p.width - dial_place(p)


def knob_places(build: Build, p: Proportions) -> list[float]:
    """The handles over the panel, evenly, clear of the oven's dial, a clock and an outlet."""
    count = build.valves - 1  # the main oven's own is the dial
    left, right = 34.0, p.width - 34
    dial = dial_place(p)
    taken = [(dial - 54, dial + 54)]
    if build.back == "none" and build.clock:
        taken.append((clock_place(p) - 52, clock_place(p) + 52))
    if build.back == "none" and build.outlet:
        left, right = (left, right - 44) if build.oven_side == "left" else (left + 44, right)
    runs = _free(left, right, sorted(taken))
    step = sum(b - a for a, b in runs) / count
    return [_along(runs, (n + 0.5) * step) for n in range(count)]


def _along(runs: list[tuple[float, float]], at: float) -> float:
    for a, b in runs[:-1]:
        if at <= b - a:
            return a + at
        at -= b - a
    return runs[-1][0] + at


def _free(left: float, right: float, taken: list[tuple[float, float]]) -> list[tuple[float, float]]:
    runs, at = [], left
    for a, b in taken:
        runs.append((at, a))
        at = b
    runs.append((at, right))
    return [(a, b) for a, b in runs if b > a]
