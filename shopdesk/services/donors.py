"""Donors: what is on a range kept for its parts, what came off it, what the rest should bring.

What the donor cost is shared over its parts by value; together they always carry all of it.
"""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.money import Spread, round_half_up
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.stage import Stage
from shopdesk.domain.stock import DonorShare, shared_cost
from shopdesk.domain.worth.donor import exact_share, sound_parts
from shopdesk.services import stock, walks
from shopdesk.services.needs import cover, forget_other_ways, open_need
from shopdesk.services.seat import Seat
from shopdesk.services.supply_tasks import task_before
from shopdesk.storage.tables.donors import Donor, DonorPart
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.stores import Need, Part, PartMovement
from shopdesk.storage.tables.work import Task
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say

STRIP = "strip-donor"


@dataclass(frozen=True, slots=True)
class DonorPartRow:
    """Something on a donor; `standing` is on it, taken or lost. Cents for all of its pieces."""

    id: int
    name: str
    quantity: int
    value_cents: int
    cost_cents: int
    standing: str
    ended_because: str
    need_id: int | None
    for_range: str
    task: str
    task_done: bool
    part_id: int | None


@dataclass(frozen=True, slots=True)
class DonorRow:
    """A donor; `id` is 0 while nothing is written down of what is on it.

    `rest_cents` is what the parts still on it should bring, `sold_cents` what sold ones fetched,
    `used_cents` what the parts used in ranges had cost.
    """

    id: int
    range_id: int
    number: str
    name: str
    stands_at: str
    opened_on: dt.date | None
    cost_cents: int
    rest_cents: int
    sold_cents: int
    used_cents: int
    parts: tuple[DonorPartRow, ...]

    @property
    def to_strip(self) -> tuple[DonorPartRow, ...]:
        """What is asked for and still on it."""
        return tuple(p for p in self.parts if p.standing == "on it" and p.need_id is not None)


def open_donor(seat: Seat, range_id: int, cost_cents: int | None = None) -> int:
    """Writes down what is on a donor, from its last walk-round, and shares its cost; returns its key.

    Without a cost what was paid for the range counts.
    """
    if cost_cents is not None and cost_cents < 0:
        raise Problem("A cost is zero or more.", field="cost")
    with seat.change(Action.KEEP_STORES) as work:
        range_ = work.get(Range, range_id, "range")
        job = next((j for j in reversed(range_.jobs) if j.ended_as == Stage.DONOR.value), None)
        if job is None:
            raise Problem("{number} is not kept as a donor. Decide that at its jacket first.",
                          number=range_.number)  # fmt: skip
        if work.session.scalar(sa.select(Donor.id).where(Donor.range_id == range_id)) is not None:
            raise Problem("What is on {number} is written down already.", number=range_.number)
        cost = job.bought_cents or 0 if cost_cents is None else cost_cents
        donor = work.add(Donor(range_id=range_id, cost_cents=cost, opened_on=seat.today))
        donor.parts = [
            DonorPart(name=name, checkpoint=code, value_cents=cents)
            for code, name, cents in _seen(seat, work.session, job)
        ]
        work.session.flush()
        _share(donor)
        work.about(donor, job.id)
        return donor.id


def set_cost(seat: Seat, donor_id: int, cost_cents: int) -> None:
    """What the donor cost with fetching it; the difference goes on what is still on it."""
    if cost_cents < 0:
        raise Problem("A cost is zero or more.", field="cost")
    with seat.change(Action.KEEP_STORES) as work:
        donor = work.get(Donor, donor_id, "donor")
        donor.cost_cents = cost_cents
        _share(donor)
        work.about(donor)


