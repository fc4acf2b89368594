"""Walk-rounds: answers as they are given, and what they come to."""

from dataclasses import dataclass, replace
from enum import Enum

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.answers import Answer, Look
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Purpose
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.worth import Verdict, judge
from shopdesk.services import gas_identity, observing
from shopdesk.services.past_sales import valued_for
from shopdesk.services.seat import Seat
from shopdesk.services.wanted_parts import more_wanted
from shopdesk.storage.tables import walk as rows
from shopdesk.storage.tables.ranges import Job, PhotographUse
from shopdesk.storage.unit_of_work import UnitOfWork


class Kept(Enum):
    """What a change leaves alone, where None already means something."""

    AS_IT_IS = "as it is"


@dataclass(frozen=True, slots=True)
class Given:
    """One answer as it is kept, with its key and its pictures.

    `filed_for`: the facts a finding was filed from by itself; empty: a person gave the answer.
    """

    id: int
    answer: Answer
    photographs: tuple[int, ...]
    filed_for: str = ""


@dataclass(frozen=True, slots=True)
class WalkView:
    """One walk-round with everything answered so far."""

    id: int
    job_id: int
    range_id: int
    range_number: str
    build: Build
    purpose: Purpose
    finished: bool
    place: str
    circumstances: str
    asking_cents: int | None
    accessories: tuple[str, ...]
    given: tuple[Given, ...]
    seed: int
    spent_cents: int | None = None  # what the shop paid for a range it owns

    @property
    def look(self) -> Look:
        answers = tuple(g.answer for g in self.given)
        return Look(
            self.build, self.purpose, answers, self.asking_cents, self.accessories,
            spent_cents=self.spent_cents,
        )  # fmt: skip


def open_walk(seat: Seat, job_id: int, *, place: str = "", circumstances: str = "") -> int:
    """The job's unfinished walk-round, or a new one; returns its key."""
    with seat.change(Action.WALK) as work:
        job = work.get(Job, job_id, "job")
        unfinished = work.session.scalar(
            sa.select(rows.WalkRound.id).where(
                rows.WalkRound.job_id == job_id, rows.WalkRound.finished_at.is_(None)
            )
        )
        if unfinished is not None:
            return unfinished
        return begin(seat, work, job, place=place, circumstances=circumstances).id


def begin(
    seat: Seat, work: UnitOfWork, job: Job, *, place: str = "", circumstances: str = ""
) -> rows.WalkRound:
    """A new walk-round of a job, in a unit of work that does more."""
    walk = work.add(
        rows.WalkRound(
            job=job,
            on_day=seat.today,
            purpose=job.purpose,
            examiner_id=seat.acting.staff_id or None,
            place=place.strip(),
            circumstances=circumstances.strip(),
            asking_cents=job.asking_cents,
            accessories=[],
            catalogue_version=seat.catalogue.version,
        )
    )
    work.session.flush()
    gas_identity.file(seat, work, walk)
    work.about(walk, job.id)
    return walk


def answer(seat: Seat, walk_id: int, given: Answer) -> int:
    """Keeps one answer; a finding takes the place of "sound" there and the other way round."""
    with seat.change(Action.WALK) as work:
        walk = _open(work, walk_id)
        kept = observing.give(seat, work, walk, given)
        work.about(kept, walk.job_id)
        return kept.id


def take_back(seat: Seat, walk_id: int, checkpoint: str, finding: str | None = None) -> None:
    """Takes an answer back: the checkpoint is not seen again (or only lacks that finding)."""
    with seat.change(Action.WALK) as work:
        walk = _open(work, walk_id)
        for row in list(walk.observations):
            if row.checkpoint == checkpoint and finding in (None, row.finding):
                observing.refuse_filed(seat, row)
                observing.remove(work.session, row)
                walk.observations.remove(row)
        work.about(walk, walk.job_id)


def set_terms(
    seat: Seat,
    walk_id: int,
    *,
    purpose: Purpose | None = None,
    asking_cents: int | Kept | None = Kept.AS_IT_IS,
    accessories: tuple[str, ...] | None = None,
    place: str | None = None,
    circumstances: str | None = None,
) -> None:
    """Purpose, asking price (None: none is named), what comes with the range, where and how it was seen."""
    if isinstance(asking_cents, int) and asking_cents < 0:
        raise Problem("An asking price is zero or more. Write what the seller asks.", field="asking")
    with seat.change(Action.WALK) as work:
        walk = _open(work, walk_id)
        if purpose is not None:
            walk.purpose = walk.job.purpose = purpose.value
        if not isinstance(asking_cents, Kept):
            walk.asking_cents = walk.job.asking_cents = asking_cents
        if accessories is not None:
            observing.refuse_unknown(seat, walk, accessories=accessories)
            walk.accessories = list(accessories)
        if place is not None:
            walk.place = place.strip()
        if circumstances is not None:
            walk.circumstances = circumstances.strip()
        work.about(walk, walk.job_id)


