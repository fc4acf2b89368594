"""How a range is set: its spuds, its pressures, what its oven comes to, what its thermostat card said."""

from collections.abc import Sequence

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.services import conversions
from shopdesk.services.papers.hand_over import oven_settings, pressures
from shopdesk.services.papers.proof_sheet import last_by_kind
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.bench import ThermostatCard
from shopdesk.storage.tables.proving import Proof
from shopdesk.storage.tables.ranges import Job
from shopdesk.wording import say


def settings_of(
    seat: Seat, session: Session, job: Job, recorded: Sequence[Proof]
) -> tuple[tuple[str, str], ...]:
    """Labels and what stands there; nothing that was not read or recorded."""
    last = last_by_kind(recorded)
    rows = [
        (say("Spuds found"), job.range.spuds_found),
        (say("Set to"), job.range.set_to_gas),
        *_converted(session, job),
        (say("Pressures"), pressures(last["gas-identity"]) if "gas-identity" in last else ""),
        (say("Oven"), oven_settings(last["thermostat"], seat.region) if "thermostat" in last else ""),
        (say("Thermostat card"), _card(seat, session, job.id)),
    ]
    return tuple(row for row in rows if row[1])


def _converted(session: Session, job: Job) -> list[tuple[str, str]]:
    """The conversion a licensed fitter decided: what each burner's spud became. The fitter is not named."""
    row = conversions.newest(session, job.id)
    if row is None:
        return []
    spuds = ", ".join(f"{line['burner']} {line['drill']}" for line in row.burners)
    return [
        (say("Converted"), conversions.gases_in_words(row.from_gas, row.to_gas)),
        (say("Spuds now"), spuds),
    ]


def _card(seat: Seat, session: Session, job_id: int) -> str:
    """When the card was complete; what was done upon it stands among the tasks."""
    query = sa.select(ThermostatCard.complete_at).where(
        ThermostatCard.job_id == job_id, ThermostatCard.complete_at.is_not(None)
    )
    at = session.scalar(query.order_by(ThermostatCard.id.desc()).limit(1))
    return say("filled in, {day}", day=seat.region.day(seat.region.local_day(at))) if at is not None else ""
