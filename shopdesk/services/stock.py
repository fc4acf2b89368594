"""Parts and the ledger of their movements: how many there are is always the sum of what moved, and why.

No function sets a number; a count changes by a movement with a reason, which carries what it cost.
"""

import datetime as dt
from dataclasses import dataclass
from fractions import Fraction

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.money import marked_up, round_half_up
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.stock import cost_out
from shopdesk.services import settings
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.stores import Part, PartMovement
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say

CONDITIONS = ("new", "used", "exchanged", "made")  # where a part comes from


@dataclass(frozen=True, slots=True)
class PartRow:
    """A kind of part; `in_stock` lie on the shelf and are free, `value_cents` is what they cost."""

    id: int
    number: str
    name: str
    condition: str
    lies_at: str
    in_stock: int
    price_in_cents: int
    price_out_cents: int
    state: str = ""
    value_cents: int = 0
    consumable: bool = False


def keep_part(
    seat: Seat,
    name: str,
    *,
    condition: str = "new",
    state: str = "",
    lies_at: str = "",
    price_in_cents: int = 0,
    price_out_cents: int = 0,
    from_range_id: int | None = None,
    count: int = 0,
    reason: str = "",
) -> int:
    """A new kind of part on the shelf, with how many there are and why; returns its key."""
    _check(name, condition, min(count, price_in_cents, price_out_cents))
    with seat.change(Action.KEEP_STORES) as work:
        part = work.add(
            Part(
                number=work.take_number("part"),
                name=name.strip(),
                condition=condition,
                state=state.strip(),
                lies_at=lies_at.strip(),
                price_in_cents=price_in_cents,
                price_out_cents=price_out_cents,
                from_range_id=from_range_id,
            )
        )
        work.session.flush()
        if count:
            kind = "made" if condition == "made" else "counted in"
            move(work, seat, part, count, reason.strip() or say("counted in"), kind=kind)
        work.about(part)
        return part.id


def move_part(
    seat: Seat, part_id: int, quantity: int, reason: str, *,
    cost_cents: int | None = None, kind: str = "moved", below_zero: bool = False,
) -> None:  # fmt: skip
    """Parts in (positive) or out (negative), never without a reason.

    Never below nothing, unless told to: a shelf that holds more than the ledger knows is counted
    later. `cost_cents` is what all of what comes in cost; else the last known price.
    """
    if quantity == 0 or not reason.strip():
        raise Problem("A movement has a count and a reason.", field="reason")
    with seat.change(Action.KEEP_STORES) as work:
        part = work.get(Part, part_id, "part")
        if quantity < 0 and not below_zero:
            refuse_below_nothing(work.session, part, -quantity)
        move(work, seat, part, quantity, reason.strip(), kind=kind, cost_cents=cost_cents)
        work.about(part)


def sell_part(seat: Seat, part_id: int, quantity: int, price_cents: int, to: str) -> None:
    """Parts sold for their own sake, with what they fetched together and who has them now."""
    if quantity < 1 or price_cents < 0:
        raise Problem("One piece or more is sold, for a price of zero or more.", field="quantity")
    if not to.strip():
        raise Problem("Write who bought it.", field="to")
    with seat.change(Action.KEEP_STORES) as work:
        part = work.get(Part, part_id, "part")
        refuse_below_nothing(work.session, part, quantity)
        reason = say("sold to {name}", name=to.strip())
        move(work, seat, part, -quantity, reason, kind="sold", price_cents=price_cents)
        work.about(part)


def parts(seat: Seat, words: str = "", *, bin_name: str | None = None, limit: int = 200) -> list[PartRow]:
    """Parts by name with how many there are; `words` are looked for in names, numbers and places."""
    count = sa.func.coalesce(sa.func.sum(PartMovement.quantity), 0)
    value = sa.func.coalesce(sa.func.sum(PartMovement.cost_cents), 0)
    query = (
        sa.select(Part, count, value)
        .outerjoin(PartMovement)
        .group_by(Part.id)
        .order_by(sa.func.lower(Part.name), Part.id)
        .limit(limit)
    )
    for word in words.lower().split():
        texts = (Part.name, Part.number, Part.lies_at)
        query = query.where(sa.or_(*(sa.func.lower(t).contains(word, autoescape=True) for t in texts)))
    if bin_name is not None:
        query = query.where(sa.func.lower(Part.lies_at) == bin_name.strip().lower())
    with seat.look() as session:
        return [part_row(part, int(n), int(cents)) for part, n, cents in session.execute(query)]


