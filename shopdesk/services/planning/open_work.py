"""The shop's facts turned into the values that are planned, with the way back to tasks and days.

A task of the shop becomes one or several pieces: sittings of at most half a day (`12/1`, `12`),
and for outwork the handwork before it (`12/out`) and the time away (`12`; where pieces come back on set
weekdays `12/away`, and `12` the way back).
"""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from shopdesk.domain.money import Spread
from shopdesk.domain.planning.calendar import OpeningHours
from shopdesk.domain.planning.instance import Instance, Placed, Range, Station, Task
from shopdesk.services.planning.facts import Facts, OpenJob
from shopdesk.services.planning.holding import Holding
from shopdesk.services.planning.open_tasks import OpenTask
from shopdesk.services.planning.people_planned import people_of
from shopdesk.services.planning.pieces import AWAY, Pieces, away_station
from shopdesk.services.planning.suppose import NEW, MovePromise, Supposed
from shopdesk.services.planning.time_line import TimeLine
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class KeptPlace:
    """A sitting as a kept plan has it, in days and minutes."""

    task_id: int
    sitting: str
    staff_id: int | None
    station: str
    half_hours: int
    begins_on: dt.date
    begins_minute: int
    ends_on: dt.date
    ends_minute: int


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenWork:
    """What is planned, and what its names mean. `now` is the first slot that can still be used."""

    facts: Facts
    axis: OpeningHours
    now: int
    instance: Instance
    spreads: Mapping[str, Spread]
    work_done: Mapping[str, float]
    tasks: Mapping[str, OpenTask]  # piece -> its task
    assumed: tuple[str, ...]
    supposed_range: str = ""  # the range taken in by a supposition

    def job_of(self, range_id: str) -> OpenJob | None:
        return self.facts.jobs.get(int(range_id)) if not range_id.startswith(NEW) else None

    @property
    def today(self) -> dt.date:
        return self.facts.now.date()


def key_of(piece: str) -> tuple[int, str]:
    """The task and the sitting a piece stands for."""
    task, _, sitting = piece.partition("/")
    return int(task), sitting


def open_work(facts: Facts, kept: Iterable[KeptPlace] = (), supposed: Iterable[Supposed] = ()) -> OpenWork:
    """The instance of these facts, with what is supposed already in it."""
    known = tuple(supposed)
    line = TimeLine(facts)
    people = people_of(facts, line, known)
    made = Pieces(facts, line, known, {skill for person in people for skill in person.skills})
    pieces = made.all()
    pieces = Holding(facts, line, known, people, made.tasks).held(pieces)
    instance = Instance(
        tasks=tuple(pieces),
        ranges=_ranges(facts, line, known, pieces),
        people=people,
        stations=_stations(made, pieces),
        yesterday=_yesterday(line, kept, pieces),
    )
    return OpenWork(
        facts=facts,
        axis=line.axis,
        now=line.now,
        instance=instance,
        spreads=made.spreads,
        work_done={str(job): share for job, share in facts.share_done.items()},
        tasks=made.tasks,
        assumed=tuple(made.assumed),
        supposed_range=made.supposed_range,
    )


def _stations(made: Pieces, pieces: list[Task]) -> tuple[Station, ...]:
    """Those of the shop, and a trade outside that shuts for some days: nothing is there meanwhile."""
    found = [Station(id=code, name=say(code), capacity=room) for code, room in made.facts.rooms.items()]
    for trade, closed in made.closures.items():
        uses = sum(1 for piece in pieces if piece.uses == ((away_station(trade), 1),))
        if uses:
            shut = made.line.shut(closed)
            found.append(Station(id=away_station(trade), name=say(trade), capacity=uses, off=shut))
    return tuple(found)


def _ranges(
    facts: Facts, line: TimeLine, supposed: tuple[Supposed, ...], pieces: list[Task]
) -> tuple[Range, ...]:
    moved = {one.job_id: one.on for one in supposed if isinstance(one, MovePromise)}
    found = []
    for range_id in dict.fromkeys(piece.range_id for piece in pieces):
        if range_id.startswith(NEW):
            found.append(Range(id=range_id, name=say("the new range")))
            continue
        job = facts.jobs[int(range_id)]
        day = moved.get(job.id, job.promised_on)
        due = None if day is None else line.axis.due_slot(day)
        found.append(Range(id=range_id, name=job.number, due=due))
    return tuple(found)


def _yesterday(line: TimeLine, kept: Iterable[KeptPlace], pieces: list[Task]) -> dict[str, Placed]:
    known = {piece.id: piece for piece in pieces}
    found = {}
    for place in kept:
        name = f"{place.task_id}/{place.sitting}" if place.sitting else str(place.task_id)
        name = f"{name}/{AWAY}" if f"{name}/{AWAY}" in known else name
        if name in known and place.begins_on >= line.today:
            start = line.axis.slot_at(place.begins_on, place.begins_minute)
            person = str(place.staff_id) if place.staff_id else None
            found[name] = Placed(start=start, end=start + known[name].slots, person=person)
    return found
