"""Two records of one customer made one, while issued papers stand."""

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Appointment, Job, Range

TEXTS = ("contact", "email", "phone", "street", "town", "region", "postcode", "country", "note")


def merge(seat: Seat, keep_id: int, gone_id: int) -> None:
    """Makes two records of one customer one: what is open goes over, issued papers keep the old record.

    Texts the kept record lacks are taken from the other.
    """
    if keep_id == gone_id:
        raise Problem("Choose two different records to make one of.", field="other")
    with seat.change(Action.KEEP_PEOPLE) as work:
        keep, gone = work.get(Party, keep_id, "customer"), work.get(Party, gone_id, "customer")
        for party in (keep, gone):
            refuse_gone(party)
        if gone.supplies or gone.trade:
            raise Problem("{name} is also a firm the shop orders from; keep that record.", name=gone.name)
        for name in (*TEXTS, "tax_number", "exempt_certificate"):
            if not getattr(keep, name):
                setattr(keep, name, getattr(gone, name))
        keep.exempt_until = keep.exempt_until or gone.exempt_until
        gone.merged_into_id = keep.id
        for earlier in work.session.scalars(sa.select(Party).where(Party.merged_into_id == gone.id)):
            earlier.merged_into_id = keep.id
        work.jobs |= _handed_over(work.session, gone.id, keep.id)
        work.session.flush()
        work.about(keep)


def alike(seat: Seat, party_id: int) -> list[tuple[int, str]]:
    """Other customers who may be the same: same telephone, e-mail or name."""
    with seat.look() as session:
        party = session.get_one(Party, party_id)
        told = ((Party.phone, party.phone), (Party.email, party.email), (Party.name, party.name))
        same = [sa.func.lower(column) == value.lower() for column, value in told if value]
        standing = (Party.merged_into_id.is_(None), Party.erased_at.is_(None))
        query = sa.select(Party).where(sa.or_(*same), Party.id != party.id, *standing)
        rows = session.scalars(query.order_by(Party.name, Party.id))
        return [(row.id, ", ".join(w for w in (row.name, row.phone, row.town) if w)) for row in rows]


def refuse_gone(party: Party) -> None:
    if party.erased_at is not None:
        raise Problem("This customer was erased already.")
    if party.merged_into_id is not None:
        raise Problem("{name} was made one with another record already.", name=party.name)


def _handed_over(session: Session, gone_id: int, keep_id: int) -> set[int]:
    """Ranges, jobs, appointments and drafts of the record that goes; the jobs among them."""
    jobs = set(session.scalars(sa.select(Job.id).where(Job.customer_id == gone_id)))
    for row in session.scalars(sa.select(Job).where(Job.customer_id == gone_id)):
        row.customer_id = keep_id
    for owned in session.scalars(sa.select(Range).where(Range.owner_id == gone_id)):
        owned.owner_id = keep_id
    for visit in session.scalars(sa.select(Appointment).where(Appointment.party_id == gone_id)):
        visit.party_id = keep_id
    drafts = sa.select(Invoice).where(Invoice.customer_id == gone_id, Invoice.number.is_(None))
    for draft in session.scalars(drafts):
        draft.customer_id = keep_id
    return jobs
