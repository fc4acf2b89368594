"""Appointments: a pick-up, a delivery, a visit at home or a viewing at an hour."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Appointment, Job, Range

KINDS = ("pick-up", "delivery", "visit", "viewing")


@dataclass(frozen=True, slots=True)
class AppointmentRow:
    """One appointment as lists show it."""

    id: int
    kind: str
    job_id: int | None
    range_number: str
    customer: str
    phone: str
    starts_at: dt.datetime
    minutes: int
    place: str
    note: str
    called_off: bool


def make(
    seat: Seat, job_id: int, kind: str, starts_at: dt.datetime, *, minutes: int = 60, place: str = "",
    note: str = "",
) -> int:  # fmt: skip
    """Makes an appointment about a job; returns its key."""
    if kind not in KINDS:
        raise Problem("An appointment is a pick-up, a delivery, a visit or a viewing.", field="kind")
    if not 5 <= minutes <= 24 * 60:
        raise Problem("An appointment takes between 5 minutes and a day.", field="minutes")
    with seat.change(Action.APPOINT) as work:
        if starts_at < work.now:
            raise Problem("That hour has passed already.", field="starts_at")
        job = work.get(Job, job_id, "job")
        row = work.add(
            Appointment(
                kind=kind, job_id=job.id, party_id=job.customer_id, starts_at=starts_at, minutes=minutes,
                place=place.strip(), note=note.strip(),
            )
        )  # fmt: skip
        work.session.flush()
        work.about(row, job.id)
        return row.id


def call_off(seat: Seat, appointment_id: int) -> None:
    """The appointment will not be kept."""
    with seat.change(Action.APPOINT) as work:
        row = work.get(Appointment, appointment_id, "appointment")
        row.called_off = True
        work.about(row, row.job_id)


def appointments(seat: Seat, *, job_id: int | None = None, from_now: bool = False) -> list[AppointmentRow]:
    """Appointments in the order of their hours; `from_now` those that still come and stand."""
    query = (
        sa.select(Appointment, Range.number, Party.name, Party.phone)
        .outerjoin(Job, Job.id == Appointment.job_id)
        .outerjoin(Range, Range.id == Job.range_id)
        .outerjoin(Party, Party.id == Appointment.party_id)
        .order_by(Appointment.starts_at, Appointment.id)
    )
    if job_id is not None:
        query = query.where(Appointment.job_id == job_id)
    if from_now:
        query = query.where(Appointment.starts_at >= seat.now, Appointment.called_off == False)
    with seat.look() as session:
        return [
            AppointmentRow(
                row.id, row.kind, row.job_id, number or "", name or "", phone or "", row.starts_at,
                row.minutes, row.place, row.note, row.called_off,
            )
            for row, number, name, phone in session.execute(query)
        ]  # fmt: skip
