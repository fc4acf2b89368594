"""Taxes by kind of line, day and place: the shop's usual ones, and those for customers elsewhere."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.days import refuse_odd_day
from shopdesk.domain.folding import fold
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.totals import NO_TAX, Tax
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.shop import LocalTaxRate, TaxRate

TAXED_KINDS = ("labour", "part", "outwork", "delivery", "charge")


@dataclass(frozen=True, slots=True)
class TaxRow:
    kind: str
    from_day: dt.date
    name: str
    category: str
    percent: Decimal


def keep_taxes(seat: Seat, rows: list[TaxRow]) -> None:
    """Sets the taxes on the kinds of lines from a day on; the same kind, day and name is corrected."""
    with seat.change(Action.SET_UP) as work:
        for row in rows:
            if row.kind not in TAXED_KINDS:
                raise Problem("{kind} is no kind of line that carries tax.", field="kind", kind=row.kind)
            Tax(row.category, row.percent, row.name)  # refuses a rate that cannot be
            refuse_odd_day(row.from_day, field="from_day")
            kept = work.session.scalar(
                sa.select(TaxRate).where(
                    TaxRate.kind == row.kind, TaxRate.from_day == row.from_day, TaxRate.name == row.name
                )
            )
            if kept is None:
                kept = work.add(TaxRate(kind=row.kind, from_day=row.from_day, name=row.name))
            kept.category, kept.percent = row.category, row.percent
            work.session.flush()
            work.about(kept)


def taxes(seat: Seat) -> list[TaxRow]:
    with seat.look() as session:
        rows = session.scalars(sa.select(TaxRate).order_by(TaxRate.kind, TaxRate.from_day))
        return [TaxRow(t.kind, t.from_day, t.name, t.category, t.percent) for t in rows]


def tax_on(session: Session, kind: str, day: dt.date, places: Sequence[str] = ()) -> Tax:
    """The tax on a kind of line on a day; none set means outside the scope of tax.

    `places` are words for where the customer is, the narrowest first (see `place_of`): a tax set
    for one of them takes the place of the shop's usual one.
    """
    for place in places:
        local = session.scalars(
            sa.select(LocalTaxRate)
            .where(LocalTaxRate.kind == kind, LocalTaxRate.from_day <= day, LocalTaxRate.place == place)
            .order_by(LocalTaxRate.from_day.desc(), LocalTaxRate.id.desc())
            .limit(1)
        ).first()
        if local is not None:
            return Tax(local.category, local.percent, local.name)
    row = session.scalars(
        sa.select(TaxRate)
        .where(TaxRate.kind == kind, TaxRate.from_day <= day)
        .order_by(TaxRate.from_day.desc(), TaxRate.id.desc())
        .limit(1)
    ).first()
    return Tax(row.category, row.percent, row.name) if row else NO_TAX


def place_of(party: Party | None) -> tuple[str, ...]:
    """Where a customer is, in words that taxes may be set for, the narrowest first."""
    if party is None:
        return ()
    code = fold(party.postcode).replace(" ", "")
    parts = [code[:length] for length in range(len(code), 1, -1)]
    words = [fold(word).strip() for word in (party.town, party.region, party.country)]
    return tuple(word for word in (*parts, *words) if word)


@dataclass(frozen=True, slots=True)
class LocalTaxRow:
    """A tax for customers of a place: a postcode or its beginning, a town, a region or a country."""

    place: str
    kind: str
    from_day: dt.date
    name: str
    category: str
    percent: Decimal


def keep_local_taxes(seat: Seat, rows: Sequence[LocalTaxRow]) -> None:
    """Sets taxes for the customers of a place; the same place, kind, day and name is corrected."""
    with seat.change(Action.SET_UP) as work:
        for row in rows:
            place = fold(row.place).strip()
            if not place:
                raise Problem("Write the place: a postcode, a town, a region or a country.", field="place")
            if any(letter.isdigit() for letter in place):
                place = place.replace(" ", "")
            if row.kind not in TAXED_KINDS:
                raise Problem("{kind} is no kind of line that carries tax.", field="kind", kind=row.kind)
            Tax(row.category, row.percent, row.name)  # refuses a rate that cannot be
            refuse_odd_day(row.from_day, field="from_day")
            kept = work.session.scalar(
                sa.select(LocalTaxRate).where(
                    LocalTaxRate.place == place, LocalTaxRate.kind == row.kind,
                    LocalTaxRate.from_day == row.from_day, LocalTaxRate.name == row.name,
                )
            )  # fmt: skip
            if kept is None:
                kept = work.add(
                    LocalTaxRate(place=place, kind=row.kind, from_day=row.from_day, name=row.name)
                )
            kept.category, kept.percent = row.category, row.percent
            work.session.flush()
            work.about(kept)


def local_taxes(seat: Seat) -> list[LocalTaxRow]:
    with seat.look() as session:
        rows = session.scalars(
            sa.select(LocalTaxRate).order_by(LocalTaxRate.place, LocalTaxRate.kind, LocalTaxRate.from_day)
        )
        return [LocalTaxRow(t.place, t.kind, t.from_day, t.name, t.category, t.percent) for t in rows]
