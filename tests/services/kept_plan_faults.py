"""What is wrong with the plan a shop keeps, read from its tables alone: none of the planning's own code.

Every sitting is taken apart into its half-hours on the shop's week; each fault is a sentence.
"""

import datetime as dt
from collections import Counter
from collections.abc import Iterator

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.services.seat import Seat
from shopdesk.services.settings import ShopHours, read
from shopdesk.storage.tables import plan as rows
from shopdesk.storage.tables.ranges import Appointment
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.work import Task, TaskAfter

HalfHour = tuple[dt.date, int]
ROOM = {"bay": 2, "bench": 4, "blasting": 1, "oven": 1}


class _Shop:
    def __init__(self, seat: Seat, session: Session, holidays: set[dt.date]) -> None:
        self.seat, self.session, self.holidays = seat, session, holidays
        self.week = read(session, ShopHours).week
        newest = session.scalars(
            sa.select(rows.BenchPlan.id)
            .where(rows.BenchPlan.undone_at.is_(None))
            .order_by(rows.BenchPlan.id.desc())
        ).first()
        query = sa.select(rows.PlannedTask).where(rows.PlannedTask.plan_id == newest)
        self.places = list(session.scalars(query))
        self.tasks = {t.id: t for t in session.scalars(sa.select(Task))}
        self.people = {p.id: p for p in session.scalars(sa.select(Staff))}
        self.odd = {d.day: d.is_open for d in session.scalars(sa.select(rows.OddDay))}

    def hours(self, day: dt.date) -> list[tuple[int, int]]:
        closed = day in self.holidays and not self.odd.get(day, False)
        if closed or self.odd.get(day) is False:
            return []
        return [tuple(stretch) for stretch in self.week[day.weekday()]]

    def half_hours(self, place: rows.PlannedTask) -> Iterator[HalfHour]:
        day = place.begins_on
        while day <= place.ends_on:
            for begin, end in self.hours(day):
                for minute in range(begin, end, 30):
                    after = (day, minute) >= (place.begins_on, place.begins_minute)
                    if after and (day, minute) < (place.ends_on, place.ends_minute):
                        yield day, minute
            day += dt.timedelta(days=1)


def kept_faults(seat: Seat, holidays: set[dt.date]) -> list[str]:
    with seat.look() as session:
        shop = _Shop(seat, session, holidays)
        found = [] if shop.places else ["nothing is planned"]
        return [*found, *_lengths(shop), *_people(shop), *_rooms(shop), *_order(shop), *_pins(shop)]


def _lengths(shop: _Shop) -> Iterator[str]:
    for place in shop.places:
        count = len(list(shop.half_hours(place)))
        if count != place.half_hours:
            yield f"{place.task_id} {place.sitting} has {count} half-hours instead of {place.half_hours}"


def _people(shop: _Shop) -> Iterator[str]:
    busy: Counter[tuple[int, HalfHour]] = Counter()
    away = _away(shop)
    for place in shop.places:
        if place.staff_id is None:
            continue
        person, task = shop.people[place.staff_id], shop.tasks[place.task_id]
        roles = {"owner": {"owner", "desk"}, "desk": {"desk"}, "technician": {"helper"}}[person.role]
        lacking = set(task.skills) - set(person.skills) - roles
        if lacking and person.skills and task.assigned_to_id != person.id:
            yield f"{task.name} is given to {person.name}, who lacks {lacking}"
        for half in shop.half_hours(place):
            busy[person.id, half] += 1
            if half in away(person.id):
                yield f"{person.name} works at {half} but is away"
    yield from (f"{who} does two things at {half}" for (who, half), count in busy.items() if count > 1)


def _away(shop: _Shop):
    own = {row.staff_id: row.week for row in shop.session.scalars(sa.select(rows.WorkingHours))}
    leave = list(shop.session.scalars(sa.select(rows.Leave).where(rows.Leave.called_off != sa.true())))
    visits = shop.session.execute(
        sa.select(rows.AppointmentPerson.staff_id, Appointment.starts_at, Appointment.minutes)
        .join(Appointment)
        .where(Appointment.called_off != sa.true())
    ).all()

    class Away:
        def __init__(self, who: int) -> None:
            self.who = who

        def __contains__(self, half: HalfHour) -> bool:
            day, minute = half
            if any(row.staff_id == self.who and row.first_day <= day <= row.last_day for row in leave):
                return True
            for who, at, minutes in visits:
                here = shop.seat.region.local(at)
                begin = here.hour * 60 + here.minute
                if who == self.who and here.date() == day and begin - 30 < minute < begin + minutes:
                    return True
            if self.who not in own:
                return False
            return not any(b <= minute and minute + 30 <= e for b, e in own[self.who][day.weekday()])

    return Away


def _rooms(shop: _Shop) -> Iterator[str]:
    kept = {row.code: row.room for row in shop.session.scalars(sa.select(rows.Station))}
    used: Counter[tuple[str, HalfHour]] = Counter()
    for place in shop.places:
        if place.station:
            used.update((place.station, half) for half in shop.half_hours(place))
    for (station, half), count in used.items():
        if count > kept.get(station, ROOM[station]):
            yield f"{station} has {count} at {half}"


def _order(shop: _Shop) -> Iterator[str]:
    begins: dict[int, tuple[dt.date, int]] = {}
    ends: dict[int, tuple[dt.date, int]] = {}
    for place in shop.places:
        begin, end = (place.begins_on, place.begins_minute), (place.ends_on, place.ends_minute)
        begins[place.task_id] = min(begin, begins.get(place.task_id, begin))
        ends[place.task_id] = max(end, ends.get(place.task_id, end))
    for link in shop.session.scalars(sa.select(TaskAfter)):
        task = shop.tasks[link.task_id]
        both = link.task_id in begins and link.after_task_id in ends
        if both and not task.done_share and begins[link.task_id] < ends[link.after_task_id]:
            yield f"{task.name} begins before {shop.tasks[link.after_task_id].name} is over"


def _pins(shop: _Shop) -> Iterator[str]:
    for pin in shop.session.scalars(sa.select(rows.Pin)):
        mine = [p for p in shop.places if p.task_id == pin.task_id and p.staff_id is not None]
        if not mine:
            yield f"{shop.tasks[pin.task_id].name} is pinned and has no place"
            continue
        first = min(mine, key=lambda p: (p.begins_on, p.begins_minute))
        if pin.begins_on and (first.begins_on, first.begins_minute) != (pin.begins_on, pin.begins_minute):
            yield f"{shop.tasks[pin.task_id].name} left its pin"
        if pin.staff_id is not None and any(p.staff_id != pin.staff_id for p in mine):
            yield f"{shop.tasks[pin.task_id].name} left its person"
