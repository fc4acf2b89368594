"""What changed on a range since it was walked round before."""

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.documents.facts import ChangedFacts
from shopdesk.domain.answers import Look
from shopdesk.domain.catalogue.model import Catalogue, Evidence
from shopdesk.domain.comparing import Side, differences
from shopdesk.services import walks
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.walk import WalkRound
from shopdesk.wording import say


def changed(catalogue: Catalogue, session: Session, walk: WalkRound, look: Look) -> ChangedFacts | None:
    """Against the last finished walk-round of the same range before this one; None for the first."""
    before = session.scalars(
        sa.select(WalkRound)
        .join(Job)
        .where(Job.range_id == walk.job.range_id, WalkRound.id < walk.id, WalkRound.finished_at.is_not(None))
        .order_by(WalkRound.id.desc())
        .limit(1)
    ).first()
    if before is None:
        return None
    found = differences(catalogue, walks.view_of(session, before).look, look)
    rows = tuple((d.checkpoint.name, _side(d.first), _side(d.second)) for d in found)
    return ChangedFacts(since=before.on_day, rows=rows)


def _side(side: Side) -> str:
    if not side.asked:
        return say("has none")
    if side.found:
        return "; ".join(f.finding.name for f in side.found)
    return say("not seen") if side.evidence is Evidence.NOT_SEEN else say("sound")
