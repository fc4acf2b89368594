"""Stock-take: a bin counted against the ledger, differences explained and booked; what lies here on a day."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import stock
from shopdesk.services.part_cards import end_of
from shopdesk.services.seat import Seat
from shopdesk.services.stock import PartRow
from shopdesk.storage.tables.stock_takes import StockTake, StockTakeLine
from shopdesk.storage.tables.stores import Need, Part, PartMovement
from shopdesk.storage.tables.work import Task
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class Bin:
    """A place where parts lie, and when it was counted last; the empty name is no place at all."""

    name: str
    kinds: int
    pieces: int
    counted_on: dt.date | None


@dataclass(frozen=True, slots=True)
class Counted:
    """One part as it was counted; `because` explains a difference."""

    part_id: int
    counted: int
    because: str = ""


@dataclass(frozen=True, slots=True)
class Difference:
    """A booked difference: pieces too many (positive) or missing, and what they cost."""

    name: str
    pieces: int
    cost_cents: int
    because: str


@dataclass(frozen=True, slots=True)
class Value:
    """What the stores are worth at the end of a day, at cost: on the shelf, and set aside for open tasks."""

    on: dt.date
    shelf_cents: int
    aside_cents: int


def bins(seat: Seat) -> list[Bin]:
    """All places with what lies there, those not counted for the longest time first."""
    pieces = sa.func.coalesce(sa.func.sum(PartMovement.quantity), 0)
    query = (
        sa.select(Part.lies_at, sa.func.count(Part.id.distinct()), pieces)
        .outerjoin(PartMovement)
        .group_by(Part.lies_at)
    )
    with seat.look() as session:
        last = dict(
            session.execute(
                sa.select(StockTake.bin, sa.func.max(StockTake.on_day)).group_by(StockTake.bin)
            ).all()
        )
        found = [Bin(name, int(kinds), int(n), last.get(name)) for name, kinds, n in session.execute(query)]
    return sorted(found, key=lambda b: (b.counted_on or dt.date.min, b.name))


def sheet(seat: Seat, bin_name: str) -> list[PartRow]:
    """What the ledger says lies in a bin, to be counted."""
    return stock.parts(seat, bin_name=bin_name, limit=2000)


def book(seat: Seat, bin_name: str, counts: Sequence[Counted]) -> list[Difference]:
    """Books a count: what differs needs an explanation, and moves in the ledger with it.

    The ledger is read in the same transaction, so that what moved while one counted is seen.
    """
    if not counts:
        raise Problem("Count at least one part of {bin}.", bin=bin_name or say("no place"))
    with seat.change(Action.KEEP_STORES) as work:
        take = work.add(
            StockTake(at=work.now, on_day=seat.today, bin=bin_name, staff_id=seat.acting.staff_id)
        )
        work.session.flush()
        differences = []
        for one in counts:
            part = work.get(Part, one.part_id, "part")
            expected = stock.in_stock(work.session, part.id)
            _refuse(one, part, expected)
            cost = 0
            if one.counted != expected:
                reason = say("stock-take: {why}", why=one.because.strip())
                missing = one.counted - expected
                cost = stock.move(work, seat, part, missing, reason, kind="stock-take").cost_cents
                differences.append(Difference(part.name, missing, cost, one.because.strip()))
            work.add(
                StockTakeLine(
                    take_id=take.id, part_id=part.id, expected=expected, counted=one.counted,
                    because=one.because.strip(), cost_cents=cost,
                )
            )  # fmt: skip
        work.session.flush()
        work.about(take)
        return differences


def value_on(seat: Seat, day: dt.date) -> Value:
    """What lay here when a business day ended, at what it cost."""
    until = end_of(seat, day)
    with seat.look() as session:
        everything = sa.select(sa.func.sum(PartMovement.cost_cents)).where(PartMovement.at < until)
        return Value(day, int(session.scalar(everything) or 0), _aside(session, until))


def _aside(session: Session, until: dt.datetime) -> int:
    """Set aside by then for tasks that were not done by then."""
    query = (
        sa.select(-sa.func.sum(PartMovement.cost_cents))
        .join(Need, Need.id == PartMovement.need_id)
        .join(Task, Task.id == Need.task_id)
        .where(PartMovement.at < until, sa.or_(Task.done_at.is_(None), Task.done_at >= until))
    )
    return int(session.scalar(query) or 0)


def _refuse(one: Counted, part: Part, expected: int) -> None:
    if one.counted < 0:
        raise Problem("A count is zero or more.", field=f"counted {part.id}")
    if one.counted != expected and not one.because.strip():
        raise Problem(
            "{part}: {expected} by the ledger, {counted} counted. Say how that came about, or count again.",
            field=f"because {part.id}", part=part.name, expected=expected, counted=one.counted,
        )  # fmt: skip
