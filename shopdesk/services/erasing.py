"""A customer erased as law asks: every text of theirs goes, issued papers and the books stand.

The records of their jobs stay without them, and so does the journal: its chain still verifies, because
what was taken out of it is itself written there (`storage.erasing`). Copies of the shop made before hold
what they held; they go as the shop thins its copies out.
"""

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.accounts import account_of, same_party
from shopdesk.services.party_merging import TEXTS, refuse_gone
from shopdesk.services.seat import Seat
from shopdesk.storage import erasing
from shopdesk.storage.tables.counter import Agreement
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Appointment, Job, Range
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say

_NUMBERS = ("tax_number", "exempt_certificate")
_KNOWN_BY = ("name", "contact", "email", "phone", "street", "note", *_NUMBERS)


def erase(seat: Seat, party_id: int) -> None:
    """Empties every text of a customer and of records merged into theirs, wherever it stands.

    Consents keep day, way and amount; notes that name the customer keep the rest of what they say; so
    does the journal. Issued papers, bills, payments and proofs stay as the duty to keep books asks.
    Refused while a job is open or money stands between the two.
    """
    with seat.change(Action.ERASE) as work:
        party = work.get(Party, party_id, "customer")
        refuse_gone(party)
        _refuse_open(seat, work.session, party)
        work.forgets = True
        keys = same_party(work.session, party_id)
        parties = [work.get(Party, key, "customer") for key in keys]
        owned = list(work.session.scalars(sa.select(Range).where(Range.owner_id.in_(keys))))
        visits = list(work.session.scalars(sa.select(Appointment).where(Appointment.party_id.in_(keys))))
        consents = list(work.session.scalars(_consents(keys)))
        words = _words(parties, owned, visits, consents)
        about = erasing.near(work.session, _seeds(work.session, keys, owned))
        _empty(work, parties, owned, visits)
        erasing.empty_consents(work, about.get("job", ()), say("erased"))
        erasing.strike_notes(work.session, words, about)
        emptied = {
            f"{name} {row.id}"
            for name, rows in (("party", parties), ("appointment", visits), ("agreement", consents))
            for row in rows
        }
        erasing.strike_journal(work, words, about, emptied)
        erasing.forget_pieces(work.session)
        work.about(party)


def _consents(keys: list[int]) -> sa.Select[Agreement]:
    return sa.select(Agreement).join(Job, Job.id == Agreement.job_id).where(Job.customer_id.in_(keys))


def _words(
    parties: list[Party], owned: list[Range], visits: list[Appointment], consents: list[Agreement]
) -> erasing.Words:
    texts = [str(getattr(party, name)) for party in parties for name in _KNOWN_BY]
    texts += [row.stands_at for row in owned]
    texts += [text for row in visits for text in (row.place, row.note)]
    texts += [text for row in consents for text in (row.who, row.number_called, row.note, row.kept_text)]
    names = [name for party in parties for name in (party.name, party.contact)]
    return erasing.Words(texts, [*names, *(row.who for row in consents)])


def _seeds(session: Session, keys: list[int], owned: list[Range]) -> erasing.Near:
    """Their records, their jobs, and the ranges these were on or that they own."""
    jobs = session.execute(sa.select(Job.id, Job.range_id).where(Job.customer_id.in_(keys))).all()
    ranges = {row.id for row in owned} | {range_id for _, range_id in jobs}
    return {"party": keys, "job": {job_id for job_id, _ in jobs}, "gas_range": ranges}


def _empty(work: UnitOfWork, parties: list[Party], owned: list[Range], visits: list[Appointment]) -> None:
    for row in parties:
        for name in (*TEXTS, *_NUMBERS):
            setattr(row, name, "")
        row.name, row.exempt_until, row.erased_at = say("erased"), None, work.now
    for each in owned:
        each.stands_at = ""
    for visit in visits:
        visit.place, visit.note = "", ""
    work.session.flush()


def _refuse_open(seat: Seat, session: Session, party: Party) -> None:
    done = ("settled", "not taken", "withdrawn", "donor")
    job = session.scalars(
        sa.select(Job).where(Job.customer_id == party.id, Job.stage.not_in(done)).limit(1)
    ).first()
    if job is not None:
        raise Problem(
            "{name} has {number} here. Finish or end that job first; then the record can be erased.",
            name=party.name,
            number=job.range.number,
        )
    money = account_of(session, party.id)
    if money.owed_cents or money.held_cents:
        raise Problem(
            "{name} owes {owed}, and {held} is held for them. Settle that first.",
            name=party.name,
            owed=seat.region.money(money.owed_cents),
            held=seat.region.money(money.held_cents),
        )
