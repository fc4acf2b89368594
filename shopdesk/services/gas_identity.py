"""That the facts of a range's gas disagree: filed on its open walk-round, and taken off it, by itself."""

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.answers import Answer
from shopdesk.domain.gas_facts import CHECKPOINT, FACTS, FINDING, Disagreement, disagreement
from shopdesk.services import conversions, gas_tables, observing
from shopdesk.services.seat import Seat
from shopdesk.storage.tables import walk as rows
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording.bench_measures import say_sentence


def file_for_range(seat: Seat, work: UnitOfWork, range_: Range) -> None:
    """After the facts of a range changed: on its open walk-round, if there is one."""
    query = sa.select(rows.WalkRound).join(Job)
    open_ones = query.where(Job.range_id == range_.id, rows.WalkRound.finished_at.is_(None))
    for walk in work.session.scalars(open_ones):
        file(seat, work, walk)


def file(seat: Seat, work: UnitOfWork, walk: rows.WalkRound) -> None:
    """The finding with the facts that disagree; gone again when they agree. One by hand is left alone."""
    kept = next((row for row in walk.observations if row.finding == FINDING), None)
    if kept is not None and not kept.filed_for:
        return
    found = disagreement_of(work.session, walk.job.range)
    if found is None:
        if kept is not None:
            observing.remove(work.session, kept)
            walk.observations.remove(kept)
        return
    if not _asked_for(seat):
        return
    if kept is None:
        kept = observing.give(seat, work, walk, Answer(CHECKPOINT, FINDING, evidence=found.evidence))
    kept.evidence = found.evidence.value
    kept.filed_for = told(seat, found)
    work.session.flush()


def disagreement_of(session: Session, range_: Range) -> Disagreement | None:
    """What of the facts kept with a range does not agree; a decided conversion explains its plate."""
    converted = conversions.newest(session, range_.jobs[-1].id) if range_.jobs else None
    facts = {name: getattr(range_, name) for name in FACTS}
    return written_disagreement(
        facts, range_.house_pressure_inwc, converted_to=converted.to_gas if converted else ""
    )


def written_disagreement(
    facts: dict[str, str], pressure_inwc: str, *, converted_to: str = ""
) -> Disagreement | None:
    """The same from facts as people write them; what names no known gas counts as not known."""
    named = {name: gas_tables.gas_code(written) for name, written in facts.items()}
    try:
        pressure: float | None = float(pressure_inwc)
    except ValueError:
        pressure = None
    return disagreement(named, pressure, gas_tables.gases(), converted_to)


def told(seat: Seat, found: Disagreement) -> str:
    """The facts in the shop's language and units."""
    return " ".join(say_sentence(each, seat.region) for each in found.says)


def _asked_for(seat: Seat) -> bool:
    """Whether the shop's catalogue still asks for it."""
    known = seat.catalogue.findings.get(FINDING)
    return known is not None and not {FINDING, CHECKPOINT} & set(seat.catalogue.off)
