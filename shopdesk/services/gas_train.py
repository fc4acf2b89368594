"""How the gas of some jobs stands: capped, its train out on the bench, or whole and proven tight.

Read from ticks, clocks and recorded proofs. It says what is recorded, never that anything may be lit:
that is for the local code, the gas supplier and the licensed trades.
"""

import datetime as dt
from collections.abc import Collection
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.proving import Result
from shopdesk.domain.work.holds import (
    ASSEMBLED,
    AT_HOME,
    CAPPING,
    GAS_OFF,
    PUTTING_BACK,
    TAKING_OUT,
    TRAIN_OUT,
)
from shopdesk.services.stages import later, reopens
from shopdesk.storage.tables.proving import Proof
from shopdesk.storage.tables.work import Task, TimeEntry, WorkOrder
from shopdesk.wording import say

_WANTED = {GAS_OFF: CAPPING, TRAIN_OUT: TAKING_OUT}


@dataclass(frozen=True, slots=True)
class _Work:
    """A task on a gas train: how far it is, and when it was last worked on."""

    name: str
    share: int
    done_at: dt.datetime | None
    touched_at: dt.datetime | None
    running: bool

    @property
    def open(self) -> bool:
        """Begun and not finished."""
        return self.share < 100 and (self.share > 0 or self.running)


class GasTrains:
    """The gas trains of some jobs, asked of the shop once for all of them."""

    def __init__(self, session: Session, jobs: Collection[int]) -> None:
        self._marks: dict[tuple[int, str], _Work] = {}
        self._work: dict[int, list[_Work]] = {}
        running = set(session.scalars(sa.select(TimeEntry.task_id).where(TimeEntry.minutes.is_(None))))
        for job_id, key, code, name, stage, proofs, share, done_at, touched_at in session.execute(
            sa.select(
                WorkOrder.job_id, Task.id, Task.code, Task.name, Task.stage, Task.proofs, Task.done_share,
                Task.done_at, Task.touched_at,
            )
            .join(WorkOrder)
            .where(WorkOrder.job_id.in_(jobs), Task.dropped == False)
            .order_by(Task.place)
        ):  # fmt: skip
            work = _Work(name, share, done_at, later(touched_at, done_at), key in running)
            if code in (CAPPING, TAKING_OUT, PUTTING_BACK):
                self._marks[job_id, code] = work
            if ASSEMBLED in proofs and reopens(stage):
                self._work.setdefault(job_id, []).append(work)
        self._last: dict[tuple[int, str], tuple[dt.datetime, str]] = {
            (job_id, kind): (at, result)
            for job_id, kind, at, result in session.execute(
                sa.select(Proof.job_id, Proof.kind, Proof.at, Proof.result)
                .where(Proof.job_id.in_(jobs), Proof.kind.in_((ASSEMBLED, AT_HOME)))
                .order_by(Proof.at, Proof.id)
            )
        }

    def missing(self, hold: str, job_id: int) -> str:
        """What must be done before work that waits for gas off, or for the train to be out; else empty.

        What was put back since is no longer off: the task that took it off is to be ticked anew.
        """
        if hold not in _WANTED:
            return ""
        off = self._marks.get((job_id, _WANTED[hold]))
        back = self._marks.get((job_id, PUTTING_BACK))
        if off is None:
            asked = {GAS_OFF: say("isolate and cap the gas"), TRAIN_OUT: say("take the gas train out")}
            return asked[hold]
        if off.share < 100 or off.done_at is None:
            return off.name
        if back is None or back.share == 0 or back.touched_at is None or off.done_at > back.touched_at:
            return ""
        return off.name

    def not_tight(self, job_id: int, *also: str) -> str:
        """Why no standing proof speaks for the tightness of the assembled range; empty when one does.

        The last leak test speaks: it must meet, and nothing may have been done on the gas train
        since. `also`: other proofs that speak for it, such as the one in the kitchen.
        """
        whys = [self._why_not(job_id, kind) for kind in (ASSEMBLED, *also)]
        return "" if "" in whys else whys[0]

    def _why_not(self, job_id: int, kind: str) -> str:
        work = self._work.get(job_id, [])
        begun = next((w for w in work if w.open), None)
        if begun is not None:
            return say("“{task}” is begun and not finished", task=begun.name)
        last = self._last.get((job_id, kind))
        if last is None:
            return say("no leak test of the assembled range is recorded")
        at, result = last
        if result != Result.MEETS.value:
            return say("the last leak test does not meet")
        since = next((w for w in work if w.touched_at is not None and w.touched_at > at), None)
        return say("“{task}” was worked on after the leak test", task=since.name) if since else ""
