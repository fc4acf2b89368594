"""Composes the drawing of a range from its build, and says where a part is best seen."""

from collections.abc import Callable
from functools import cache

from shopdesk.domain.build import Build
from shopdesk.domain.problem import Problem
from shopdesk.drawing.broiler import draw_broiler
from shopdesk.drawing.front import draw_front
from shopdesk.drawing.names import PART_IDS
from shopdesk.drawing.oven import draw_oven
from shopdesk.drawing.proportions import Proportions, proportions
from shopdesk.drawing.rear import draw_rear
from shopdesk.drawing.sheet import Drawing, View
from shopdesk.drawing.side import draw_side
from shopdesk.drawing.top import draw_top
from shopdesk.drawing.under_top import draw_under_top

_DRAW: dict[View, Callable[[Build, Proportions], Drawing]] = {
    "front": draw_front,
    "top": draw_top,
    "left": lambda build, p: draw_side(build, p, "left"),
    "right": lambda build, p: draw_side(build, p, "right"),
    "back": draw_rear,
    "under-top": draw_under_top,
    "oven": draw_oven,
    "broiler": draw_broiler,
}
VIEWS: tuple[View, ...] = tuple(_DRAW)

_BEST: dict[View, tuple[str, ...]] = {
    "top": ("top", "grates", "griddle", "deep-well"),
    "under-top": ("burners", "manifold", "valves", "regulator", "pilot", "plate", "thermostat"),
    "left": ("side-left", "room"),
    "right": ("side-right",),
    "back": ("inlet", "cord", "frame"),
    "oven": (
        *("oven", "oven-floor", "oven-burner", "oven-pilot", "bulb", "racks", "liner"),
        *("flue", "damper", "insulation"),
    ),
    "broiler": ("broiler", "broiler-box"),
}


def views(build: Build) -> tuple[View, ...]:
    """The views a range of this build has; without a broiler there is none of it."""
    return tuple(view for view in VIEWS if view != "broiler" or build.broiler)


@cache
def compose(build: Build, view: View) -> Drawing:
    """The drawing of a range from one side, in a box of at most 1000 by 1000 units.

    Problem when the build has no such view.
    """
    if view not in views(build):
        raise Problem("This range has no broiler to draw; choose another view.", view=view)
    return _DRAW[view](build, proportions(build))


def find(part: str) -> View:
    """The view in which a part is best seen; KeyError for an id that is none of ours."""
    if part not in PART_IDS:
        raise KeyError(part)
    if part.startswith("burner-"):
        return "under-top"
    return next((view for view, parts in _BEST.items() if part in parts), "front")
