"""What a code on a label names in this shop, and where the window shows it."""

from collections.abc import Callable
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.codes import Code, Thing
from shopdesk.domain.problem import NotFound
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.bench import Tag
from shopdesk.storage.tables.ranges import Range
from shopdesk.storage.tables.stores import Consignment, Part, PurchaseOrder


@dataclass(frozen=True, slots=True)
class Found:
    """A thing by its key, as it is written down; a bin has a name and no key."""

    thing: Thing
    id: int
    name: str
    range_id: int | None = None


def find(seat: Seat, code: Code) -> Found:
    """What a code names; a Problem says when this shop has no such thing."""
    with seat.look() as session:
        found = _FINDERS[code.thing](session, code.name)
    if found is None:
        raise NotFound("There is no {thing} {name} in this shop.", thing=code.thing, name=code.name)
    return found


def _tag(session: Session, name: str) -> Found | None:
    tag = session.scalars(sa.select(Tag).where(_same(Tag.number, name))).first()
    return Found(Thing.TAG, tag.id, tag.number, tag.job.range_id) if tag else None


def _part(session: Session, name: str) -> Found | None:
    part = session.scalars(sa.select(Part).where(_same(Part.number, name))).first()
    return Found(Thing.PART, part.id, part.number) if part else None


def _bin(session: Session, name: str) -> Found | None:
    """A bin that a label names exists, even while nothing lies in it."""
    known = session.scalars(sa.select(Part.lies_at).where(_same(Part.lies_at, name))).first()
    return Found(Thing.BIN, 0, known or name)


def _range(session: Session, name: str) -> Found | None:
    range_ = session.scalars(sa.select(Range).where(_same(Range.number, name))).first()
    return Found(Thing.RANGE, range_.id, range_.number, range_.id) if range_ else None


def _order(session: Session, name: str) -> Found | None:
    order = session.scalars(sa.select(PurchaseOrder).where(_same(PurchaseOrder.number, name))).first()
    return Found(Thing.ORDER, order.id, order.number) if order else None


def _consignment(session: Session, name: str) -> Found | None:
    sent = session.scalars(sa.select(Consignment).where(_same(Consignment.number, name))).first()
    return Found(Thing.CONSIGNMENT, sent.id, sent.number) if sent else None


def _same(column: sa.orm.InstrumentedAttribute[str], name: str) -> sa.ColumnElement[bool]:
    return sa.func.lower(column) == name.lower()


_FINDERS: dict[Thing, Callable[[Session, str], Found | None]] = {
    Thing.TAG: _tag,
    Thing.PART: _part,
    Thing.BIN: _bin,
    Thing.RANGE: _range,
    Thing.ORDER: _order,
    Thing.CONSIGNMENT: _consignment,
}
