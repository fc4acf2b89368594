"""How long something takes: the likely time, and what it takes if all goes well or badly."""

from collections.abc import Mapping
from typing import Any

from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem
from shopdesk.ui.widgets.fields import HoursField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.tapped import Tapped
from shopdesk.wording import Region, say

HALF_HOURS = (30, 60, 90, 120, 240)


def tapped_hours(region: Region) -> Tapped:
    """A field for time worked, with half-hours to touch."""
    return Tapped(HoursField(region), [region.hours(each) for each in HALF_HOURS])


def add_span(form: Form, region: Region, known: Spread | None = None) -> None:
    """The fields `likely`, `low` and `high`; the likely one alone is enough."""
    form.add("likely", say("Likely takes"), tapped_hours(region), wide=True)
    form.add("low", say("If all goes well"), HoursField(region))
    form.add("high", say("If it goes badly"), HoursField(region))
    if known is not None:
        form.show_values({"likely": known.likely, "low": known.low, "high": known.high})


def span_of(values: Mapping[str, Any]) -> Spread:
    """From the form's values; the neighbours of the likely time must not cross it."""
    likely = values["likely"]
    if likely is None:
        raise Problem("Say about how long it will take, like 1:30, 1.5 or 90m.", field="likely")
    low = likely if values["low"] is None else values["low"]
    high = likely if values["high"] is None else values["high"]
    if not low <= likely:
        raise Problem("If all goes well it takes no longer than is likely.", field="low")
    if not likely <= high:
        raise Problem("If it goes badly it takes no less than is likely.", field="high")
    return Spread(low, likely, high)
