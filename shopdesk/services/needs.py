"""What tasks need: covered from the shelf, from a donor, by an order or by making; short ones first."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.stock import cost_out
from shopdesk.services import stock
from shopdesk.services.seat import Seat
from shopdesk.services.supply_tasks import task_before
from shopdesk.services.thermostat_card import refuse_tasks_without_card
from shopdesk.storage.tables.donors import Donor, DonorPart, Making
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.stores import (
    GoodsIn,
    Need,
    Part,
    PartMovement,
    PurchaseLine,
    PurchaseOrder,
)
from shopdesk.storage.tables.work import Task, WorkOrder
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class NeedRow:
    """What a task needs; `short` is what nothing brings: not here, not called off, not on its way.

    `from_donor` is the number of the donor it is to be taken off, `making` the task that makes it.
    """

    id: int
    name: str
    quantity: int
    covered: int
    on_order: int
    short: int
    cost_cents: int
    task: str
    job_id: int
    range_number: str
    promised_on: dt.date | None
    expected_on: dt.date | None
    in_stock: int
    called_off: int = 0
    from_donor: str = ""
    making: str = ""


@dataclass(frozen=True, slots=True)
class _Coming:
    """What is on its way to needs, by need key."""

    ordered: dict[int, tuple[int, dt.date | None]]
    donors: dict[int, tuple[int, str]]
    makings: dict[int, str]


def needs(seat: Seat, *, job_id: int | None = None, short_only: bool = False) -> list[NeedRow]:
    """What open jobs need, short ones first, then by promise."""
    query = (
        sa.select(Need, Task, Job, Range)
        .join(Task, Task.id == Need.task_id)
        .join(WorkOrder, WorkOrder.id == Task.work_order_id)
        .join(Job, Job.id == WorkOrder.job_id)
        .join(Range, Range.id == Job.range_id)
        .where(Task.dropped == False, Job.ended_as == "", Job.gone_on.is_(None))
        .order_by(Job.promised_on.is_(None), Job.promised_on, Job.id, Task.place, Need.id)
    )
    if job_id is not None:
        query = query.where(Job.id == job_id)
    with seat.look() as session:
        found = session.execute(query).all()
        coming = _Coming(_on_order(session), _from_donors(session), _makings(session))
        shelf = _stock_by_name(session)
        rows = [_need_row(need, task, job, range_, coming, shelf) for need, task, job, range_ in found]
    return sorted((r for r in rows if r.short or not short_only), key=lambda r: r.short == 0)


def cover_from_stock(
    seat: Seat, need_id: int, part_id: int, quantity: int | None = None, *, below_zero: bool = False
) -> int:
    """Sets parts aside for a need, as many as are wanted and there; returns how many.

    With `below_zero` all that is wanted is set aside, whatever the ledger says is there.
    """
    with seat.change(Action.KEEP_STORES) as work:
        need = work.get(Need, need_id, "need")
        part = work.get(Part, part_id, "part")
        wanted = need.quantity - need.covered - need.called_off
        if quantity is not None and not 1 <= quantity <= wanted:
            raise Problem("{count} of {name} are still wanted.", field="count", count=wanted, name=need.name)
        wanted = wanted if quantity is None else quantity
        taken = wanted if below_zero else min(wanted, stock.in_stock(work.session, part_id))
        if taken <= 0:
            raise Problem("There is none of {part} left to take.", part=part.name)
        cover(work, seat, need, part, taken)
        if part.price_out_cents:
            need.price_cents = part.price_out_cents
        return taken


def put_back(seat: Seat, need_id: int, why: str) -> int:
    """What was set aside for a need lies on the shelf again; returns how many. Its cost goes with it."""
    if not why.strip():
        raise Problem("Say why it goes back on the shelf.", field="why")
    with seat.change(Action.KEEP_STORES) as work:
        need = work.get(Need, need_id, "need")
        if need.task.done_share == 100:
            raise Problem("“{task}” is done; what it took is used up.", task=need.task.name)
        count = release(work, seat, need, need.covered, why.strip())
        if not count:
            raise Problem("Nothing is set aside for {name}.", name=need.name)
        return count


def call_off(seat: Seat, need_id: int, why: str) -> None:
    """The rest of a need is not wanted after all."""
    if not why.strip():
        raise Problem("Say why it is not needed.", field="why")
    with seat.change(Action.KEEP_STORES) as work:
        need = work.get(Need, need_id, "need")
        need.called_off, need.called_off_because = need.quantity - need.covered, why.strip()
        forget_other_ways(work, need)
        work.about(need, need.task.work_order.job_id)


def make_for(seat: Seat, need_id: int, minutes: Spread) -> int:
    """The shop makes it: a task before the one that needs it; returns the task's key."""
    if minutes.likely < 1:
        raise Problem("Making it takes a minute at least.", field="minutes")
    with seat.change(Action.KEEP_STORES) as work:
        need = open_need(work, need_id)
        task = task_before(work, need.task, say("Make: {name}", name=need.name), minutes)
        work.add(Making(need_id=need.id, task_id=task.id))
        work.session.flush()
        work.about(task, need.task.work_order.job_id)
        return task.id


