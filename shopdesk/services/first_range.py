"""A shop's first range, led through: which of its steps are done follows from what stands in the shop."""

from dataclasses import dataclass
from enum import StrEnum

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.rights import Action
from shopdesk.domain.stage import WAY, Stage
from shopdesk.services import settings
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Paper
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.walk import Observation, WalkRound
from shopdesk.storage.tables.work import WorkOrder

FEW = 3  # checkpoints answered, until a walk counts as tried
_AT_WORK = tuple(stage.value for stage in WAY[WAY.index(Stage.AGREED) :])  # nobody there is at a first range
_LOOKED_AT = 5  # jobs, the newest, among which the one furthest along is led through


class Step(StrEnum):
    """In the order in which a range goes through them."""

    BOOK_IN = "book in"
    WALK = "walk"
    VERDICT = "verdict"
    ORDER = "work order"
    REPORT = "report"


@dataclass(frozen=True, slots=True)
class FirstRange:
    """How far the first range is; `number` is empty until there is one."""

    number: str
    job_id: int | None
    done: frozenset[Step]

    @property
    def next(self) -> Step | None:
        return next((step for step in Step if step not in self.done), None)


def first_range(seat: Seat) -> FirstRange | None:
    """How far this person's first range is; None once it was done or put away, or the shop is at work."""
    with seat.look() as session:
        if seat.acting.staff_id in settings.read(session, settings.FirstRange).put_away:
            return None
        if _there(session, sa.select(Job.id).where(Job.stage.in_(_AT_WORK))):
            return None
        jobs = session.scalars(sa.select(Job).order_by(Job.id.desc()).limit(_LOOKED_AT)).all()
        ways = [_way(session, job) for job in reversed(jobs)]
    return max(ways, key=lambda way: len(way.done), default=FirstRange("", None, frozenset()))


def put_away(seat: Seat) -> None:
    """It is done, or not wanted: this person is not led any more."""
    with seat.change(Action.SET_UP) as work:
        before = settings.read(work.session, settings.FirstRange).put_away
        settings.write(work, settings.FirstRange((*before, seat.acting.staff_id)))


def take_up(seat: Seat) -> None:
    """Leads this person again."""
    with seat.change(Action.SET_UP) as work:
        before = settings.read(work.session, settings.FirstRange).put_away
        settings.write(work, settings.FirstRange(tuple(key for key in before if key != seat.acting.staff_id)))


def _way(session: Session, job: Job) -> FirstRange:
    walks = sa.select(WalkRound.id).where(WalkRound.job_id == job.id)
    answered = session.scalar(
        sa.select(sa.func.count(Observation.id)).where(Observation.walk_round_id.in_(walks))
    )
    facts = {
        Step.BOOK_IN: True,
        Step.WALK: (answered or 0) >= FEW,
        Step.VERDICT: _there(session, walks.where(WalkRound.finished_at.is_not(None))),
        Step.ORDER: _there(session, sa.select(WorkOrder.id).where(WorkOrder.job_id == job.id)),
        Step.REPORT: _there(
            session, sa.select(Paper.id).where(Paper.job_id == job.id, Paper.kind == "condition report")
        ),
    }
    return FirstRange(job.range.number, job.id, frozenset(step for step, done in facts.items() if done))


def _there(session: Session, query: sa.Select[int]) -> bool:
    return session.scalar(query.limit(1)) is not None
