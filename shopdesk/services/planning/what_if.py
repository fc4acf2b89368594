"""What would happen if: today's plan beside the plan under a supposition, range by range. Who pays for it."""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass

from shopdesk.domain.planning.again import KEEP
from shopdesk.domain.planning.instance import Plan
from shopdesk.domain.problem import Problem
from shopdesk.services.planning import making
from shopdesk.services.planning.making import Made
from shopdesk.services.planning.open_work import OpenWork
from shopdesk.services.planning.outlook import DRAWS, Odds, odds_of
from shopdesk.services.planning.suppose import NEW, Hire, HoldTask, MovePromise, Shut, Supposed, TakeIn
from shopdesk.services.seat import Seat

SECONDS = 2.0


@dataclass(frozen=True, slots=True)
class Moved:
    """A range before and after: days ready (None: not in that plan), days late against its promise."""

    job_id: int | None
    range_id: int | None
    number: str
    name: str
    before: dt.date | None
    after: dt.date | None
    promised_on: dt.date | None
    late_before: int
    late_after: int

    @property
    def days(self) -> int:
        """Days later (or, negative, sooner)."""
        return (self.after - self.before).days if self.after and self.before else 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """Who pays and who gains; `taken_in` is the range supposed, with its odds."""

    supposed: Supposed
    ranges: tuple[Moved, ...]
    moved_tasks: int
    made: Made
    taken_in: Moved | None = None
    odds: Odds | None = None

    @property
    def pays(self) -> tuple[Moved, ...]:
        """Ranges that are ready later, those that become late or later still first."""
        worse = [row for row in self.ranges if row.days > 0 or row.late_after > row.late_before]
        return tuple(sorted(worse, key=lambda row: (row.late_before - row.late_after, -row.days)))

    @property
    def gains(self) -> tuple[Moved, ...]:
        return tuple(sorted((r for r in self.ranges if r.days < 0), key=lambda row: row.days))


def what_if(
    seat: Seat, supposed: Supposed, *, seconds: float = SECONDS, with_odds: bool = True,
    stop: Callable[[], bool] = lambda: False,
) -> Answer:  # fmt: skip
    """Plans twice, close to the plan in force: as things are, and as supposed. Keeps nothing."""
    _check(seat, supposed)
    today = making.plan_close(seat, seconds=seconds / 2, stop=stop)
    free = isinstance(supposed, Hire | Shut)
    touched = (supposed.task_id,) if isinstance(supposed, HoldTask) else ()
    then = making.plan_close(
        seat, supposed=(supposed,), seconds=seconds, stop=stop, touched=touched,
        keep=0.0 if free else KEEP,
    )  # fmt: skip
    before, after = _ends(today), _ends(then)
    rows = tuple(
        _moved(then.work, range_id, before.get(range_id), end)
        for range_id, end in after.items()
        if range_id != then.work.supposed_range
    )
    taken_in, odds = None, None
    if then.work.supposed_range:
        mine = then.work.supposed_range
        taken_in = _moved(then.work, mine, None, after.get(mine))
        if with_odds and not mine.startswith(NEW):
            odds = odds_of(then, draws=DRAWS, stop=stop).of(int(mine))
    return Answer(
        supposed=supposed, ranges=rows, moved_tasks=_moved_tasks(today.plan, then.plan), made=then,
        taken_in=taken_in, odds=odds,
    )  # fmt: skip


def _check(seat: Seat, supposed: Supposed) -> None:
    if isinstance(supposed, Hire | Shut):
        if supposed.last_day < supposed.first_day:
            raise Problem("The last day comes before the first. Swap them.", field="last_day")
        if supposed.last_day < seat.today:
            raise Problem("These days are past. Suppose days that are still to come.", field="first_day")
    day = supposed.on if isinstance(supposed, TakeIn | MovePromise) else None
    if day is not None and day < seat.today:
        raise Problem("{day} is past. Suppose a day that is still to come.", field="on", day=day)


def _ends(made: Made) -> dict[str, dt.date]:
    axis = made.work.axis
    return {
        each.id: axis.done_on(made.plan.finish(made.work.instance, each.id))
        for each in made.work.instance.ranges
    }


def _moved(work: OpenWork, range_id: str, before: dt.date | None, after: dt.date | None) -> Moved:
    job = work.job_of(range_id)
    each = next((r for r in work.instance.ranges if r.id == range_id), None)
    promised = job.promised_on if job else None

    def late(day: dt.date | None, due: dt.date | None) -> int:
        return max(0, (day - due).days) if day and due else 0

    due = promised
    if each is not None and job is not None and each.due is not None:
        due = max(promised or work.today, work.today) if each.due == 0 else work.axis.done_on(each.due)
    return Moved(
        job.id if job else None, job.range_id if job else None,
        job.number if job else each.name if each else "", job.name if job else "",
        before, after, due, late(before, promised), late(after, due),
    )  # fmt: skip


def _moved_tasks(before: Plan, after: Plan) -> int:
    """Sittings that begin at another half-hour or with another person."""
    return sum(
        1
        for piece, at in after.placed.items()
        if piece in before.placed
        and (before.placed[piece].start, before.placed[piece].person) != (at.start, at.person)
    )