def made(seat: Seat, need_id: int, cost_cents: int, *, lies_at: str = "") -> None:
    """What was made is here: it goes through the ledger with what its stuff cost, and covers its need."""
    if cost_cents < 0:
        raise Problem("A cost is zero or more.", field="cost")
    with seat.change(Action.KEEP_STORES) as work:
        need = work.get(Need, need_id, "need")
        making = work.session.scalar(sa.select(Making).where(Making.need_id == need_id))
        count = need.quantity - need.covered - need.called_off
        if making is None or count <= 0:
            raise Problem("{name} is not being made.", name=need.name)
        part = stock.shelf_part(work, need.name, "made", stock.each(cost_cents, count), lies_at)
        reason = say("made for {number}", number=need.task.work_order.job.range.number)
        stock.move(work, seat, part, count, reason, kind="made", cost_cents=cost_cents)
        cover(work, seat, need, part, count, cost_cents=cost_cents)
        work.session.delete(making)


def open_need(work: UnitOfWork, need_id: int) -> Need:
    """A need of which something is wanted still, and nothing else brings it."""
    need = work.get(Need, need_id, "need")
    refuse_tasks_without_card(work.session, [need.task])
    if need.quantity - need.covered - need.called_off <= 0:
        raise Problem("Nothing more of {name} is wanted.", name=need.name)
    if need_id in _makings(work.session):
        raise Problem("{name} is being made already.", name=need.name)
    if need_id in _from_donors(work.session):
        raise Problem("{name} is to be taken off a donor already.", name=need.name)
    return need


def cover(
    work: UnitOfWork, seat: Seat, need: Need, part: Part, quantity: int, *, cost_cents: int | None = None
) -> None:
    """Off the shelf, set aside for a need; the need costs what the ledger says."""
    reason = say("set aside for {number}: {task}",
                 number=need.task.work_order.job.range.number, task=need.task.name)  # fmt: skip
    stock.move(work, seat, part, -quantity, reason, kind="set aside", cost_cents=cost_cents, need_id=need.id)
    need.covered += quantity
    need.condition = part.condition
    need.cost_cents = stock.each(costs_of(work.session, [need.id])[need.id], need.covered)
    work.session.flush()
    work.about(need, need.task.work_order.job_id)


def release(work: UnitOfWork, seat: Seat, need: Need, most: int, why: str) -> int:
    """Up to so many pieces set aside for a need go back where they came from, at what they cost."""
    left, put = most, 0
    query = (
        sa.select(
            PartMovement.part_id,
            -sa.func.sum(PartMovement.quantity),
            -sa.func.sum(PartMovement.cost_cents),
        )
        .where(PartMovement.need_id == need.id)
        .group_by(PartMovement.part_id)
        .order_by(PartMovement.part_id)
    )
    for part_id, held, cost in work.session.execute(query).all():
        count = min(left, int(held))
        if count <= 0:
            continue
        part = work.get(Part, part_id, "part")
        cents = cost_out(int(held), int(cost), count, part.price_in_cents)
        reason = say("put back: {why}", why=why)
        stock.move(work, seat, part, count, reason, kind="put back", cost_cents=cents, need_id=need.id)
        left, put = left - count, put + count
    need.covered -= put
    work.session.flush()
    work.about(need, need.task.work_order.job_id)
    return put


