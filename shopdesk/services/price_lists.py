"""Suppliers' price lists: brought in as tables, looked up by name, and what they say of what is short."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.folding import fold
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.exchange.tables_in import Line, Wanted
from shopdesk.exchange.tables_in.columns import read_amount, read_text, read_whole
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.price_lists import SupplierPrice
from shopdesk.storage.tables.stores import PurchaseLine, PurchaseOrder
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say

_KEPT = ("name", "price_cents", "pack", "lead_days")


@dataclass(frozen=True, slots=True)
class PriceRow:
    """A line of a supplier's list, in its money."""

    supplier_id: int
    supplier: str
    theirs: str
    name: str
    price_cents: int
    currency: str
    pack: int
    lead_days: int | None
    on_day: dt.date


@dataclass(frozen=True, slots=True)
class Proposal:
    """Whom to order a needed part from: the last supplier of it, else the cheapest list that has it."""

    supplier_id: int
    price_cents: int | None
    currency: str
    theirs: str


class PriceList:
    """A supplier's list as the target of a table: new lines are added, known ones take the new price."""

    kind = "price list"
    action = Action.ORDER

    def __init__(self, seat: Seat, supplier_id: int) -> None:
        with seat.look() as session:
            supplier = session.get_one(Party, supplier_id)
            self.currency = supplier.currency or seat.region.currency
        self.party_id: int | None = supplier_id
        self._supplier_id, self._day = supplier_id, seat.today
        self._there: dict[str, tuple[int, tuple[Any, ...]]] = {}
        self._seen: dict[str, int] = {}

    @property
    def wanted(self) -> tuple[Wanted, ...]:
        return (
            Wanted("theirs", say("Their number"), ("number", "item", "item no", "article", "sku", "code"),
                   read_text(80), required=True),
            Wanted("name", say("Name"), ("description", "text", "designation"), read_text(), required=True),
            Wanted("price_cents", say("Price each"), ("price", "net", "net price", "list price", "each"),
                   read_amount(self.currency), required=True),
            Wanted("pack", say("Pack of"), ("pack", "pack size", "quantity", "qty", "unit"), read_whole(1)),
            Wanted("lead_days", say("Days to come"), ("lead time", "lead days", "days"), read_whole(0, 999)),
        )  # fmt: skip

    def begin(self, session: Session) -> None:
        columns = (SupplierPrice.id, SupplierPrice.theirs, *(getattr(SupplierPrice, name) for name in _KEPT))
        rows = session.execute(sa.select(*columns).where(SupplierPrice.supplier_id == self._supplier_id))
        self._there = {theirs: (key, tuple(rest)) for key, theirs, *rest in rows}
        self._seen = {}

    def judge(self, line: Line) -> str:
        theirs = line.values["theirs"]
        if theirs in self._seen:
            before = self._seen[theirs]
            raise Problem("{theirs} stands on line {number} already.", theirs=theirs, number=before)
        self._seen[theirs] = line.number
        line.values["pack"] = line.values.get("pack") or 1
        known = self._there.get(theirs)
        if known is None:
            return "new"
        return "same" if known[1] == tuple(line.values.get(name) for name in _KEPT) else "changed"

    def keep(self, work: UnitOfWork, lines: Sequence[Line]) -> None:
        """Written past the journal line by line: the record of the table stands for all of them."""
        fresh, changed = [], []
        for line in lines:
            row = {name: line.values.get(name) for name in _KEPT}
            row |= {"folded": fold(line.values["name"]), "on_day": self._day, "currency": self.currency}
            known = self._there.get(line.values["theirs"])
            if known is not None:
                changed.append({"id": known[0], **row})
            else:
                fresh.append({"supplier_id": self._supplier_id, "theirs": line.values["theirs"], **row})
        if fresh:
            work.session.execute(sa.insert(SupplierPrice), fresh)
        if changed:
            work.session.execute(sa.update(SupplierPrice), changed)


def prices(seat: Seat, words: str, *, supplier_id: int | None = None, limit: int = 100) -> list[PriceRow]:
    """Lines of the lists that have all the words, the cheapest first within a name."""
    query = sa.select(SupplierPrice, Party.name).join(Party, Party.id == SupplierPrice.supplier_id)
    for word in fold(words).split():
        query = query.where(SupplierPrice.folded.contains(word, autoescape=True))
    if supplier_id is not None:
        query = query.where(SupplierPrice.supplier_id == supplier_id)
    query = query.order_by(SupplierPrice.folded, SupplierPrice.price_cents, SupplierPrice.id).limit(limit)
    with seat.look() as session:
        return [_price_row(row, supplier) for row, supplier in session.execute(query)]


def proposals(seat: Seat, names: Sequence[str]) -> dict[str, Proposal]:
    """By part name: whom to order it from, and at what price where one is known."""
    with seat.look() as session:
        found = _ordered_before(session, names)
        for name in names:
            if name in found:
                continue
            row = _listed(session, name)
            if row is not None:
                found[name] = Proposal(row.supplier_id, row.price_cents, row.currency, row.theirs)
    return found


def _ordered_before(session: Session, names: Sequence[str]) -> dict[str, Proposal]:
    query = (
        sa.select(PurchaseLine, PurchaseOrder)
        .join(PurchaseOrder)
        .where(PurchaseLine.name.in_(names))
        .order_by(PurchaseOrder.id)
    )
    return {
        line.name: Proposal(order.supplier_id, line.unit_cost_cents or None, order.currency, line.theirs)
        for line, order in session.execute(query)
    }


def _listed(session: Session, name: str) -> SupplierPrice | None:
    """The cheapest line whose name begins with the part's name, else one that has all its words."""
    words = fold(name).split()
    if not words:
        return None
    query = sa.select(SupplierPrice).order_by(SupplierPrice.price_cents, SupplierPrice.id).limit(1)
    for word in words:
        query = query.where(SupplierPrice.folded.contains(word, autoescape=True))
    begins = query.where(SupplierPrice.folded.startswith(" ".join(words), autoescape=True))
    return session.scalars(begins).first() or session.scalars(query).first()


def _price_row(row: SupplierPrice, supplier: str) -> PriceRow:
    return PriceRow(
        row.supplier_id, supplier, row.theirs, row.name, row.price_cents, row.currency, row.pack,
        row.lead_days, row.on_day,
    )  # fmt: skip
