"""Each range's estimate, agreed price, actual cost and margin; and the cash that stands in it."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.margin import Cost
from shopdesk.domain.money import Spread
from shopdesk.domain.rights import Action
from shopdesk.domain.stage import Stage
from shopdesk.services.reckoning.billed import billed_without_tax
from shopdesk.services.reckoning.chosen import LEFT, Chosen
from shopdesk.services.reckoning.costs import NOTHING, Jobs, outlays, spent_by, sums
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Agreement, Invoice, Payment, Quote
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.walk import Verdict, WalkRound
from shopdesk.storage.tables.work import Task, WorkOrder


@dataclass(frozen=True, slots=True, kw_only=True)
class RangeFigures:
    """One job. `estimate`: what its last verdict expected the work to cost a customer, None without one.

    `billed_cents`: bills less credits, without tax, also without the tax within a price under a margin
    scheme. `paid_cents`: money taken less money given back, tax in it.
    """

    job_id: int
    range_id: int
    number: str
    name: str
    customer: str  # empty: the shop's own
    stage: Stage
    purpose: str
    opened_on: dt.date
    left_on: dt.date | None
    estimate: Spread | None
    agreed_cents: int
    billed_cents: int
    cost: Cost
    minutes_thought: Spread  # low, likely and high minutes of its tasks
    minutes: int
    paid_cents: int

    @property
    def margin_cents(self) -> int | None:
        """What is left of what was billed; None while nothing is."""
        return self.billed_cents - self.cost.whole if self.billed_cents else None

    @property
    def cash_cents(self) -> int:
        """The shop's money that stands in it: spent less paid; below zero the customer's."""
        return self.cost.whole - self.paid_cents


def range_figures(seat: Seat, chosen: Chosen) -> list[RangeFigures]:
    """Every chosen job with its figures, the newest first."""
    jobs = chosen.jobs()
    with seat.look(Action.SEE_COSTS) as session:
        spent = spent_by(session, seat.region, WorkOrder.job_id, jobs)
        other = outlays(session, jobs)
        agreed, billed, paid = (
            agreed_by_job(session, jobs),
            billed_by_job(session, jobs),
            _paid(session, jobs),
        )
        estimates, minutes = _estimates(session, jobs), _minutes(session, jobs)
        rows = session.execute(_heads(jobs)).all()
    none = Spread(0, 0, 0)
    return [
        RangeFigures(
            job_id=row.id, range_id=row.range_id, number=row.number,
            name=" ".join(word for word in (row.maker, row.model) if word), customer=row.name or "",
            stage=Stage(row.stage), purpose=row.purpose, opened_on=row.opened_on, left_on=row.left_on,
            estimate=estimates.get(row.id), agreed_cents=agreed.get(row.id, 0),
            billed_cents=billed.get(row.id, 0),
            cost=Cost(
                purchase=row.bought_cents or 0, hours=spent.get(row.id, NOTHING).hours,
                parts=spent.get(row.id, NOTHING).parts, outwork=spent.get(row.id, NOTHING).outwork,
                other=other.get(row.id, 0),
            ),
            minutes_thought=minutes.get(row.id, none), minutes=spent.get(row.id, NOTHING).minutes,
            paid_cents=paid.get(row.id, 0),
        )
        for row in rows
    ]  # fmt: skip


def _heads(jobs: Jobs) -> sa.Select[int]:
    return (
        sa.select(
            Job.id, Job.range_id, Range.number, Range.maker, Range.model, Party.name, Job.stage, Job.purpose,
            Job.opened_on, sa.type_coerce(LEFT, Job.gone_on.type).label("left_on"), Job.bought_cents,
        )
        .join(Range, Range.id == Job.range_id)
        .outerjoin(Party, Party.id == Job.customer_id)
        .where(Job.id.in_(jobs))
        .order_by(Job.id.desc())
    )  # fmt: skip


def counting_agreements() -> sa.Select[int]:
    """Keys of the agreements that count: the newest for the job, else for its teardown, and every change."""
    later, of_later = sa.orm.aliased(Agreement), sa.orm.aliased(Quote)
    over = (
        sa.select(later.id)
        .join(of_later, of_later.id == later.quote_id)
        .where(
            later.job_id == Agreement.job_id,
            sa.or_(
                sa.and_(of_later.step == Quote.step, later.id > Agreement.id),
                sa.and_(Quote.step == "teardown", of_later.step == "job"),
            ),
        )
    )
    return (
        sa.select(Agreement.id)
        .join(Quote, Quote.id == Agreement.quote_id)
        .where(sa.or_(Quote.step == "change", ~over.exists()))
    )


def agreed_by_job(session: Session, jobs: Jobs) -> dict[int, int]:
    """What is agreed on each job, without tax, as `agreements.agreed` reckons it."""
    query = sa.select(Agreement.job_id, sa.func.sum(Agreement.amount_cents)).where(
        Agreement.job_id.in_(jobs), Agreement.id.in_(counting_agreements())
    )
    return sums(session.execute(query.group_by(Agreement.job_id)))


def billed_by_job(session: Session, jobs: Jobs) -> dict[int, int]:
    query = sa.select(Invoice.job_id, sa.func.sum(billed_without_tax())).where(
        Invoice.job_id.in_(jobs), Invoice.number.is_not(None)
    )
    return sums(session.execute(query.group_by(Invoice.job_id)))


def _paid(session: Session, jobs: Jobs) -> dict[int, int]:
    query = sa.select(Payment.job_id, sa.func.sum(Payment.amount_cents)).where(Payment.job_id.in_(jobs))
    return sums(session.execute(query.group_by(Payment.job_id)))


def _estimates(session: Session, jobs: Jobs) -> dict[int, Spread]:
    """The cost of the last verdict of each job."""
    rows = session.execute(
        sa.select(
            WalkRound.job_id, Verdict.cost_low_cents, Verdict.cost_likely_cents, Verdict.cost_high_cents
        )
        .join(WalkRound, WalkRound.id == Verdict.walk_round_id)
        .where(WalkRound.job_id.in_(jobs))
        .order_by(Verdict.id)
    )
    return {job_id: Spread(low, likely, high) for job_id, low, likely, high in rows}


def _minutes(session: Session, jobs: Jobs) -> dict[int, Spread]:
    """What the tasks that stand on each order were thought to take together."""
    low, likely, high = (
        sa.func.sum(end) for end in (Task.minutes_low, Task.minutes_likely, Task.minutes_high)
    )
    rows = session.execute(
        sa.select(WorkOrder.job_id, low, likely, high)
        .join(Task, Task.work_order_id == WorkOrder.id)
        .where(WorkOrder.job_id.in_(jobs), Task.dropped == False)
        .group_by(WorkOrder.job_id)
    )
    return {job_id: Spread(int(a or 0), int(b or 0), int(c or 0)) for job_id, a, b, c in rows}
