"""The parts of the drawing and of the range, by id, in words. Knows no shapes."""

from shopdesk.wording import say

PARTS: dict[str, str] = {
    "back": "Back",
    "shelf": "Shelf",
    "lamp": "Lamp",
    "clock": "Clock",
    "outlet": "Outlet",
    "top": "Cooktop",
    "fold-top": "Fold-down top",
    "burners": "Burners",
    "grates": "Grates",
    "griddle": "Griddle",
    "deep-well": "Deep-well cooker",
    "manifold": "Manifold",
    "valves": "Valves",
    "knobs": "Handles of the valves",
    "regulator": "Regulator",
    "inlet": "Gas inlet",
    "pilot": "Top pilot and flash tubes",
    "broiler": "Broiler burner and pan",
    "broiler-door": "Broiler door",
    "broiler-box": "Broiler box",
    "oven": "Oven",
    "oven-door": "Oven door",
    "oven-window": "Oven window",
    "oven-floor": "Oven floor",
    "oven-burner": "Oven burner",
    "oven-pilot": "Oven pilot",
    "thermostat": "Thermostat",
    "bulb": "Thermostat bulb and clips",
    "racks": "Oven racks",
    "liner": "Liner",
    "flue": "Flue",
    "damper": "Damper",
    "insulation": "Insulation",
    "handles": "Door handles",
    "trim": "Brightwork",
    "badge": "Badge",
    "plate": "Rating plate",
    "side-left": "Left side panel",
    "side-right": "Right side panel",
    "front": "Front panels",
    "frame": "Frame",
    "legs": "Legs or base",
    "drawers": "Drawers",
    "cord": "Cord and plug",
    "room": "The room round it",
}
BURNERS = tuple(f"burner-{n}" for n in range(1, 9))
PART_IDS: tuple[str, ...] = (*PARTS, *BURNERS)


def part_name(part: str) -> str:
    """A part's name as people read it; KeyError for an unknown id."""
    if part in BURNERS:
        return say("Burner {number}", number=int(part.removeprefix("burner-")))
    return say(PARTS[part])
