"""Who is there when: the shop's week, a person's own week, leave, odd days, closures, stations."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.planning.calendar import SLOT_MINUTES, Week
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import settings
from shopdesk.services.planning.public_holidays import check_place
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.plan import Leave, OddDay, OutworkClosure, Station, WorkingHours
from shopdesk.storage.tables.shop import Staff

ROOM = {"bay": 2, "bench": 4, "blasting": 1, "oven": 1}
"""How many can work at a station at once until the shop says otherwise; judgement, no source."""


@dataclass(frozen=True, slots=True)
class PersonHours:
    """A person's own week; `own` False: the shop's hours hold."""

    staff_id: int
    name: str
    week: Week
    own: bool


@dataclass(frozen=True, slots=True)
class LeaveRow:
    """Days someone, a trade outside or the whole shop is away. `kind`: leave, outwork, closed, open."""

    id: int
    kind: str
    who: str
    first_day: dt.date
    last_day: dt.date
    why: str
    staff_id: int | None = None


@dataclass(frozen=True, slots=True)
class StationRow:
    code: str
    room: int


def as_week(days: Sequence[Sequence[Sequence[int]]]) -> Week:
    """A week as stored, checked; Problem when it is not seven days of half-hours in order."""
    week = tuple(tuple((int(begin), int(end)) for begin, end in hours) for hours in days)
    if len(week) != 7:
        raise Problem("A week has seven days, not {count}.", count=len(week))
    for hours in week:
        last = 0
        for begin, end in hours:
            if begin % SLOT_MINUTES or end % SLOT_MINUTES or not last <= begin < end <= 24 * 60:
                raise Problem(
                    "Working hours go in half-hours, from earlier to later, such as 8:00-12:00.",
                    field="week",
                )
            last = end
    return week


def keep_shop_hours(seat: Seat, week: Sequence[Sequence[Sequence[int]]], country: str, part: str) -> None:
    """The shop's opening hours, and the country whose public holidays it keeps."""
    checked = as_week(week)
    if not any(checked):
        raise Problem("The shop needs hours on one day at least. Nothing can be planned else.", field="week")
    check_place(country, part)
    with seat.change(Action.KEEP_HOURS) as work:
        settings.write(work, settings.ShopHours(checked, country, part))


def keep_working_hours(seat: Seat, staff_id: int, week: Sequence[Sequence[Sequence[int]]] | None) -> None:
    """A person's own week; None: the shop's hours hold again."""
    checked = as_week(week) if week is not None else None
    with seat.change(Action.KEEP_HOURS) as work:
        person = work.get(Staff, staff_id, "person")
        row = work.session.scalar(sa.select(WorkingHours).where(WorkingHours.staff_id == staff_id))
        if checked is None:
            if row is not None:
                work.session.delete(row)
        elif row is None:
            work.add(WorkingHours(staff_id=staff_id, week=checked))
        else:
            row.week = [list(map(list, hours)) for hours in checked]
        work.about(person)


def keep_leave(
    seat: Seat, staff_id: int, first: dt.date, last: dt.date, why: str = "", leave_id: int | None = None
) -> int:
    """Writes leave down, first to last day, or corrects it."""
    _check_days(first, last)
    with seat.change(Action.KEEP_HOURS) as work:
        row = work.get(Leave, leave_id, "leave") if leave_id else work.add(Leave())
        row.staff_id, row.first_day, row.last_day, row.why = staff_id, first, last, why.strip()
        work.session.flush()
        work.about(row)
        return row.id


def keep_closure(
    seat: Seat, trade: str, first: dt.date, last: dt.date, why: str = "", closure_id: int | None = None
) -> int:
    """Days on which a trade outside is shut."""
    _check_days(first, last)
    if not trade.strip():
        raise Problem("Say which trade is shut, such as the plater.", field="trade")
    with seat.change(Action.KEEP_HOURS) as work:
        row = work.get(OutworkClosure, closure_id, "closure") if closure_id else work.add(OutworkClosure())
        row.trade, row.first_day, row.last_day, row.why = trade.strip(), first, last, why.strip()
        work.session.flush()
        work.about(row)
        return row.id


