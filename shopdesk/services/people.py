"""People and firms outside the shop."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.domain.days import refuse_odd_day
from shopdesk.domain.folding import fold
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import stages
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job


@dataclass(frozen=True, slots=True, kw_only=True)
class PartyDraft:
    """What is written down of a person or a firm."""

    name: str
    is_firm: bool = False
    contact: str = ""
    email: str = ""
    phone: str = ""
    street: str = ""
    town: str = ""
    region: str = ""
    postcode: str = ""
    country: str = ""
    note: str = ""
    supplies: bool = False
    trade: str = ""
    send_days: str = ""  # weekdays it takes pieces in, Monday 1 to Sunday 7, such as 25; empty: any
    return_days: str = ""  # weekdays it gives pieces back
    currency: str = ""  # of a supplier's prices; empty: the shop's
    our_account: str = ""  # our number with them
    lead_days: int = 0  # usual days from order to goods
    tax_number: str = ""
    exempt_certificate: str = ""
    exempt_until: dt.date | None = None


@dataclass(frozen=True, slots=True)
class PartyRow:
    """A person or a firm as lists and choosers show it."""

    id: int
    name: str
    is_firm: bool
    phone: str
    email: str
    town: str
    supplies: bool
    trade: str


def keep_party(seat: Seat, draft: PartyDraft, party_id: int | None = None) -> int:
    """Writes a person or firm down, or corrects one; returns its key."""
    if not draft.name.strip():
        raise Problem("A person or firm needs a name. Write at least a surname.", field="name")
    if draft.email and "@" not in draft.email:
        raise Problem(
            "{email} is not an e-mail address. Correct it or leave it empty.",
            field="email",
            email=draft.email,
        )
    for field in ("send_days", "return_days"):
        if not set(getattr(draft, field)) <= set("1234567"):
            raise Problem("Weekdays are kept as 1 for Monday to 7 for Sunday.", field=field)
    if draft.exempt_until is not None:
        refuse_odd_day(draft.exempt_until, field="exempt_until")
    with seat.change(Action.KEEP_PEOPLE) as work:
        party = work.get(Party, party_id, "customer") if party_id else work.add(Party())
        for name in PartyDraft.__dataclass_fields__:
            value = getattr(draft, name)
            setattr(party, name, value.strip() if isinstance(value, str) else value)
        work.session.flush()
        work.about(party)
        return party.id


def party_draft(seat: Seat, party_id: int) -> PartyDraft:
    """What is written down of someone, to be corrected."""
    with seat.look() as session:
        party = session.get_one(Party, party_id)
        return PartyDraft(**{name: getattr(party, name) for name in PartyDraft.__dataclass_fields__})


def parties(seat: Seat, words: str = "", *, kind: str = "", limit: int = 200) -> list[PartyRow]:
    """People and firms by name; `kind` is customer, supplier or outworker; `words` narrows."""
    query = sa.select(Party).where(Party.merged_into_id.is_(None), Party.erased_at.is_(None))
    for word in fold(words).split():
        query = query.where(Party.search_text.contains(word, autoescape=True))
    if kind == "supplier":
        query = query.where(Party.supplies == True)
    elif kind == "outworker":
        query = query.where(Party.trade != "")
    elif kind == "customer":
        query = query.where(Party.supplies == False, Party.trade == "")
    with seat.look() as session:
        rows = session.scalars(query.order_by(Party.name, Party.id).limit(limit))
        return [
            PartyRow(p.id, p.name, p.is_firm, p.phone, p.email, p.town, p.supplies, p.trade) for p in rows
        ]


@dataclass(frozen=True, slots=True)
class HasHere:
    """A job of a customer: the range, where it stands, and what is owed on it (minor units)."""

    job_id: int
    range_id: int
    number: str
    name: str  # maker and model
    stage: str
    opened_on: dt.date
    owed_cents: int


def jobs_of(seat: Seat, party_id: int) -> list[HasHere]:
    """What a customer has or had here, newest first; ranges bought from the shop too."""
    bought = sa.select(Invoice.job_id).where(Invoice.customer_id == party_id, Invoice.number.is_not(None))
    query = (
        sa.select(Job)
        .where(sa.or_(Job.customer_id == party_id, Job.id.in_(bought)))
        .options(sa.orm.joinedload(Job.range))
        .order_by(Job.id.desc())
    )
    with seat.look() as session:
        return [
            HasHere(
                job.id,
                job.range_id,
                job.range.number,
                " ".join(word for word in (job.range.maker, job.range.model) if word),
                job.stage,
                job.opened_on,
                stages.balance(session, job.id),
            )
            for job in session.scalars(query)
        ]
