"""What the place of the walk-round asks: which ranges can be walked round, and what a walk comes to."""

import datetime as dt
from dataclasses import dataclass, replace

import sqlalchemy as sa
from sqlalchemy.orm import Session, selectinload

from shopdesk.domain.access import Access
from shopdesk.domain.answers import Look
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Evidence
from shopdesk.domain.stage import Stage
from shopdesk.domain.worth import ScopeCharge, Verdict, judge, scope_charges
from shopdesk.domain.worth.past_sales import Valued
from shopdesk.services import walks
from shopdesk.services.access import access_of
from shopdesk.services.past_sales import valued_for
from shopdesk.services.seat import Seat
from shopdesk.services.wanted_parts import more_wanted
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.walk import Observation, WalkRound
from shopdesk.storage.tables.walk import Verdict as VerdictKept

BEFORE_WORK = (Stage.LOOKED_AT, Stage.BOOKED_IN, Stage.INSPECTED)


@dataclass(frozen=True, slots=True)
class WalkRow:
    """A range with its newest walk-round: how far it is, or when it was finished, and what was decided."""

    job_id: int
    range_id: int
    number: str
    maker: str
    model: str
    colour: str
    build: Build
    customer: str  # empty: the shop's own, or nobody's yet
    stage: Stage
    bought: bool
    walk_id: int | None
    begun_on: dt.date | None
    finished: bool
    answered: int
    decided: str  # the route last recorded, or empty


@dataclass(frozen=True, slots=True)
class Worth:
    """What a walk-round comes to; `charges` for a customer's own range.

    `own`: the figures it was reckoned with, and the past sales behind them. `look`: what was judged.
    """

    verdict: Verdict
    charges: tuple[ScopeCharge, ...]
    own: Valued
    access: Access
    look: Look


def to_walk(seat: Seat) -> list[WalkRow]:
    """The ranges before their work, the newest first."""
    stages = [stage.value for stage in BEFORE_WORK]
    with seat.look() as session:
        jobs = session.scalars(
            sa.select(Job)
            .where(Job.stage.in_(stages))
            .options(selectinload(Job.range), selectinload(Job.customer))
            .order_by(Job.id.desc())
        )
        return [_row(session, job) for job in jobs]


def walk_row(seat: Seat, job_id: int) -> WalkRow:
    """One range of any stage."""
    with seat.look() as session:
        return _row(session, session.get_one(Job, job_id))


def newest_job(seat: Seat, range_id: int) -> int:
    """The key of a range's last job."""
    query = sa.select(Job.id).where(Job.range_id == range_id).order_by(Job.id.desc()).limit(1)
    with seat.look() as session:
        return session.scalars(query).one()


def range_of(seat: Seat, job_id: int) -> int:
    """The key of a job's range."""
    with seat.look() as session:
        return session.get_one(Job, job_id).range_id


def worth_of(seat: Seat, walk_id: int) -> Worth:
    """Verdict and offer as the walk-round stands; for a customer's range what each scope is charged."""
    with seat.look() as session:
        walk = session.get_one(WalkRound, walk_id)
        view = walks.view_of(session, walk)
        theirs = walk.job.customer_id is not None
        own = valued_for(seat, session, view.build)
        reachable = access_of(walk.job.range)
        more = more_wanted(session, seat.catalogue, view.look, own.figures)
    look = replace(view.look, wanted_cents=more)
    verdict = judge(seat.catalogue, look, own.figures, seed=view.seed)
    charges = scope_charges(seat.catalogue, look, own.figures, seed=view.seed) if theirs else ()
    return Worth(verdict, charges, own, reachable, look)


def _row(session: Session, job: Job) -> WalkRow:
    walk = walks.newest(session, job.id)
    answered = decided = None
    if walk is not None:
        answered = session.scalar(
            sa.select(sa.func.count(Observation.checkpoint.distinct())).where(
                Observation.walk_round_id == walk.id, Observation.evidence != Evidence.NOT_SEEN.value
            )
        )
        decided = session.scalars(
            sa.select(VerdictKept.route)
            .where(VerdictKept.walk_round_id == walk.id)
            .order_by(VerdictKept.id.desc())
            .limit(1)
        ).first()
    known = job.range
    return WalkRow(
        job_id=job.id,
        range_id=known.id,
        number=known.number,
        maker=known.maker,
        model=known.model,
        colour=known.colour,
        build=Build(**known.build),
        customer=job.customer.name if job.customer else "",
        stage=Stage(job.stage),
        bought=job.bought_cents is not None,
        walk_id=walk.id if walk else None,
        begun_on=walk.on_day if walk else None,
        finished=walk is not None and walk.finished_at is not None,
        answered=answered or 0,
        decided=decided or "",
    )
