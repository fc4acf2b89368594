"""What one may suppose before agreeing to it: the changes a what-if asks about."""

import datetime as dt
from dataclasses import dataclass

NEW = "n"  # marks the pieces, the range and the person that are only supposed


@dataclass(frozen=True, slots=True)
class TakeIn:
    """A range taken in on a day: the job's own order if it waits for its answer, else one like it."""

    job_id: int
    on: dt.date
    new: bool = False  # another range like this one, not this one itself


@dataclass(frozen=True, slots=True)
class MovePromise:
    job_id: int
    on: dt.date | None


@dataclass(frozen=True, slots=True)
class Hire:
    """One more pair of hands for some days; no skills named: every skill of the bench."""

    name: str
    first_day: dt.date
    last_day: dt.date
    skills: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Shut:
    """A trade outside that is shut for some days."""

    trade: str
    first_day: dt.date
    last_day: dt.date


@dataclass(frozen=True, slots=True)
class HoldTask:
    """A task put at a half-hour, with a person, or both."""

    task_id: int
    day: dt.date | None = None
    minute: int | None = None
    staff_id: int | None = None


Supposed = TakeIn | MovePromise | Hire | Shut | HoldTask