def keep_odd_day(seat: Seat, day: dt.date, *, is_open: bool, why: str = "") -> None:
    """The shop closed on a day of the week's hours, or open on a public holiday."""
    with seat.change(Action.KEEP_HOURS) as work:
        row = work.session.scalar(sa.select(OddDay).where(OddDay.day == day)) or work.add(OddDay(day=day))
        row.is_open, row.why = is_open, why.strip()
        work.session.flush()
        work.about(row)


def call_off(seat: Seat, row: LeaveRow) -> None:
    """Takes leave, a closure or an odd day back."""
    with seat.change(Action.KEEP_HOURS) as work:
        if row.kind in ("closed", "open"):
            day = work.get(OddDay, row.id, "day")
            work.about(day)
            work.session.delete(day)
            return
        if row.kind == "leave":
            leave = work.get(Leave, row.id, "leave")
            leave.called_off = True
            work.about(leave)
        else:
            closure = work.get(OutworkClosure, row.id, "closure")
            closure.called_off = True
            work.about(closure)


def keep_station(seat: Seat, code: str, room: int) -> None:
    """How many can work at a station at once."""
    if code not in ROOM:
        raise Problem("There is no station {code}.", field="code", code=code)
    if not 1 <= room <= 40:
        raise Problem("A station has room for 1 to 40 at once.", field="room")
    with seat.change(Action.KEEP_HOURS) as work:
        row = work.session.scalar(sa.select(Station).where(Station.code == code))
        row = row or work.add(Station(code=code))
        row.room = room
        work.session.flush()
        work.about(row)


def stations(seat: Seat) -> list[StationRow]:
    with seat.look() as session:
        return [StationRow(code, room) for code, room in rooms(session).items()]


def rooms(session: Session) -> dict[str, int]:
    """Room at each station, as the shop set it or as it comes."""
    kept = {row.code: row.room for row in session.scalars(sa.select(Station))}
    return {code: kept.get(code, room) for code, room in ROOM.items()}


def people_hours(seat: Seat) -> list[PersonHours]:
    """Who works here with the week they keep, by name."""
    with seat.look() as session:
        shop = as_week(settings.read(session, settings.ShopHours).week)
        own = own_weeks(session)
        people = session.scalars(sa.select(Staff).where(Staff.active == True).order_by(Staff.name, Staff.id))
        return [PersonHours(p.id, p.name, own.get(p.id, shop), p.id in own) for p in people]


def own_weeks(session: Session) -> dict[int, Week]:
    return {row.staff_id: as_week(row.week) for row in session.scalars(sa.select(WorkingHours))}


def away(seat: Seat, since: dt.date | None = None) -> list[LeaveRow]:
    """Leave, closures and odd days that are not over, by day."""
    day = since or seat.today
    with seat.look() as session:
        rows = [
            LeaveRow(r.id, "leave", r.staff.name, r.first_day, r.last_day, r.why, r.staff_id)
            for r in session.scalars(sa.select(Leave).where(Leave.called_off == False, Leave.last_day >= day))
        ]
        rows += [
            LeaveRow(r.id, "outwork", r.trade, r.first_day, r.last_day, r.why)
            for r in session.scalars(
                sa.select(OutworkClosure).where(
                    OutworkClosure.called_off == False, OutworkClosure.last_day >= day
                )
            )
        ]
        rows += [
            LeaveRow(r.id, "open" if r.is_open else "closed", "", r.day, r.day, r.why)
            for r in session.scalars(sa.select(OddDay).where(OddDay.day >= day))
        ]
    return sorted(rows, key=lambda row: (row.first_day, row.kind, row.id))


def _check_days(first: dt.date, last: dt.date) -> None:
    if last < first:
        raise Problem("The last day comes before the first. Swap them.", field="last_day")
