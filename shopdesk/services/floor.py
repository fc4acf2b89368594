"""The Floor: every range in the shop with where it stands and what it waits for."""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

import sqlalchemy as sa

from shopdesk.domain.build import Build
from shopdesk.domain.folding import fold
from shopdesk.domain.stage import Stage
from shopdesk.services.seat import Seat
from shopdesk.storage import searching
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

_JOBS: sa.BindParameter[Any] = sa.bindparam("jobs", expanding=True)
# As `FloorRow` has them; whole records would take ten times as long to make.
_ROWS = (
    sa.select(
        Range.id.label("range_id"), Job.id, Range.number, Range.maker, Range.model, Range.colour, Range.build,
        Party.name, Job.stage, Job.held_for, Job.held_what, Job.held_since, Job.promised_on, Range.stands_at,
    )
    .join(Range, Range.id == Job.range_id)
    .outerjoin(Party, Party.id == Job.customer_id)
    .where(Job.id.in_(_JOBS))
)  # fmt: skip
_SORTED_BY = (Job.id, Job.range_id, Job.promised_on, Job.stage, Job.held_since, Party.name)
_KEYS = (
    sa.select(*_SORTED_BY).join(Range, Range.id == Job.range_id).outerjoin(Party, Party.id == Job.customer_id)
)
# Read along another table's order: the sum keeps SQLite from looking that table up job by job instead.
_ALONG_RANGES = (
    sa.select(*_SORTED_BY)
    .join(Range, Range.id + 0 == Job.range_id)
    .outerjoin(Party, Party.id == Job.customer_id)
)
_ALONG_CUSTOMERS = (
    sa.select(*_SORTED_BY).join(Range, Range.id == Job.range_id).join(Party, Party.id + 0 == Job.customer_id)
)
_STAGES = {stage.value: place for place, stage in enumerate(Stage)}
_PLACE: dict[FloorOrder, Callable[[Any], tuple[Any, ...]]] = {
    FloorOrder.NUMBER: lambda row: (row.range_id,),
    FloorOrder.PROMISED: lambda row: (row.promised_on or dt.date.max, row.id),
    FloorOrder.STAGE: lambda row: (_STAGES.get(row.stage, 99), row.id),
    FloorOrder.HELD_SINCE: lambda row: (row.held_since or dt.date.max, row.id),
    FloorOrder.CUSTOMER: lambda row: (row.name is None, row.name or "", row.id),
}
_DONE = {Stage.SETTLED, Stage.DONOR, Stage.NOT_TAKEN, Stage.WITHDRAWN}  # most of what there ever was
_FEW = 1000  # records up to which a word is looked up rather than looked for along the order

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
    with seat.look() as session:
        asked = _asked(session, fold(words).split(), stages, held)
        jobs = _page(session, asked, order, limit) if asked is not None else []
        rows = {row.id: row for row in session.execute(_ROWS, {"jobs": jobs})}
        owed = _owed(session, jobs)
        findings = _findings(session, jobs)
        odds = _odds(session, jobs)
    return [_shown(rows[job], owed.get(job, 0), tuple(findings.get(job, ())), odds) for job in jobs]


def _shown(
    row: Any, open_cents: int, findings: tuple[str, ...], odds: dict[tuple[int, dt.date | None], int | None]
) -> FloorRow:
    (range_id, job_id, number, maker, model, colour, build, customer, stage,
     held_for, held_what, held_since, promised_on, stands_at) = row  # fmt: skip
    return FloorRow(
        range_id, job_id, number, maker, model, colour, Build(**build), customer or "", Stage(stage),
        held_for, held_what, held_since, promised_on, stands_at, open_cents, findings,
        odds.get((job_id, promised_on)),
    )  # fmt: skip


def _odds(session: sa.orm.Session, jobs: list[int]) -> dict[tuple[int, dt.date | None], int | None]:
    """By job and promised day: the odds of the newest morning they were worked out."""
    rows = session.execute(
        sa.select(MorningOdds.job_id, MorningOdds.promised_on, MorningOdds.odds_percent)
        .where(MorningOdds.job_id.in_(jobs))
        .order_by(MorningOdds.on_day)
    )
    return {(job_id, day): percent for job_id, day, percent in rows}


@dataclass(frozen=True, slots=True)
class _Asked:
    """What the newest job of a range has to be; `narrow` when few can be it, so that they are sorted here
    rather than looked for along the order."""

    wanted: tuple[sa.ColumnElement[bool], ...]
    narrow: bool


