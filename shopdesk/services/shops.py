"""Making a shop and setting it up: identity, people, wages, rates, terms."""

import datetime as dt
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.clock import Clock, day_at
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Acting, Action, Role
from shopdesk.domain.totals import Tax
from shopdesk.services import logins, settings
from shopdesk.services.letter_texts import check_template
from shopdesk.services.planning.public_holidays import countries
from shopdesk.services.seat import Seat, changed_catalogue, open_shop
from shopdesk.storage import make_shop
from shopdesk.storage.tables.shop import LabourRate, NumberSeries, Staff, Wage
from shopdesk.wording.region import Region

if TYPE_CHECKING:
    from shopdesk.storage.unit_of_work import UnitOfWork

SERIES = {
    "range": "R-",
    "quote": "Q-",
    "change order": "X-",
    "invoice": "I-",
    "credit": "C-",
    "payment": "P-",
    "purchase order": "O-",
    "consignment": "K-",
    "part": "S-",
    "tag": "B-",
    "condition report": "W-",
    "intake receipt": "N-",
    "traveller": "T-",
    "proof sheet": "F-",
    "hand-over sheet": "H-",
    "progress letter": "G-",
    "before and after": "BA-",
    "log book": "LB-",
    "weekly list": "WL-",
    "statement": "A-",
    "letter": "L-",
    "bill of sale": "D-",
}


@dataclass(frozen=True, slots=True)
class StaffDraft:
    name: str
    role: Role
    initials: str = ""
    skills: tuple[str, ...] = ()
    active: bool = True


@dataclass(frozen=True, slots=True)
class StaffRow:
    id: int
    name: str
    initials: str
    role: Role
    skills: tuple[str, ...]
    active: bool


@dataclass(frozen=True, slots=True)
class WageRow:
    staff_id: int
    from_day: dt.date
    cost_cents_per_hour: int


def new_shop(
    place: str | Path, clock: Clock, identity: settings.ShopIdentity, region: Region, owner: str,
    *, rate_cents: int | None = None,
) -> Seat:  # fmt: skip
    """Makes a shop with its owner and number series, and opens it for the owner.

    `rate_cents` is what an hour is charged at, in the shop's money; None: as the catalogue has it.
    """
    _check_beginning(identity, owner, rate_cents)
    make_shop(place)
    seat = open_shop(place, clock)
    try:
        return set_up(seat, identity, region, owner, rate_cents=rate_cents)
    except BaseException:
        seat.file.close()
        raise


def set_up(
    seat: Seat, identity: settings.ShopIdentity, region: Region, owner: str,
    *, rate_cents: int | None = None,
) -> Seat:  # fmt: skip
    """Gives a shop that was only made its owner, series and settings; the seat of the owner."""
    _check_beginning(identity, owner, rate_cents)
    with seat.change(Action.SET_UP) as work:
        if work.session.scalar(sa.select(Staff.id).limit(1)) is not None:
            raise Problem("The shop {name} is set up already.", name=seat.file.name)
        settings.write(work, identity)
        settings.write(work, region)
        settings.write(work, settings.Terms())
        settings.write(work, settings.ShopHours(country=_with_holidays(region.territory)))
        for name, prefix in SERIES.items():
            work.add(NumberSeries(name=name, prefix=prefix, next=1))
        figures = seat.catalogue.figures
        day = day_at(seat.file.clock, region.timezone)
        person = work.add(
            Staff(name=owner.strip(), initials=_initials(owner), role=Role.OWNER.value, skills=[])
        )
        work.session.flush()
        work.add(Wage(staff_id=person.id, from_day=day, cost_cents_per_hour=figures.cost_per_hour))
        charged = figures.charge_per_hour if rate_cents is None else rate_cents
        work.add(LabourRate(name="bench", from_day=day, cents_per_hour=charged))
        work.about(person)
        acting = Acting(person.id, person.name, Role.OWNER)
    return replace(seat, acting=acting).refreshed()


def _check_beginning(identity: settings.ShopIdentity, owner: str, rate_cents: int | None) -> None:
    if rate_cents is not None and rate_cents < 0:
        raise Problem("An hourly rate is zero or more.", field="rate")
    if not identity.name.strip():
        raise Problem("The shop needs a name; it prints on every paper.", field="name")
    if not owner.strip():
        raise Problem("Write the owner's name; the shop's papers are signed with it.", field="owner")


def _with_holidays(territory: str) -> str:
    """The country whose public holidays the shop keeps; none where they are not known."""
    return territory if territory in countries() else ""


def keep_setting(seat: Seat, value: Any) -> None:
    """Keeps one settings value whole (identity, region, terms, texts, catalogue changes).

    Changes to the catalogue are kept only if the catalogue can be read with them.
    """
    if isinstance(value, settings.Terms):
        _check_terms(value)
    if isinstance(value, settings.Clocks):
        _check_clocks(value)
    if isinstance(value, settings.Letters):
        for kind, text in value.texts.items():
            check_template(text, field=kind)
    if isinstance(value, settings.Margin):
        Tax("S", Decimal(value.percent))  # refuses a rate that cannot be
    if isinstance(value, settings.CatalogueChanges):  # the proofs a job needs may change with it
        seat = replace(seat, catalogue=changed_catalogue(value))
    with seat.change(Action.SET_UP) as work:
        settings.write(work, value)
        if isinstance(value, settings.CatalogueChanges):
            work.jobs |= _open_jobs(work)