def costs_of(session: Session, need_ids: Sequence[int]) -> dict[int, int]:
    """By need: what was set aside for it cost together, to the cent."""
    query = (
        sa.select(PartMovement.need_id, -sa.func.sum(PartMovement.cost_cents))
        .where(PartMovement.need_id.in_(need_ids))
        .group_by(PartMovement.need_id)
    )
    found = {key: int(cents or 0) for key, cents in session.execute(query) if key is not None}
    return {key: found.get(key, 0) for key in need_ids}


def forget_other_ways(work: UnitOfWork, need: Need) -> None:
    """A need that is covered or called off is not made and not taken off a donor any more."""
    for part in work.session.scalars(
        sa.select(DonorPart).where(DonorPart.need_id == need.id, DonorPart.standing == "on it")
    ):
        part.need_id = part.task_id = None
    for making in work.session.scalars(sa.select(Making).where(Making.need_id == need.id)):
        work.session.delete(making)
    work.session.flush()


def _on_order(session: Session) -> dict[int, tuple[int, dt.date | None]]:
    """By need: how many are ordered and not in yet, and when the last is expected."""
    found: dict[int, tuple[int, dt.date | None]] = {}
    query = (
        sa.select(PurchaseLine)
        .join(PurchaseOrder)
        .options(
            sa.orm.joinedload(PurchaseLine.order),
            sa.orm.selectinload(PurchaseLine.received).selectinload(GoodsIn.went_back),
        )
        .where(PurchaseLine.need_id.is_not(None), PurchaseOrder.cancelled_on.is_(None))
    )
    for line in session.scalars(query):
        assert line.need_id is not None
        left = line.quantity - came_of(line) - line.called_off
        if left > 0:
            count, _ = found.get(line.need_id, (0, None))
            found[line.need_id] = (count + left, line.order.expected_on)
    return found


def came_of(line: PurchaseLine) -> int:
    """How many of what was ordered came and stayed: no wrong parts, nothing that went back."""
    return sum(
        goods.quantity - sum(back.quantity for back in goods.went_back)
        for goods in line.received
        if not goods.wrong_as
    )


def _from_donors(session: Session) -> dict[int, tuple[int, str]]:
    query = (
        sa.select(DonorPart.need_id, DonorPart.quantity, Range.number)
        .join(Donor, Donor.id == DonorPart.donor_id)
        .join(Range, Range.id == Donor.range_id)
        .where(DonorPart.need_id.is_not(None), DonorPart.standing == "on it")
    )
    return {key: (count, number) for key, count, number in session.execute(query) if key is not None}


def _makings(session: Session) -> dict[int, str]:
    query = sa.select(Making.need_id, Task.name).join(Task, Task.id == Making.task_id)
    return {key: name for key, name in session.execute(query)}  # noqa: C416 - a result is no mapping


def _stock_by_name(session: Session) -> dict[str, int]:
    rows = session.execute(
        sa.select(Part.name, sa.func.sum(PartMovement.quantity)).join(PartMovement).group_by(Part.name)
    )
    return {name: int(count or 0) for name, count in rows}


def _need_row(
    need: Need, task: Task, job: Job, range_: Range, coming: _Coming, shelf: dict[str, int]
) -> NeedRow:
    count, expected = coming.ordered.get(need.id, (0, None))
    from_donor, donor = coming.donors.get(need.id, (0, ""))
    making = coming.makings.get(need.id, "")
    open_count = need.quantity - need.covered - need.called_off
    short = 0 if making else max(0, open_count - count - from_donor)
    return NeedRow(
        need.id, need.name, need.quantity, need.covered, count, short, need.cost_cents, task.name, job.id,
        range_.number, job.promised_on, expected, max(0, shelf.get(need.name, 0)), need.called_off, donor,
        making,
    )  # fmt: skip
