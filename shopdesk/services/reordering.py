"""Reordering of consumables: what to order again, from the use the ledger shows. It only suggests."""

import datetime as dt
from dataclasses import dataclass
from zoneinfo import ZoneInfo

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.stock import suggestion
from shopdesk.services import stock
from shopdesk.services.needs import came_of
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.stores import GoodsIn, Part, PartMovement, PurchaseLine, PurchaseOrder

OVER = 90  # days of use that are looked at
USED = ("set aside", "put back", "moved", "stock-take")  # sold ones and those sent back are not use
_SHORTEST = 1


@dataclass(frozen=True, slots=True)
class LowRow:
    """A consumable with its reorder point in pieces; `suggested` is 0 while enough is here and coming."""

    part_id: int
    name: str
    in_stock: int
    coming: int
    point: float
    kept_back: float
    per_day: float
    lead_days: int
    served_percent: int
    suggested: int
    price_in_cents: int


def low(seat: Seat) -> list[LowRow]:
    """Every consumable, those to be ordered first."""
    with seat.look() as session:
        found = list(session.scalars(sa.select(Part).where(Part.consumable == True).order_by(Part.name)))
        coming = _coming(session)
        rows = [_row(seat, session, part, coming.get(part.id, 0)) for part in found]
    return sorted(rows, key=lambda row: not row.suggested)


def _row(seat: Seat, session: Session, part: Part, coming: int) -> LowRow:
    there = stock.in_stock(session, part.id)
    days = max(_SHORTEST, part.lead_days)
    used = _used(seat, session, part.id)
    found = suggestion(used, days, part.served_percent, there, coming, part.pack)
    return LowRow(
        part.id, part.name, there, coming, found.reorder.point, found.reorder.kept_back, found.per_day,
        days, part.served_percent, found.pieces, part.price_in_cents,
    )  # fmt: skip


def _used(seat: Seat, session: Session, part_id: int) -> list[int]:
    """Pieces used on each of the last days, counted from the part's first movement if that is later."""
    begin = seat.today - dt.timedelta(days=OVER - 1)
    rows = session.execute(
        sa.select(PartMovement.at, PartMovement.quantity, PartMovement.kind).where(
            PartMovement.part_id == part_id
        )
    ).all()
    by_day: dict[dt.date, int] = {}
    zone = ZoneInfo(seat.region.timezone)
    first = seat.today
    for at, quantity, kind in rows:
        day = at.astimezone(zone).date()
        first = min(first, day)
        if kind in USED and (quantity < 0 or kind == "put back"):
            by_day[day] = by_day.get(day, 0) - quantity
    begin = max(begin, first)
    days = (seat.today - begin).days + 1
    return [max(0, by_day.get(begin + dt.timedelta(days=n), 0)) for n in range(days)]


def _coming(session: Session) -> dict[int, int]:
    """By part: pieces ordered for the shelf that have not come."""
    query = (
        sa.select(PurchaseLine)
        .join(PurchaseOrder)
        .options(sa.orm.selectinload(PurchaseLine.received).selectinload(GoodsIn.went_back))
        .where(
            PurchaseLine.part_id.is_not(None),
            PurchaseLine.need_id.is_(None),
            PurchaseOrder.cancelled_on.is_(None),
        )
    )
    found: dict[int, int] = {}
    for line in session.scalars(query):
        left = max(0, line.quantity - came_of(line) - line.called_off)
        found[line.part_id or 0] = found.get(line.part_id or 0, 0) + left
    return found
