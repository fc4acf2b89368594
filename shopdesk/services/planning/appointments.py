"""Pick-ups, deliveries, home visits and viewings: when, where, whose, and who goes."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.plan import AppointmentPerson
from shopdesk.storage.tables.ranges import Appointment, Job, Range
from shopdesk.storage.tables.shop import Staff

KINDS = ("pick-up", "delivery", "home visit", "viewing")


@dataclass(frozen=True, slots=True, kw_only=True)
class AppointmentDraft:
    """`minute` is the shop's own time, after midnight; `minutes` how long it takes, the way included."""

    kind: str
    day: dt.date
    minute: int
    minutes: int = 60
    job_id: int | None = None
    party_id: int | None = None
    place: str = ""
    note: str = ""
    going: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class AppointmentRow:
    id: int
    kind: str
    day: dt.date
    minute: int
    minutes: int
    job_id: int | None
    range_id: int | None
    number: str
    who: str
    place: str
    note: str
    going: tuple[tuple[int, str], ...]


def appoint(seat: Seat, draft: AppointmentDraft, appointment_id: int | None = None) -> int:
    """Writes an appointment down, or moves one. Who goes is not at the bench meanwhile."""
    if draft.kind not in KINDS:
        raise Problem("An appointment is a pick-up, a delivery, a home visit or a viewing.", field="kind")
    if not 0 <= draft.minute < 24 * 60:
        raise Problem("Write the time of day, such as 9:30.", field="minute")
    if not 1 <= draft.minutes <= 24 * 60:
        raise Problem("An appointment takes between a minute and a day.", field="minutes")
    with seat.change(Action.APPOINT) as work:
        row = work.get(Appointment, appointment_id, "appointment") if appointment_id else Appointment()
        job = work.get(Job, draft.job_id, "job") if draft.job_id else None
        row.kind, row.job_id, row.party_id = draft.kind, draft.job_id, draft.party_id
        if job is not None and draft.party_id is None:
            row.party_id = job.customer_id
        row.starts_at = _instant(seat, draft.day, draft.minute)
        row.minutes, row.place, row.note = draft.minutes, draft.place.strip(), draft.note.strip()
        work.add(row)
        work.session.flush()
        work.session.execute(
            sa.delete(AppointmentPerson).where(AppointmentPerson.appointment_id == row.id)
        )  # fmt: skip
        for staff_id in dict.fromkeys(draft.going):
            work.add(AppointmentPerson(appointment_id=row.id, staff_id=staff_id))
        work.about(row, draft.job_id)
        return row.id


def call_off(seat: Seat, appointment_id: int) -> None:
    with seat.change(Action.APPOINT) as work:
        row = work.get(Appointment, appointment_id, "appointment")
        row.called_off = True
        work.about(row, row.job_id)


def appointments(seat: Seat, since: dt.date | None = None) -> list[AppointmentRow]:
    """What is arranged from a day on (today if not said), by time."""
    first = _instant(seat, since or seat.today, 0)
    query = (
        sa.select(Appointment, Range, Party)
        .outerjoin(Job, Job.id == Appointment.job_id)
        .outerjoin(Range, Range.id == Job.range_id)
        .outerjoin(Party, Party.id == Appointment.party_id)
        .where(Appointment.called_off == False, Appointment.starts_at >= first)
        .order_by(Appointment.starts_at, Appointment.id)
    )
    with seat.look() as session:
        found = session.execute(query).all()
        going = _going(session, [row.id for row, _, _ in found])
        rows = []
        for row, range_, party in found:
            at = seat.region.local(row.starts_at)
            number, range_id, who = _whose(range_, party)
            rows.append(
                AppointmentRow(
                    row.id, row.kind, at.date(), at.hour * 60 + at.minute, row.minutes, row.job_id,
                    range_id, number, who, row.place, row.note, going.get(row.id, ()),
                )
            )  # fmt: skip
        return rows


def _whose(range_: Range | None, party: Party | None) -> tuple[str, int | None, str]:
    """The range's number and key, and the other side's name, as far as they are known."""
    return (
        range_.number if range_ is not None else "",
        range_.id if range_ is not None else None,
        party.name if party is not None else "",
    )


def _going(session: Session, ids: list[int]) -> dict[int, tuple[tuple[int, str], ...]]:
    found: dict[int, tuple[tuple[int, str], ...]] = {}
    for key, staff_id, name in session.execute(
        sa.select(AppointmentPerson.appointment_id, Staff.id, Staff.name)
        .join(Staff)
        .where(AppointmentPerson.appointment_id.in_(ids))
        .order_by(Staff.name)
    ):
        found[key] = (*found.get(key, ()), (staff_id, name))
    return found


def _instant(seat: Seat, day: dt.date, minute: int) -> dt.datetime:
    """The instant at which the shop's clock shows this."""
    zone = seat.region.local(seat.now).tzinfo
    local = dt.datetime.combine(day, dt.time(minute // 60, minute % 60), zone)
    return local.astimezone(dt.UTC)
