"""Booking a range in, without widgets: what is asked, what is checked, and what is then done.

A customer is either someone known or someone new; a customer written twice (the first try failed on
something else) is found again rather than doubled.
"""

import datetime as dt
from dataclasses import dataclass

from shopdesk.domain.catalogue.model import Purpose
from shopdesk.domain.problem import Problem
from shopdesk.services import handovers, intake, people
from shopdesk.services.seat import Seat
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class Customer:
    """Someone known by key, or someone new as typed."""

    party_id: int | None
    written: people.PartyDraft


@dataclass(frozen=True, slots=True, kw_only=True)
class Booking:
    """Everything the form asks. `customer` None: the range is the shop's own."""

    range_: intake.RangeDraft
    customer: Customer | None = None
    purpose: Purpose = Purpose.FULL
    complaint: str = ""
    asking_cents: int | None = None
    promised_on: dt.date | None = None
    booked_in: bool = True


@dataclass(frozen=True, slots=True)
class Booked:
    """What stands in the shop now; `receipt` is the intake receipt's number, if one was printed."""

    taken: intake.Taken
    receipt: str


def purposes() -> list[tuple[Purpose, str]]:
    """The purposes as people read them."""
    return [
        (Purpose.FULL, say("full restoration")),
        (Purpose.COOK, say("cook on it now")),
        (Purpose.RESALE, say("restoration for resale")),
        (Purpose.DONOR, say("donor")),
    ]


def check(booking: Booking, today: dt.date) -> None:
    """Refuses what cannot be meant."""
    if booking.promised_on is not None and booking.promised_on < today:
        raise Problem(
            "{day} is past already. Promise a day to come, or leave it empty.",
            field="promised_on",
            day=booking.promised_on,
        )


def book(seat: Seat, booking: Booking) -> Booked:
    """Writes customer, range and job down; a customer's range gets its intake receipt."""
    check(booking, seat.today)
    party_id = _party(seat, booking.customer)
    job = intake.JobDraft(
        customer_id=party_id,
        purpose=booking.purpose,
        complaint=booking.complaint,
        asking_cents=booking.asking_cents,
        promised_on=booking.promised_on,
    )
    taken = intake.take_on(seat, booking.range_, job, booked_in=booking.booked_in)
    receipt = ""
    if booking.booked_in and party_id is not None:
        receipt = handovers.print_intake_receipt(seat, taken.job_id)
    return Booked(taken, receipt)


def _party(seat: Seat, customer: Customer | None) -> int | None:
    if customer is None:
        return None
    if customer.party_id is not None:
        return customer.party_id
    new = customer.written
    for known in people.parties(seat, new.name):
        if (known.name, known.phone) == (new.name.strip(), new.phone.strip()):
            return known.id
    return people.keep_party(seat, new)
