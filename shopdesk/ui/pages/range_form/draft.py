"""What the form of a range asks, without widgets: values to what services take, and back.

The values of the form carry the names of `RangeDraft` and of `Build` side by side.
"""

from collections.abc import Mapping
from dataclasses import fields
from typing import Any

from shopdesk.domain.build import Build
from shopdesk.domain.measured import Sentence
from shopdesk.services.gas_identity import written_disagreement
from shopdesk.services.intake import RangeDraft
from shopdesk.wording import say

MEASURES = (
    "house_pressure_inwc", "width_in", "depth_in", "height_in", "weight_lb", "door_in", "opening_in",
    "stairs",
)  # fmt: skip
TEXTS = tuple(f.name for f in fields(RangeDraft) if f.name not in ("build", *MEASURES))
BUILD = tuple(f.name for f in fields(Build))


def range_draft(values: Mapping[str, Any]) -> RangeDraft:
    """What the services take, from the values of the form."""
    texts = {name: values.get(name) or "" for name in TEXTS}
    sizes = {name: plain_number(values.get(name)) for name in MEASURES}
    return RangeDraft(**texts, **sizes, build=build_of(values))


def range_values(draft: RangeDraft) -> dict[str, Any]:
    """The values of the form, from what is written down of a range."""
    values: dict[str, Any] = {name: getattr(draft, name) for name in TEXTS}
    values |= {name: read_number(getattr(draft, name)) for name in MEASURES}
    return values | {name: getattr(draft.build, name) for name in BUILD}


def build_of(values: Mapping[str, Any]) -> Build:
    """The build among the values; what is not among them is as in the commonest range."""
    return Build(**{name: values[name] for name in BUILD if values.get(name) is not None})


def plain_number(value: float | None) -> str:
    """A size as it is kept, to a hundredth, without a unit."""
    return "" if value is None else f"{value:.2f}".rstrip("0").rstrip(".")


def read_number(kept: str) -> float | None:
    """A kept size; what somebody wrote in words is no number and is left to the note."""
    try:
        return float(kept)
    except ValueError:
        return None


def gases_disagree(told: Mapping[str, str], pressure_inwc: float | None = None) -> tuple[Sentence, ...]:
    """The known facts about the gas where they disagree; empty while nothing speaks against the rest."""
    found = written_disagreement(dict(told), plain_number(pressure_inwc))
    return found.says if found else ()


def gas_names() -> tuple[str, ...]:
    """What is usually written for a gas; anything else may be."""
    return (
        say("natural"), say("propane"), say("butane"), say("manufactured gas"), say("not known"), say("none")
    )  # fmt: skip


def choices() -> dict[str, list[tuple[Any, str]]]:
    """The answers of the build's choices."""
    return {
        "back": [("high", say("high back")), ("low", say("low back")), ("none", say("no back"))],
        "base": [("base", say("base")), ("legs", say("legs"))],
        "oven_side": [("right", say("on the right")), ("left", say("on the left"))],
        "lighting": [
            ("standing pilot", say("standing pilot")),
            ("match", say("match-lit")),
            ("match with safety pilot", say("match-lit, with a safety pilot")),
            ("spark", say("spark")),
        ],
    }


def feature_names() -> dict[str, str]:
    """What a range has or has not, in the order of looking at it."""
    return {
        "broiler": say("Broiler"),
        "griddle": say("Griddle"),
        "deep_well": say("Deep-well cooker"),
        "fold_top": say("Fold-down top"),
        "shelf": say("Shelf"),
        "lamp": say("Lamp"),
        "clock": say("Clock"),
        "outlet": say("Outlet for appliances"),
        "window": say("Oven window"),
        "thermostat": say("Oven thermostat"),
    }