def _asked(session: sa.orm.Session, words: list[str], stages: tuple[Stage, ...], held: str) -> _Asked | None:
    """None when nothing can be it."""
    newer = sa.orm.aliased(Job)
    wanted = [~sa.exists().where(newer.range_id == Job.range_id, newer.id > Job.id)]
    narrow = bool(held) or (bool(stages) and not set(stages) & _DONE)
    for word in words:
        of_range, of_person = (table.search_text.contains(word, autoescape=True) for table in (Range, Party))
        wanted.append(sa.or_(of_range, of_person))
        few = searching.few_with(session, word, ("range", "party"), _FEW)
        if few is not None and not few:
            return None
        if few is not None:
            ranges, people = ([key for kind, key in few if kind == of] for of in ("range", "party"))
            wanted.append(sa.or_(Job.range_id.in_(ranges), Job.customer_id.in_(people)))
            narrow = True
    if stages:
        wanted.append(Job.stage.in_([s.value for s in stages]))
    if held == HELD:
        wanted.append(Job.held_for != "")
    elif held:
        wanted += [Job.held_for == held, Job.held_for != ""]
    return _Asked(tuple(wanted), narrow)


def _page(session: sa.orm.Session, asked: _Asked, order: FloorOrder, limit: int) -> list[int]:
    """The first jobs in an order."""
    if asked.narrow:
        few = session.execute(_KEYS.where(*asked.wanted).limit(_FEW + 1)).all()
        if len(few) <= _FEW:
            backwards = order is FloorOrder.NUMBER
            return [row.id for row in sorted(few, key=_PLACE[order], reverse=backwards)][:limit]
    found: list[int] = []
    for query, by in _stretches(order):
        if len(found) < limit:
            along = query.where(*asked.wanted).order_by(*by).limit(limit - len(found))
            found += [row.id for row in session.execute(along)]
    return found


def _stretches(order: FloorOrder) -> list[tuple[Any, tuple[Any, ...]]]:
    """An order as stretches one after another, each read along an index; nothing known comes last."""
    if order is FloorOrder.STAGE:
        return [(_KEYS.where(Job.stage == stage.value), (Job.id.asc(),)) for stage in Stage]
    if order is FloorOrder.NUMBER:  # given in the order of the keys; as texts R-9999 would follow R-10000
        return [(_ALONG_RANGES, (Range.id.desc(),))]
    if order is FloorOrder.CUSTOMER:
        return [
            (_ALONG_CUSTOMERS, (Party.name.asc(), Job.id.asc())),
            (_KEYS.where(Job.customer_id.is_(None)), (Job.id.asc(),)),
        ]
    column = Job.promised_on if order is FloorOrder.PROMISED else Job.held_since
    return [
        (_KEYS.where(column.is_not(None)), (column.asc(), Job.id.asc())),
        (_KEYS.where(column.is_(None)), (Job.id.asc(),)),
    ]


def _owed(session: sa.orm.Session, jobs: list[int]) -> dict[int, int]:
    """By job: billed less credited less settled, minor units."""
    owed = {job_id: int(cents or 0) for job_id, cents in session.execute(_BILLED, {"jobs": jobs})}
    for job_id, cents in session.execute(_SETTLED, {"jobs": jobs}):
        owed[job_id] = owed.get(job_id, 0) - int(cents or 0)
    return owed


def _findings(session: sa.orm.Session, jobs: list[int]) -> dict[int, list[str]]:
    found: dict[int, list[str]] = {}
    for job_id, finding in session.execute(_FINDINGS, {"jobs": jobs}):
        found.setdefault(job_id, []).append(finding)
    return found


_BILLED = (
    sa.select(
        Invoice.job_id,
        sa.func.sum(sa.case((Invoice.kind == "credit", -Invoice.gross_cents), else_=Invoice.gross_cents)),
    )
    .where(Invoice.job_id.in_(_JOBS), Invoice.number.is_not(None))
    .group_by(Invoice.job_id)
)
_SETTLED = (
    sa.select(Invoice.job_id, sa.func.sum(PaymentShare.amount_cents))
    .join(PaymentShare, PaymentShare.invoice_id == Invoice.id)
    .where(Invoice.job_id.in_(_JOBS))
    .group_by(Invoice.job_id)
)
_NEWEST = sa.select(sa.func.max(WalkRound.id)).where(WalkRound.job_id.in_(_JOBS)).group_by(WalkRound.job_id)
_FINDINGS = (
    sa.select(WalkRound.job_id, Observation.finding)
    .join(Observation)
    .where(WalkRound.id.in_(_NEWEST), Observation.finding != "")
    .order_by(Observation.id)
)