def add_to_donor(seat: Seat, donor_id: int, name: str, value_cents: int, quantity: int = 1) -> int:
    """Something the walk-round did not name."""
    if not name.strip():
        raise Problem("A part needs a name.", field="name")
    _check_value(value_cents)
    if quantity < 1:
        raise Problem("One piece or more is on it.", field="quantity")
    with seat.change(Action.KEEP_STORES) as work:
        donor = work.get(Donor, donor_id, "donor")
        part = DonorPart(name=name.strip(), value_cents=value_cents, quantity=quantity)
        donor.parts.append(part)
        work.session.flush()
        _share(donor)
        work.about(donor)
        return part.id


def correct_on_donor(seat: Seat, donor_part_id: int, name: str, value_cents: int, quantity: int) -> None:
    """Another name, count or value of something that is still on a donor."""
    if not name.strip():
        raise Problem("A part needs a name.", field="name")
    _check_value(value_cents)
    if quantity < 1:
        raise Problem("One piece or more is on it.", field="quantity")
    with seat.change(Action.KEEP_STORES) as work:
        part = _on_it(work, donor_part_id)
        part.name, part.value_cents, part.quantity = name.strip(), value_cents, quantity
        _share(part.donor)
        work.about(part.donor)


def cover_from_donor(seat: Seat, need_id: int, donor_part_id: int, minutes: Spread | None = None) -> int:
    """A need is to be met from a donor: makes the task that takes it off; returns the task's key."""
    with seat.change(Action.KEEP_STORES) as work:
        need = open_need(work, need_id)
        part = _on_it(work, donor_part_id)
        if part.need_id is not None:
            raise Problem("{part} is asked for already, for another task.", part=part.name)
        number = _number(work.session, part.donor)
        known = seat.catalogue.tasks.get(STRIP)
        task = task_before(
            work, need.task, say("Take off donor {number}: {part}", number=number, part=part.name),
            minutes or Spread(10, 20, 45), hazards=known.hazards if known else (),
            note=known.advice if known else "",
        )  # fmt: skip
        part.need_id, part.task_id = need.id, task.id
        work.about(part, need.task.work_order.job_id)
        return task.id


def take_off(seat: Seat, donor_part_id: int, *, lies_at: str = "", state: str = "") -> int:
    """It is off the donor: on the shelf with its share of the cost, or at the task that asked for it."""
    with seat.change(Action.KEEP_STORES) as work:
        part = _on_it(work, donor_part_id)
        number = _number(work.session, part.donor)
        cost = stock.each(part.cost_cents, part.quantity)
        kept = stock.shelf_part(work, part.name, "used", cost, lies_at, range_id=part.donor.range_id)
        kept.price_in_cents, kept.state = cost, state.strip() or kept.state
        kept.price_out_cents = stock.each(part.value_cents, part.quantity)
        reason = say("off donor {number}", number=number)
        stock.move(work, seat, kept, part.quantity, reason, kind="off a donor", cost_cents=part.cost_cents)
        part.standing, part.ended_on, part.part_id = "taken", seat.today, kept.id
        work.session.flush()
        work.about(part)
        need = work.session.get(Need, part.need_id) if part.need_id is not None else None
        wanted = need.quantity - need.covered - need.called_off if need is not None else 0
        if need is not None and wanted > 0:
            cover(work, seat, need, kept, min(wanted, part.quantity))
            need.price_cents = kept.price_out_cents
            forget_other_ways(work, need)
        return kept.id


def lose_on_donor(seat: Seat, donor_part_id: int, because: str) -> None:
    """It broke in the taking, or is no good after all: its share of the cost is a loss with a name."""
    if not because.strip():
        raise Problem("Say what became of it.", field="because")
    with seat.change(Action.KEEP_STORES) as work:
        part = _on_it(work, donor_part_id)
        part.standing, part.ended_on, part.ended_because = "lost", seat.today, because.strip()
        need = work.session.get(Need, part.need_id) if part.need_id is not None else None
        part.need_id = None
        work.about(part, need.task.work_order.job_id if need else None)


