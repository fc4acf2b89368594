"""What a conversion that was decided calls for on the work order of its job."""

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.work import Cause, CauseKind, Root
from shopdesk.services.gas_tables import gases
from shopdesk.storage.tables.gas import GasConversion
from shopdesk.wording import say

TASKS = ("gauge-spuds", "change-gas-type", "fit-regulator", "fit-gas-label")
"""What a conversion puts on an order; what else changes follows from these."""


def newest(session: Session, job_id: int) -> GasConversion | None:
    """The last conversion of a job that a licensed fitter decided."""
    return session.scalars(
        sa.select(GasConversion)
        .where(GasConversion.job_id == job_id, GasConversion.decided_by != "")
        .order_by(GasConversion.id.desc())
        .limit(1)
    ).first()


def roots_of(session: Session, job_id: int) -> list[Root]:
    """The tasks of the job's conversion with the conversion as their cause; none where there is none."""
    found = newest(session, job_id)
    if found is None or found.from_gas == found.to_gas:
        return []
    return [Root(Cause(CauseKind.CONVERSION, gases_in_words(found.from_gas, found.to_gas)), TASKS)]


def gases_in_words(from_gas: str, to_gas: str) -> str:
    """`natural gas to propane`, as causes and papers say it."""
    known = gases()
    names = [known[code].name if code in known else code for code in (from_gas, to_gas)]
    return say("{present} to {coming}", present=say(names[0]), coming=say(names[1]))