def finish(seat: Seat, walk_id: int) -> None:
    """Closes a walk-round; from now on it is a record, and a second look is a walk of its own."""
    with seat.change(Action.WALK) as work:
        walk = _open(work, walk_id)
        if not walk.observations:
            raise Problem("Nothing is answered on this walk-round yet. Answer at least one checkpoint.")
        walk.finished_at = work.now
        work.about(walk, walk.job_id)


def walk_view(seat: Seat, walk_id: int) -> WalkView:
    with seat.look() as session:
        return view_of(session, session.get_one(rows.WalkRound, walk_id))


def last_walk(seat: Seat, job_id: int) -> WalkView | None:
    """The newest walk-round of a job, finished or not."""
    with seat.look() as session:
        row = newest(session, job_id)
        return view_of(session, row) if row else None


def judge_walk(seat: Seat, walk_id: int) -> Verdict:
    """Verdict, offer and cost of a walk-round as it stands."""
    with seat.look() as session:
        view = view_of(session, session.get_one(rows.WalkRound, walk_id))
        own = valued_for(seat, session, view.build)
        more = more_wanted(session, seat.catalogue, view.look, own.figures)
    look = replace(view.look, wanted_cents=more)
    return judge(seat.catalogue, look, own.figures, seed=view.seed)


def record_verdict(seat: Seat, walk_id: int) -> Verdict:
    """Keeps what the walk-round comes to as the owner's decision of this day."""
    verdict = judge_walk(seat, walk_id)
    with seat.change(Action.DECIDE) as work:
        walk = work.get(rows.WalkRound, walk_id, "walk-round")
        kept = work.add(
            rows.Verdict(
                walk_round_id=walk_id,
                at=work.now,
                staff_id=seat.acting.staff_id,
                route=verdict.route.value,
                offer_cents=verdict.offer_cents,
                cost_low_cents=verdict.cost.low,
                cost_likely_cents=verdict.cost.likely,
                cost_high_cents=verdict.cost.high,
                reasons=[str(reason) for reason in verdict.reasons],
            )
        )
        work.session.flush()
        work.about(kept, walk.job_id)
    return verdict


def newest(session: Session, job_id: int) -> rows.WalkRound | None:
    return session.scalars(
        sa.select(rows.WalkRound)
        .where(rows.WalkRound.job_id == job_id)
        .order_by(rows.WalkRound.id.desc())
        .limit(1)
    ).first()


def view_of(session: Session, walk: rows.WalkRound) -> WalkView:
    pictures: dict[int | None, list[int]] = {}
    for observation_id, photograph_id in session.execute(
        sa.select(PhotographUse.observation_id, PhotographUse.photograph_id)
        .join(rows.Observation, rows.Observation.id == PhotographUse.observation_id)
        .where(rows.Observation.walk_round_id == walk.id)
        .order_by(PhotographUse.id)
    ):
        pictures.setdefault(observation_id, []).append(photograph_id)
    return WalkView(
        id=walk.id,
        job_id=walk.job_id,
        range_id=walk.job.range_id,
        range_number=walk.job.range.number,
        build=Build(**walk.job.range.build),
        purpose=Purpose(walk.purpose),
        finished=walk.finished_at is not None,
        place=walk.place,
        circumstances=walk.circumstances,
        asking_cents=walk.asking_cents,
        accessories=tuple(walk.accessories),
        given=tuple(
            Given(o.id, observing.answer_of(o), tuple(pictures.get(o.id, ())), o.filed_for)
            for o in walk.observations
        ),
        seed=walk.seed,
        spent_cents=walk.job.bought_cents if walk.job.customer_id is None else None,
    )


def _open(work: UnitOfWork, walk_id: int) -> rows.WalkRound:
    walk = work.get(rows.WalkRound, walk_id, "walk-round")
    if walk.finished_at is not None:
        raise Problem(
            "The walk-round of {day} is finished and stays as it is. Start a second one to add to it.",
            day=walk.on_day.isoformat(),
        )
    return walk