def donors(seat: Seat) -> list[DonorRow]:
    """Ranges kept as donors, those with something to strip first, then by number."""
    query = (
        sa.select(Range, Donor)
        .join(Job, Job.range_id == Range.id)
        .outerjoin(Donor, Donor.range_id == Range.id)
        .where(Job.ended_as == Stage.DONOR.value)
        .order_by(Range.id)
        .distinct()
    )
    with seat.look() as session:
        found = session.execute(query).all()
        sold, used = _brought(session)
        rows = [_row(session, range_, donor, sold, used) for range_, donor in found]
    return sorted(rows, key=lambda row: not row.to_strip)


def _seen(seat: Seat, session: Session, job: Job) -> list[tuple[str, str, int]]:
    """Checkpoint, name and value of what a walk-round found worth taking off."""
    walk = walks.newest(session, job.id)
    if walk is None:
        return []
    look, figures = walks.view_of(session, walk).look, seat.catalogue.figures
    seen = [
        (checkpoint.code, checkpoint.name, round_half_up(exact_share(share) * checkpoint.donor.likely))
        for checkpoint, share in sound_parts(seat.catalogue, look, figures)
    ]
    return seen + [
        ("", seat.catalogue.accessories[code].name, seat.catalogue.accessories[code].worth.likely)
        for code in walk.accessories
    ]


def _share(donor: Donor) -> None:
    shares = shared_cost(
        donor.cost_cents,
        [DonorShare(p.value_cents, p.cost_cents, p.standing != "on it") for p in donor.parts],
    )
    for part, cents in zip(donor.parts, shares, strict=True):
        part.cost_cents = cents


def _on_it(work: UnitOfWork, donor_part_id: int) -> DonorPart:
    part = work.get(DonorPart, donor_part_id, "donor part")
    if part.standing != "on it":
        raise Problem("{part} is not on the donor any more.", part=part.name)
    return part


def _number(session: Session, donor: Donor) -> str:
    return session.get_one(Range, donor.range_id).number


def _brought(session: Session) -> tuple[dict[int, int], dict[int, int]]:
    """By donor range: what its sold parts fetched, and what those set aside for tasks had cost."""
    query = (
        sa.select(
            Part.from_range_id,
            sa.func.sum(PartMovement.price_cents),
            -sa.func.sum(sa.case((PartMovement.need_id.is_not(None), PartMovement.cost_cents), else_=0)),
        )
        .join(PartMovement, PartMovement.part_id == Part.id)
        .where(Part.from_range_id.is_not(None))
        .group_by(Part.from_range_id)
    )
    rows = [(int(key or 0), int(sold or 0), int(used or 0)) for key, sold, used in session.execute(query)]
    return {key: sold for key, sold, _ in rows}, {key: used for key, _, used in rows}


def _row(
    session: Session, range_: Range, donor: Donor | None, sold: dict[int, int], used: dict[int, int]
) -> DonorRow:
    parts = tuple(_part_row(session, part) for part in donor.parts) if donor else ()
    return DonorRow(
        donor.id if donor else 0,
        range_.id,
        range_.number,
        " ".join(word for word in (range_.maker, range_.model) if word),
        range_.stands_at,
        donor.opened_on if donor else None,
        donor.cost_cents if donor else next((j.bought_cents or 0 for j in reversed(range_.jobs)), 0),
        sum(p.value_cents for p in parts if p.standing == "on it"),
        sold.get(range_.id, 0),
        used.get(range_.id, 0),
        parts,
    )


def _part_row(session: Session, part: DonorPart) -> DonorPartRow:
    need = session.get(Need, part.need_id) if part.need_id is not None else None
    task = session.get(Task, part.task_id) if part.task_id is not None else None
    return DonorPartRow(
        part.id,
        part.name,
        part.quantity,
        part.value_cents,
        part.cost_cents,
        part.standing,
        part.ended_because,
        part.need_id,
        need.task.work_order.job.range.number if need else "",
        task.name if task else "",
        bool(task and task.done_share == 100),
        part.part_id,
    )


def _check_value(cents: int) -> None:
    if cents < 0:
        raise Problem("What it should bring is zero or more.", field="value")
