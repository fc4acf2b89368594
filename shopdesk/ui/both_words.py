"""Two texts for one field, in words: what the field is called, and what stands in it on either side.

Knows how people write days, money and hours; a form's own labels come first.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shopdesk.domain.changed import Changed, Difference, Path
from shopdesk.wording import Region, say


@dataclass(frozen=True, slots=True)
class BothTexts:
    """One field as the person chooses in it; `key` and `path` name it for the shop."""

    key: str
    path: Path
    label: str
    before: str
    theirs: str
    mine: str
    take_theirs: bool  # only they changed it, so theirs is offered first


def both_texts(region: Region, changed: Changed, labels: Mapping[str, str]) -> list[BothTexts]:
    """What the two wrote, field by field, in the order in which the form asks."""
    order = list(labels)
    rows = [_row(region, each, labels) for each in changed.differences]
    places = {name: place for place, name in enumerate(order)}
    return sorted(rows, key=lambda row: places.get(row.path[-1] if row.path else "", len(places)))


def who_and_when(region: Region, who: str, at: dt.datetime) -> str:
    return say("{who}, {when}", who=who, when=region.instant(at))


def record_name(key: str) -> str:
    """What a kind of record is called: of "party 12", a customer or firm."""
    table = key.partition(" ")[0]
    return _records().get(table, table.replace("_", " "))


def _row(region: Region, each: Difference, labels: Mapping[str, str]) -> BothTexts:
    if not each.path:
        theirs = "\n".join(
            f"{_called(name, labels)}: {_written(region, name, value)}" for name, value in each.theirs.items()
        )
        return BothTexts(
            each.key, each.path, record_name(each.key), "", theirs, say("It is taken away."), False
        )
    name = each.path[-1]
    return BothTexts(
        each.key, each.path, _called(name, labels), _written(region, name, each.before),
        _written(region, name, each.theirs), _written(region, name, each.mine), each.mine_is_untouched,
    )  # fmt: skip


def _called(name: str, labels: Mapping[str, str]) -> str:
    return (
        labels.get(name) or _columns().get(name) or name.removesuffix("_cents").replace("_", " ").capitalize()
    )


def _written(region: Region, name: str, value: Any) -> str:
    """A value of the journal as people read it."""
    if isinstance(value, dict) and value:
        return "\n".join(f"{_called(key, {})}: {_written(region, key, each)}" for key, each in value.items())
    if isinstance(value, list) and value:
        return ", ".join(_written(region, name, each) for each in value)
    if isinstance(value, int) and not isinstance(value, bool):
        return _figure(region, name, value)
    if isinstance(value, str) and value:
        return _day(region, value)
    if isinstance(value, bool):
        return say("yes") if value else say("no")
    return say("nothing")


def _figure(region: Region, name: str, value: int) -> str:
    if "cents" in name:
        return region.money(value)
    return region.hours(value) if name.startswith("minutes") else str(value)


def _day(region: Region, text: str) -> str:
    try:
        return region.day(dt.date.fromisoformat(text)) if len(text) == 10 else text
    except ValueError:
        return text


def _columns() -> dict[str, str]:
    """Fields that no open form names: keys pressed on a walk-round, hours of a task."""
    return {
        "evidence": say("How it is known"),
        "extent": say("How much of it"),
        "way": say("What is done about it"),
        "note": say("Note"),
        "minutes_low": say("Hours at least"),
        "minutes_likely": say("Hours likely"),
        "minutes_high": say("Hours at most"),
        "blocked_because": say("Blocked because"),
        "stands_at": say("Stands at"),
        "promised_on": say("Promised for"),
        "grade": say("Grade"),
        "skills": say("Skills"),
        "fits": say("Fits"),
        "accessories": say("What comes with it"),
        "purpose": say("Purpose"),
        "asking_cents": say("Asking price"),
        "week": say("Hours of the week"),
        "off": say("Not asked"),
    }


def _records() -> dict[str, str]:
    return {
        "party": say("Customer or firm"),
        "gas_range": say("Range"),
        "job": say("Job"),
        "task": say("Task"),
        "part": say("Part"),
        "purchase_order": say("Order"),
        "setting": say("Set-up"),
        "staff": say("Person"),
        "observation": say("Answer of the walk-round"),
        "walk_round": say("Walk-round"),
        "appointment": say("Appointment"),
        "tag": say("Tag"),
        "finish_grade": say("Finish of a surface"),
        "working_hours": say("Hours"),
        "station": say("Station"),
    }