def setting(seat: Seat, kind: type[settings.Value]) -> settings.Value:
    with seat.glance() as connection:
        return settings.glance(connection, kind)


def keep_staff(seat: Seat, draft: StaffDraft, staff_id: int | None = None) -> int:
    """Writes down someone who works here, or corrects it. The last active owner stays one."""
    if not draft.name.strip():
        raise Problem("Someone who works here needs a name.", field="name")
    with seat.change(Action.SET_UP) as work:
        row = work.get(Staff, staff_id, "person") if staff_id else work.add(Staff())
        row.name, row.role, row.active = draft.name.strip(), draft.role.value, draft.active
        row.initials = draft.initials.strip() or _initials(draft.name)
        row.skills = list(draft.skills)
        work.session.flush()
        if not work.session.scalar(
            sa.select(Staff.id).where(Staff.role == "owner", Staff.active == True).limit(1)
        ):
            raise Problem(
                "{name} is the only owner; a shop needs one. Make somebody else an owner first.",
                field="role",
                name=row.name,
            )
        logins.follow(work.session, row)
        work.about(row)
        work.jobs |= _open_jobs(work)  # a job may be held for a person
        return row.id


def staff(seat: Seat, *, everyone: bool = False) -> list[StaffRow]:
    """Who works here, by name; with `everyone` also who has left."""
    query = sa.select(Staff).order_by(Staff.name, Staff.id)
    if not everyone:
        query = query.where(Staff.active == True)
    with seat.look() as session:
        return [
            StaffRow(s.id, s.name, s.initials, Role(s.role), tuple(s.skills), s.active)
            for s in session.scalars(query)
        ]


def keep_wage(seat: Seat, staff_id: int, from_day: dt.date, cost_cents_per_hour: int) -> None:
    """What an hour of someone costs the shop from a day on."""
    if cost_cents_per_hour < 0:
        raise Problem("A cost an hour is zero or more.", field="cost")
    with seat.change(Action.SET_UP) as work:
        row = work.session.scalar(sa.select(Wage).where(Wage.staff_id == staff_id, Wage.from_day == from_day))
        if row is None:
            row = work.add(Wage(staff_id=staff_id, from_day=from_day))
        row.cost_cents_per_hour = cost_cents_per_hour
        work.session.flush()
        work.about(row)


def wages(seat: Seat) -> list[WageRow]:
    with seat.look(Action.SEE_COSTS) as session:
        rows = session.scalars(sa.select(Wage).order_by(Wage.staff_id, Wage.from_day))
        return [WageRow(w.staff_id, w.from_day, w.cost_cents_per_hour) for w in rows]


def keep_rate(seat: Seat, name: str, from_day: dt.date, cents_per_hour: int) -> None:
    """What an hour is charged at from a day on."""
    if cents_per_hour < 0:
        raise Problem("An hourly rate is zero or more.", field="rate")
    with seat.change(Action.SET_UP) as work:
        row = work.session.scalar(
            sa.select(LabourRate).where(LabourRate.name == name, LabourRate.from_day == from_day)
        )
        if row is None:
            row = work.add(LabourRate(name=name, from_day=from_day))
        row.cents_per_hour = cents_per_hour
        work.session.flush()
        work.about(row)


@dataclass(frozen=True, slots=True)
class RateRow:
    name: str
    from_day: dt.date
    cents_per_hour: int


def rates(seat: Seat) -> list[RateRow]:
    """What an hour is charged at, oldest first."""
    with seat.look() as session:
        rows = session.scalars(sa.select(LabourRate).order_by(LabourRate.name, LabourRate.from_day))
        return [RateRow(r.name, r.from_day, r.cents_per_hour) for r in rows]


def hourly_rate(session: Session, day: dt.date, name: str = "bench") -> int:
    """The rate in force on a day (minor units an hour); a sentence when none is set."""
    rate = session.scalar(
        sa.select(LabourRate.cents_per_hour)
        .where(LabourRate.name == name, LabourRate.from_day <= day)
        .order_by(LabourRate.from_day.desc())
        .limit(1)
    )
    if rate is None:
        raise Problem("No hourly rate is set for {day}. Set one in Set-up, Rates.", day=day)
    return rate


def _check_terms(terms: settings.Terms) -> None:
    for name in (
        "deposit_percent",
        "ceiling_percent",
        "outwork_handling_percent",
        "sundries_percent",
        "warn_at_percent",
    ):
        if not 0 <= getattr(terms, name) <= 100:
            raise Problem("A share lies between 0 and 100 percent.", field=name)
    for name in (
        "quote_valid_days",
        "payment_days",
        "warranty_days",
        "delivery_cents",
        "part_markup_percent",
    ):
        if getattr(terms, name) < 0:
            raise Problem("This figure is zero or more.", field=name)


def _check_clocks(clocks: settings.Clocks) -> None:
    for name in ("ready_days", "reminder_days"):
        days = getattr(clocks, name)
        if any(day < 0 for day in days) or list(days) != sorted(set(days)):
            raise Problem("The days of letters grow from one to the next, such as 0, 14, 30.", field=name)
    for name in ("storage_free_days", "storage_cents", "dispute_days"):
        if getattr(clocks, name) < 0:
            raise Problem("This figure is zero or more.", field=name)


def _initials(name: str) -> str:
    return "".join(word[0] for word in name.split()[:3]).upper()


def _open_jobs(work: "UnitOfWork") -> set[int]:
    from shopdesk.services.stages import open_jobs  # most of the services come with it

    return open_jobs(work.session)
