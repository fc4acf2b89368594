"""What the small forms of the Bench ask and check before a service is called. Makes no widgets."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem
from shopdesk.ui.span_fields import span_of


@dataclass(frozen=True, slots=True)
class FoundMore:
    """A surprise at the bench with what it will take."""

    what: str
    minutes: Spread


@dataclass(frozen=True, slots=True)
class HoursAfterwards:
    """Time worked that no clock counted; `on` None is today."""

    minutes: int
    on: dt.date | None
    note: str


def found_more(values: Mapping[str, Any]) -> FoundMore:
    """From the form's values; the likely time alone is enough."""
    what = values["what"].strip()
    if not what:
        raise Problem("Say in a few words what was found.", field="what")
    return FoundMore(what, span_of(values))


def hours_afterwards(values: Mapping[str, Any], today: dt.date) -> HoursAfterwards:
    """From the form's values; today's own hours are kept at this hour, so `on` is None for them."""
    minutes, on = values["minutes"], values["on"]
    if not minutes:
        raise Problem("Write the time worked, like 1:30, 1.5 or 90m.", field="minutes")
    if on is not None and on > today:
        raise Problem("Hours cannot be written down for a day to come.", field="on")
    return HoursAfterwards(minutes, None if on == today else on, values["note"])


def with_phrase(text: str, phrase: str) -> str:
    """A note with a phrase set after it, once."""
    typed = text.strip()
    if not typed:
        return phrase
    return typed if phrase in typed else f"{typed} {phrase}"
