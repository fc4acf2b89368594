"""One running clock a person: how long it ran, and when nobody can tell without asking.

A clock outlives the program and the machine. What it cannot know it asks: until when somebody worked
who went home with the clock running, and what a computer means whose own clock was put back.
"""

import datetime as dt

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import Problem
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.work import TimeEntry
from shopdesk.wording.region import Region

FORGOTTEN = dt.timedelta(hours=12)  # nobody works so long in one go
LONGEST = dt.timedelta(days=1)  # of one entry, when the computer's clock cannot bear it out


class StillRunning(Problem):
    """A clock that was left running: a screen asks until when, before another one starts."""


def running(session: Session, staff_id: int) -> TimeEntry | None:
    """The clock a person has running."""
    return session.scalar(
        sa.select(TimeEntry).where(TimeEntry.staff_id == staff_id, TimeEntry.minutes.is_(None))
    )


def begun_minutes(start: dt.datetime, end: dt.datetime) -> int:
    """Begun minutes count; a clock stopped in the minute it started shows one."""
    return max(1, -(-(end - start) // dt.timedelta(minutes=1)))


def left_running(started_at: dt.datetime, now: dt.datetime, region: Region) -> bool:
    """Whether a clock was left running: since another day, or for longer than anybody works in one go."""
    return region.local_day(started_at) < region.local_day(now) or now - started_at > FORGOTTEN


def stop_for_another(seat: Seat, entry: TimeEntry, now: dt.datetime) -> None:
    """Stops a person's clock because another one starts; refused where it is not known until when."""
    if now < entry.started_at:
        raise _put_back(seat, entry, now)
    if left_running(entry.started_at, now, seat.region):
        raise StillRunning(
            "The clock on “{task}” is still running since {start}. Say until when you worked on it; then "
            "start the next.",
            field="until",
            task=entry.task.name,
            start=seat.region.instant(entry.started_at),
        )
    entry.minutes = begun_minutes(entry.started_at, now)


def stop(seat: Seat, entry: TimeEntry, until: dt.datetime | None, now: dt.datetime) -> dt.datetime:
    """Stops a clock now or at an earlier instant; returns it.

    When the computer's clock stands before the start, the end has to be said.
    """
    if until is None and now < entry.started_at:
        raise _put_back(seat, entry, now)
    end = until or now
    latest = now if now >= entry.started_at else entry.started_at + LONGEST
    if not entry.started_at <= end <= latest:
        raise Problem(
            "The clock runs since {start}; it stops after that and not in the future.",
            field="until",
            start=seat.region.instant(entry.started_at),
        )
    entry.minutes = begun_minutes(entry.started_at, end)
    return end


def _put_back(seat: Seat, entry: TimeEntry, now: dt.datetime) -> StillRunning:
    return StillRunning(
        "The clock on “{task}” runs since {start}, and this computer now shows {now}, which is before. Put "
        "the computer's clock right, or say until when you worked.",
        field="until",
        task=entry.task.name,
        start=seat.region.instant(entry.started_at),
        now=seat.region.instant(now),
    )
