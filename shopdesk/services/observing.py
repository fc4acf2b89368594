"""One answer on a walk-round as it is kept: given, taken back, read; for the services that do more."""

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.answers import Answer, Look, unknown
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Evidence, Purpose
from shopdesk.domain.problem import Problem
from shopdesk.services.seat import Seat
from shopdesk.storage.tables import walk as rows
from shopdesk.storage.tables.ranges import PhotographUse
from shopdesk.storage.tables.work import TaskCause
from shopdesk.storage.unit_of_work import UnitOfWork


def give(seat: Seat, work: UnitOfWork, walk: rows.WalkRound, given: Answer) -> rows.Observation:
    """One answer on a walk-round, in a unit of work that does more.

    A finding takes the place of "sound" there and the other way round, but for one that the program
    itself filed: that one stays as long as what it was filed for.
    """
    refuse_unknown(seat, walk, (given,))
    kept, pictures = None, list[PhotographUse]()
    for row in list(walk.observations):
        if row.checkpoint != given.checkpoint:
            continue
        if row.finding == (given.finding or ""):
            kept = row
        elif not row.finding or given.finding is None:
            refuse_filed(seat, row)
            pictures += _pictures_of(work.session, row)
            remove(work.session, row)
            walk.observations.remove(row)
    work.session.flush()
    if kept is None:
        kept = rows.Observation(checkpoint=given.checkpoint, finding=given.finding or "")
        walk.observations.append(kept)
    kept.extent, kept.evidence = given.extent, given.evidence.value
    kept.way, kept.note, kept.at = given.way, given.note, work.now
    work.session.flush()
    for use in pictures:
        use.observation_id = kept.id
    return kept


def refuse_filed(seat: Seat, row: rows.Observation) -> None:
    """Raises for a finding that the program filed from what is written down of the range."""
    if row.filed_for:
        raise Problem(
            "{checkpoint}: {told} The finding stays while these facts disagree. Correct them in the "
            "particulars; it goes by itself.",
            checkpoint=seat.catalogue.checkpoints[row.checkpoint].name,
            told=row.filed_for,
        )


def _pictures_of(session: Session, row: rows.Observation) -> list[PhotographUse]:
    """The uses of pictures at an answer; they go on to the answer that takes its place."""
    return list(session.scalars(sa.select(PhotographUse).where(PhotographUse.observation_id == row.id)))


def answer_of(row: rows.Observation) -> Answer:
    return Answer(row.checkpoint, row.finding or None, row.extent, Evidence(row.evidence), row.note, row.way)


def refuse_unknown(
    seat: Seat, walk: rows.WalkRound, answers: tuple[Answer, ...] = (), accessories: tuple[str, ...] = ()
) -> None:
    """Raises for codes that the catalogue does not have, and for answers that contradict."""
    build = Build(**walk.job.range.build)
    look = Look(build, Purpose(walk.purpose), answers, accessories=accessories)
    for problem in unknown(seat.catalogue, look):
        raise problem


def remove(session: Session, row: rows.Observation) -> None:
    """Loosens what hangs on an answer taken back: pictures stay with the range, tasks on the order."""
    for use in _pictures_of(session, row):
        use.observation_id = None
    for cause in session.scalars(sa.select(TaskCause).where(TaskCause.observation_id == row.id)):
        cause.observation_id = None
