"""The plan handed out: a person's weekly list as a paper, plan and appointments as a calendar file."""

import datetime as dt
from zoneinfo import ZoneInfo

from shopdesk.documents.facts.week import WeekDay, WeekEntry, WeeklyListFacts
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.exchange.calendar_file import Entry, calendar_file
from shopdesk.services.papers.heads import shop_head
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.planning.appointments import AppointmentRow, appointments
from shopdesk.services.planning.hours import LeaveRow, away
from shopdesk.services.planning.picture import Bar, Picture, picture
from shopdesk.services.seat import Seat
from shopdesk.wording import say

WEEKLY_LIST = "weekly list"


def print_week(seat: Seat, staff_id: int, first_day: dt.date | None = None) -> str:
    """Issues a person's list of the week that begins on `first_day` (this Monday if not said)."""
    first = first_day or seat.today - dt.timedelta(days=seat.today.weekday())
    shown = picture(seat)
    person = next((row for row in shown.people if row.staff_id == staff_id), None)
    if person is None:
        raise Problem("This person has no hours in the plan. Enter them under Hours and leave.")
    if shown.kept is None:
        raise Problem("There is no plan yet. Make one first.")
    days = _days(seat, shown, staff_id, person.name, first)
    with seat.change(Action.PRINT) as work:
        number = work.take_number(WEEKLY_LIST)
        facts = WeeklyListFacts(
            shop=shop_head(seat, work.session),
            number=number,
            day=seat.today,
            person=person.name,
            first_day=first,
            days=days,
            promised=_promised(seat, shown, first),
            waiting=tuple(each.sentence for each in shown.left_out),
        )
        title = say("Weekly list of {name}", name=person.name)
        work.about(keep_paper(work, WEEKLY_LIST, number, title, facts))
        return number


def export_calendar(seat: Seat, staff_id: int | None = None) -> bytes:
    """Plan, appointments and promises as iCalendar; with `staff_id` one person's alone."""
    shown = picture(seat)
    zone = ZoneInfo(seat.region.timezone)
    entries = [_sitting(seat, bar, zone) for bar in shown.bars if staff_id in (None, bar.staff_id)]
    mine = [
        row for row in appointments(seat) if staff_id is None or staff_id in {key for key, _ in row.going}
    ]
    entries += [_appointment(seat, row, zone) for row in mine]
    if staff_id is None:
        entries += [
            Entry(
                uid=f"promise-{row.job_id}@{_shop_mark(seat)}",
                title=say("{range} promised", range=row.number),
                begins=_at(row.promised_on, 12 * 60, zone),
                ends=_at(row.promised_on, 12 * 60, zone),
                whole_day=True,
            )
            for row in shown.ranges
            if row.promised_on
        ]
    person = next((row.name for row in shown.people if row.staff_id == staff_id), "")
    return calendar_file(person or say("Bench plan"), entries, seat.now, seat.region.timezone)


def _days(seat: Seat, shown: Picture, staff_id: int, name: str, first: dt.date) -> tuple[WeekDay, ...]:
    bars = [bar for bar in shown.bars if bar.staff_id == staff_id]
    going = [row for row in appointments(seat, first) if staff_id in {key for key, _ in row.going}]
    leave = away(seat, first)
    days = []
    for number in range(7):
        day = first + dt.timedelta(days=number)
        entries = [(bar.begins[1], _entry(seat, bar)) for bar in bars if bar.begins[0] == day]
        entries += [(row.minute, _visit(seat, row)) for row in going if row.day == day]
        entries.sort(key=lambda pair: pair[0])
        why = _why_away(leave, name, day)
        if entries or why or day.weekday() < 5:
            days.append(WeekDay(day, tuple(entry for _, entry in entries), why))
    return tuple(days)


def _entry(seat: Seat, bar: Bar) -> WeekEntry:
    notes = [
        say("begun") if bar.started else "",
        say("pinned") if bar.pinned else "",
        say("after the promised day") if bar.late else "",
    ]
    clock = seat.region.time_of_day
    hours = clock(bar.begins[1])
    if bar.half_hours and bar.ends[0] != bar.begins[0]:
        hours = say("from {time} on", time=hours)
    elif bar.half_hours:
        hours = f"{hours}–{clock(bar.ends[1])}"
    return WeekEntry(
        hours, bar.number, bar.task, say(bar.station) if bar.station else "", ", ".join(n for n in notes if n)
    )


def _visit(seat: Seat, row: AppointmentRow) -> WeekEntry:
    hours = f"{seat.region.time_of_day(row.minute)}–{seat.region.time_of_day(row.minute + row.minutes)}"
    what = say("{kind}: {who}", kind=say(row.kind), who=row.who) if row.who else say(row.kind)
    return WeekEntry(hours, row.number, what, row.place, row.note)


def _why_away(leave: list[LeaveRow], name: str, day: dt.date) -> str:
    for row in leave:
        if row.first_day <= day <= row.last_day:
            if row.kind == "leave" and row.who == name:
                return say("On leave.")
            if row.kind == "closed":
                return say("The shop is closed.")
    return ""


def _promised(seat: Seat, shown: Picture, first: dt.date) -> tuple[str, ...]:
    last = first + dt.timedelta(days=6)
    region = seat.region
    return tuple(
        say("{range} on {day}", range=row.number, day=region.day(row.promised_on))
        for row in shown.ranges
        if row.promised_on and first <= row.promised_on <= last
    )


def _sitting(seat: Seat, bar: Bar, zone: ZoneInfo) -> Entry:
    return Entry(
        uid=f"task-{bar.task_id}-{bar.sitting or 'whole'}@{_shop_mark(seat)}",
        title=say("{range}: {task}", range=bar.number, task=bar.task),
        begins=_at(*bar.begins, zone),
        ends=_at(*bar.ends, zone),
        place=say(bar.station) if bar.station else "",
        who=(bar.who,) if bar.who else (),
    )


def _appointment(seat: Seat, row: AppointmentRow, zone: ZoneInfo) -> Entry:
    begins = _at(row.day, row.minute, zone)
    parts = (say(row.kind), row.number, row.who)
    return Entry(
        uid=f"appointment-{row.id}@{_shop_mark(seat)}",
        title=", ".join(part for part in parts if part),
        begins=begins,
        ends=begins + dt.timedelta(minutes=row.minutes),
        place=row.place,
        note=row.note,
        who=tuple(name for _, name in row.going),
    )


def _at(day: dt.date | None, minute: int, zone: ZoneInfo) -> dt.datetime:
    assert day is not None  # the caller asked
    midnight = dt.datetime.combine(day, dt.time(), zone)
    return midnight + dt.timedelta(minutes=minute)


def _shop_mark(seat: Seat) -> str:
    """A name that keeps entries of two shops apart."""
    return "".join(c for c in seat.file.name.lower() if c.isalnum()) or "shop"
