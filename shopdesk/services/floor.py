"""The Floor: every range in the shop with where it stands and what it waits for."""

import datetime as dt
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

import sqlalchemy as sa

from shopdesk.domain.build import Build
from shopdesk.domain.folding import fold
from shopdesk.domain.stage import Stage
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice, PaymentShare
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.plan import MorningOdds
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.walk import Observation, WalkRound


class FloorOrder(StrEnum):
    """What the Floor is sorted by."""

    NUMBER = "number"
    PROMISED = "promised"
    STAGE = "stage"
    HELD_SINCE = "held since"
    CUSTOMER = "customer"


@dataclass(frozen=True, slots=True)
class FloorRow:
    """One range on the Floor with its newest job; `open_cents` is what its invoices still owe."""

    range_id: int
    job_id: int
    number: str
    maker: str
    model: str
    colour: str
    build: Build
    customer: str  # empty: the shop's own
    stage: Stage
    held_for: str
    held_what: str
    held_since: dt.date | None
    promised_on: dt.date | None
    stands_at: str
    open_cents: int
    findings: tuple[str, ...]  # codes of the newest walk-round
    odds_percent: int | None = None  # that the promise is kept, as the plan last told


HERE = (
    Stage.BOOKED_IN,
    Stage.INSPECTED,
    Stage.QUOTED,
    Stage.AGREED,
    Stage.ON_THE_BENCH,
    Stage.PROVING,
    Stage.READY,
    Stage.GONE,
)

HELD = "held"  # narrows to what is held for anything


def floor(
    seat: Seat,
    *,
    words: str = "",
    stages: tuple[Stage, ...] = (),
    held: str = "",
    order: FloorOrder = FloorOrder.PROMISED,
    limit: int = 200,
) -> list[FloorRow]:
    """Ranges by their newest job. `words` narrows by number, maker, serial, customer, telephone."""
    newest = sa.select(sa.func.max(Job.id)).group_by(Job.range_id)
    query = (
        sa.select(Job, Range, Party)
        .join(Range, Range.id == Job.range_id)
        .outerjoin(Party, Party.id == Job.customer_id)
        .where(Job.id.in_(newest))
    )
    for word in fold(words).split():
        query = query.where(
            sa.or_(
                Range.search_text.contains(word, autoescape=True),
                Party.search_text.contains(word, autoescape=True),
            )
        )
    if stages:
        query = query.where(Job.stage.in_([s.value for s in stages]))
    if held == HELD:
        query = query.where(Job.held_for != "")
    elif held:
        query = query.where(Job.held_for == held)
    with seat.look() as session:
        found = session.execute(query.order_by(*_order(order)).limit(limit)).all()
        jobs = [job.id for job, _, _ in found]
        owed = _owed(session, jobs)
        findings = _findings(session, jobs)
        odds = _odds(session, jobs)
        return [
            FloorRow(
                range_.id,
                job.id,
                range_.number,
                range_.maker,
                range_.model,
                range_.colour,
                Build(**range_.build),
                party.name if job.customer_id else "",
                Stage(job.stage),
                job.held_for,
                job.held_what,
                job.held_since,
                job.promised_on,
                range_.stands_at,
                owed.get(job.id, 0),
                tuple(findings.get(job.id, ())),
                odds.get((job.id, job.promised_on)),
            )
            for job, range_, party in found
        ]


def _order(order: FloorOrder) -> tuple[sa.ColumnElement[Any], ...]:
    place = sa.case({s.value: n for n, s in enumerate(Stage)}, value=Job.stage, else_=99)
    by: dict[FloorOrder, tuple[sa.ColumnElement[Any], ...]] = {
        FloorOrder.NUMBER: (Range.number.desc(),),
        FloorOrder.PROMISED: (Job.promised_on.is_(None), Job.promised_on.asc(), Job.id.asc()),
        FloorOrder.STAGE: (place.asc(), Job.id.asc()),
        FloorOrder.HELD_SINCE: (Job.held_since.is_(None), Job.held_since.asc(), Job.id.asc()),
        FloorOrder.CUSTOMER: (Party.name.is_(None), Party.name.asc(), Job.id.asc()),
    }
    return by[order]


def _owed(session: sa.orm.Session, jobs: list[int]) -> dict[int, int]:
    """By job: billed less credited less settled, minor units."""
    billed = session.execute(
        sa.select(
            Invoice.job_id,
            sa.func.sum(sa.case((Invoice.kind == "credit", -Invoice.gross_cents), else_=Invoice.gross_cents)),
        )
        .where(Invoice.job_id.in_(jobs), Invoice.number.is_not(None))
        .group_by(Invoice.job_id)
    )
    owed = {job_id: int(cents or 0) for job_id, cents in billed}
    settled = session.execute(
        sa.select(Invoice.job_id, sa.func.sum(PaymentShare.amount_cents))
        .join(PaymentShare, PaymentShare.invoice_id == Invoice.id)
        .where(Invoice.job_id.in_(jobs))
        .group_by(Invoice.job_id)
    )
    for job_id, cents in settled:
        owed[job_id] = owed.get(job_id, 0) - int(cents or 0)
    return owed


def _odds(session: sa.orm.Session, jobs: list[int]) -> dict[tuple[int, dt.date | None], int | None]:
    """By job and promised day: the odds of the newest morning they were worked out."""
    rows = session.execute(
        sa.select(MorningOdds.job_id, MorningOdds.promised_on, MorningOdds.odds_percent)
        .where(MorningOdds.job_id.in_(jobs))
        .order_by(MorningOdds.on_day)
    )
    return {(job_id, day): percent for job_id, day, percent in rows}


def _findings(session: sa.orm.Session, jobs: list[int]) -> dict[int, list[str]]:
    newest = sa.select(sa.func.max(WalkRound.id)).where(WalkRound.job_id.in_(jobs)).group_by(WalkRound.job_id)
    rows = session.execute(
        sa.select(WalkRound.job_id, Observation.finding)
        .join(Observation)
        .where(WalkRound.id.in_(newest), Observation.finding != "")
        .order_by(Observation.id)
    )
    found: dict[int, list[str]] = {}
    for job_id, finding in rows:
        found.setdefault(job_id, []).append(finding)
    return found
