"""Whether a shop is whole: what storage checks, and that every stored stage follows from its facts."""

import sqlalchemy as sa

from shopdesk.domain import stage
from shopdesk.services import stages
from shopdesk.services.seat import Seat
from shopdesk.storage import checking
from shopdesk.storage.tables.ranges import Job


def faults(seat: Seat) -> list[str]:
    """Every fault found, a sentence each; empty when the shop is whole."""
    found = checking.faults(seat.file)
    if found:
        return found
    with seat.look() as session:
        for job in session.scalars(sa.select(Job).order_by(Job.id)):
            known = stages.facts(session, seat.catalogue, job)
            if job.stage != stage.stage(known).value:
                found.append(
                    f"The stage of {job.range.number} is kept as “{job.stage}”; "
                    f"its facts say “{stage.stage(known).value}”."
                )
            held = stage.held_for(known)
            if job.held_for != (held[0].hold.value if held else ""):
                found.append(f"What {job.range.number} is held for is not what its facts say.")
    return found
