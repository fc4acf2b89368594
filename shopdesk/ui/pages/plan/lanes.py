"""Which bar lies in which row and lane: by person, by station, by range. Knows no Qt."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from shopdesk.services.planning.picture import AWAY_ROW, Bar, Picture
from shopdesk.wording import Region, say, say_n

Sorting = Literal["person", "station", "range"]
SORTINGS: tuple[Sorting, ...] = ("person", "station", "range")


@dataclass(frozen=True, slots=True)
class Laid:
    """A bar in its lane of a row."""

    bar: Bar
    lane: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row of the drawing: what it is called, its bars in lanes by time, where someone is away.

    `promise` is where the promised day ends on the line; `late` the words for it, empty when in time.
    """

    key: int | str
    name: str
    second: str
    laid: tuple[Laid, ...]
    lanes: int
    away: tuple[tuple[float, float], ...] = ()
    promise: float | None = None
    late: str = ""
    range_id: int | None = None
    job_id: int | None = None


def rows_of(picture: Picture, sorting: Sorting, region: Region) -> list[Row]:
    """The rows of a drawing, from top to bottom."""
    if sorting == "person":
        return _by_person(picture)
    if sorting == "station":
        return _by_station(picture)
    return _by_range(picture, region)


def _by_person(picture: Picture) -> list[Row]:
    rows = []
    for person in picture.people:
        bars = [bar for bar in picture.bars if bar.staff_id == person.staff_id]
        hours = sum(bar.half_hours for bar in bars) / 2
        second = say("{hours} h planned", hours=f"{hours:g}") if bars else say("nothing planned")
        rows.append(_row(person.staff_id, person.name, second, bars, away=person.away))
    away = [bar for bar in picture.bars if bar.staff_id is None]
    if away:
        rows.append(_row(AWAY_ROW, say("Outside the shop"), say("no hands of ours"), away))
    return rows


def _by_station(picture: Picture) -> list[Row]:
    rows = []
    for code, name in picture.stations:
        if code == AWAY_ROW:
            bars = [bar for bar in picture.bars if bar.staff_id is None]
        else:
            bars = [bar for bar in picture.bars if bar.station == code]
        if bars:
            rows.append(_row(code, name[:1].upper() + name[1:], "", bars))
    desk = [bar for bar in picture.bars if not bar.station and bar.staff_id is not None]
    if desk:
        rows.append(_row("desk", say("Office and site"), "", desk))
    return rows


def _by_range(picture: Picture, region: Region) -> list[Row]:
    rows = []
    for each in picture.ranges:
        bars = [bar for bar in picture.bars if bar.job_id == each.job_id]
        late = ""
        if each.late_days:
            late = say_n("{count} day late", "{count} days late", each.late_days)
        promise = None
        second = each.customer or each.name
        if each.promised_on is not None:
            number = (each.promised_on - picture.first_day).days + 1
            promise = picture.edges[min(max(0, number), picture.days)]
            day = region.day_short(each.promised_on, picture.today)
            second = say("promised {day}, {who}", who=second, day=day)
        rows.append(
            _row(
                each.job_id, each.number, second, bars, promise=promise, late=late,
                range_id=each.range_id, job_id=each.job_id,
            )
        )  # fmt: skip
    return rows


def _row(
    key: int | str, name: str, second: str, bars: Iterable[Bar], *,
    away: tuple[tuple[float, float], ...] = (), promise: float | None = None, late: str = "",
    range_id: int | None = None, job_id: int | None = None,
) -> Row:  # fmt: skip
    laid = _laid(bars)
    lanes = max((each.lane for each in laid), default=0) + 1
    return Row(
        key=key, name=name, second=second, laid=laid, lanes=lanes, away=away, promise=promise, late=late,
        range_id=range_id, job_id=job_id,
    )  # fmt: skip


def _laid(bars: Iterable[Bar]) -> tuple[Laid, ...]:
    """Each bar in the first lane that is free when it begins."""
    ends: list[float] = []
    found = []
    for bar in sorted(bars, key=lambda each: (each.begin, -each.end, each.task_id)):
        lane = next((n for n, end in enumerate(ends) if end <= bar.begin + 1e-6), len(ends))
        if lane == len(ends):
            ends.append(0.0)
        ends[lane] = bar.end
        found.append(Laid(bar, lane))
    return tuple(found)


def bar_words(bar: Bar, region: Region, today: dt.date) -> str:
    """A bar in one sentence, for the line under the drawing and for screen readers."""
    clock, day = region.time_of_day, region.day_short
    begins = say("{day} {time}", day=day(bar.begins[0], today), time=clock(bar.begins[1]))
    same = bar.ends[0] == bar.begins[0]
    until = clock(bar.ends[1]) if same else say(
        "{day} {time}", day=day(bar.ends[0], today), time=clock(bar.ends[1])
    )  # fmt: skip
    parts = [
        f"{bar.number}: {bar.task}",
        f"{begins}–{until}" if bar.half_hours else begins,
        bar.who or (say("outside the shop") if bar.kind == "away" else say("somebody from outside")),
        say(bar.station) if bar.station else "",
        say("begun") if bar.started else "",
        say("pinned") if bar.pinned else "",
        say("after the promised day") if bar.late else "",
    ]
    return "; ".join(part for part in parts if part)
