"""Whether a shop is whole: what storage checks, and that every stored stage follows from its facts."""

from collections.abc import Callable

import sqlalchemy as sa

from shopdesk.domain import stage
from shopdesk.domain.stage import Facts
from shopdesk.services.seat import Seat
from shopdesk.services.stage_facts import every_job
from shopdesk.storage import checking
from shopdesk.storage.tables.ranges import Job

Told = Callable[[float], None]
_UNREADABLE = "The file is damaged: a record cannot be read ({why})."


def faults(seat: Seat, told: Told = lambda _share: None) -> list[str]:
    """Every fault found, a sentence each; empty when the shop is whole.

    `told` hears how much of it is done, from 0 to 1.
    """
    try:
        return checking.faults(seat.file, lambda share: told(share / 2)) or _stages(seat, told)
    except (ValueError, TypeError, LookupError) as error:  # a record holds what none of ours can hold
        return [_UNREADABLE.format(why=error)]


def quick_faults(seat: Seat) -> list[str]:
    """What SQLite's `quick_check` finds; a file with a fault is only looked at from then on."""
    found = checking.quick_faults(seat.file)
    if found:
        seat.file.looking = True
    return found


def stage_faults(seat: Seat, stopped: Callable[[], bool]) -> list[str]:
    """Stages that do not follow from their facts; empty too when it was stopped before the end."""

    def go_on(_share: float) -> None:
        if stopped():
            raise _Stopped

    try:
        return _stages(seat, go_on)
    except _Stopped:
        return []
    except (ValueError, TypeError, LookupError) as error:
        return [_UNREADABLE.format(why=error)]


class _Stopped(Exception):
    """The shop is being closed."""


def _stages(seat: Seat, told: Told) -> list[str]:
    found: list[str] = []
    with seat.look() as session:
        jobs = session.scalar(sa.select(sa.func.count()).select_from(Job)) or 1
        for done, (job, known) in enumerate(every_job(session, seat.catalogue), start=1):
            found += _of_stage(job, known)
            told(0.5 + done / jobs / 2)
    return found


def _of_stage(job: Job, known: Facts) -> list[str]:
    found = []
    if job.stage != stage.stage(known).value:
        found.append(
            f"The stage of {job.range.number} is kept as “{job.stage}”; "
            f"its facts say “{stage.stage(known).value}”."
        )
    held = stage.held_for(known)
    if job.held_for != (held[0].hold.value if held else ""):
        found.append(f"What {job.range.number} is held for is not what its facts say.")
    return found