def part_row(part: Part, count: int, value: int) -> PartRow:
    return PartRow(
        part.id, part.number, part.name, part.condition, part.lies_at, count, part.price_in_cents,
        part.price_out_cents, part.state, value, part.consumable,
    )  # fmt: skip


def holding(session: Session, part_id: int, until: dt.datetime | None = None) -> tuple[int, int]:
    """How many pieces lie there and what they cost together, now or at the end of an instant."""
    query = sa.select(
        sa.func.coalesce(sa.func.sum(PartMovement.quantity), 0),
        sa.func.coalesce(sa.func.sum(PartMovement.cost_cents), 0),
    ).where(PartMovement.part_id == part_id)
    if until is not None:
        query = query.where(PartMovement.at < until)
    count, value = session.execute(query).one()
    return int(count), int(value)


def in_stock(session: Session, part_id: int) -> int:
    return holding(session, part_id)[0]


def refuse_below_nothing(session: Session, part: Part, quantity: int) -> None:
    there = in_stock(session, part.id)
    if quantity > there:
        raise Problem("Only {count} of {part} are there.", field="count", count=max(0, there), part=part.name)


def move(
    work: UnitOfWork, seat: Seat, part: Part, quantity: int, reason: str, *,
    kind: str = "moved", cost_cents: int | None = None, price_cents: int = 0,
    need_id: int | None = None, goods_in_id: int | None = None,
) -> PartMovement:  # fmt: skip
    """One row of the ledger. What goes out costs the average of what lies there, to the cent.

    `cost_cents` is positive and stands for all of it; without one what comes in costs the last
    known price, and a priced receipt makes its price the last known one.
    """
    if quantity < 0 and cost_cents is None:
        there, value = holding(work.session, part.id)
        cost_cents = cost_out(there, value, -quantity, part.price_in_cents)
    elif cost_cents is None:
        cost_cents = quantity * part.price_in_cents
    row = work.add(
        PartMovement(
            part_id=part.id,
            at=work.now,
            quantity=quantity,
            reason=reason,
            kind=kind,
            cost_cents=cost_cents if quantity > 0 else -cost_cents,
            price_cents=price_cents,
            need_id=need_id,
            goods_in_id=goods_in_id,
            staff_id=seat.acting.staff_id,
        )
    )
    work.session.flush()
    return row


def shelf_part(
    work: UnitOfWork, name: str, condition: str, cost_each: int, lies_at: str, *, range_id: int | None = None
) -> Part:
    """The part of that name and source (and of that donor), or a new one on the shelf."""
    query = sa.select(Part).where(Part.name == name, Part.condition == condition)
    if range_id is not None:
        query = query.where(Part.from_range_id == range_id)
    part = work.session.scalars(query).first()
    if part is None:
        markup = settings.read(work.session, settings.Terms).part_markup_percent
        part = work.add(
            Part(
                number=work.take_number("part"),
                name=name,
                condition=condition,
                lies_at=lies_at.strip(),
                price_in_cents=cost_each,
                price_out_cents=marked_up(cost_each, markup),
                from_range_id=range_id,
            )
        )
        work.session.flush()
    elif lies_at.strip() and not part.lies_at:
        part.lies_at = lies_at.strip()
    return part


def each(cents: int, quantity: int) -> int:
    """What one of some pieces cost, rounded; the ledger keeps the exact sum."""
    return round_half_up(Fraction(cents, quantity))


def _check(name: str, condition: str, least: int) -> None:
    if not name.strip():
        raise Problem("A part needs a name.", field="name")
    if condition not in CONDITIONS:
        raise Problem("A part is new, used, exchanged or made.", field="condition")
    if least < 0:
        raise Problem("A count and a price are zero or more.", field="count")
