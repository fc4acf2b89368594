"""Any issued paper as a mail draft: to whom, with which words, the archived PDF attached."""

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import NotFound
from shopdesk.exchange.mail_draft import Attached, mail_draft
from shopdesk.services import settings
from shopdesk.services.letters import mail_of
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Paper
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job
from shopdesk.wording import say

_LETTERS = ("letter", "progress letter")  # their own text is what the mail says


def paper_mail(seat: Seat, number: str) -> bytes:
    """The `.eml` of a paper. Without an address on record the person fills it in."""
    with seat.look() as session:
        paper = session.scalars(
            sa.select(Paper).options(sa.orm.undefer(Paper.pdf)).where(Paper.number == number)
        ).one_or_none()
        if paper is None:
            raise NotFound("There is no paper {number} in this shop. Check the number.", number=number)
        party = _party(session, paper)
        shop = settings.read(session, settings.ShopIdentity)
        letter = mail_of(seat, number) if paper.kind in _LETTERS else None
        name = (party.contact or party.name) if party else ""
        return mail_draft(
            to=party.email if party else "",
            to_name=party.name if party else "",
            sender=shop.email,
            sender_name=shop.name,
            subject=letter.subject if letter else _subject(paper, shop.name),
            text=letter.text if letter else _text(paper, name, shop),
            attached=(Attached(name=f"{paper.kind} {number}.pdf", content=paper.pdf),),
            made_at=seat.now,
        )


def _party(session: Session, paper: Paper) -> Party | None:
    """The other side of the paper as it is known now, merged customers followed."""
    key = paper.party_id
    if key is None and paper.job_id is not None:
        key = session.get_one(Job, paper.job_id).customer_id
    party = session.get(Party, key) if key is not None else None
    while party is not None and party.merged_into_id is not None:
        party = session.get(Party, party.merged_into_id)
    return party


def _subject(paper: Paper, shop: str) -> str:
    return say("{title}, {shop}", title=paper.title, shop=shop)


def _text(paper: Paper, name: str, shop: settings.ShopIdentity) -> str:
    """A few plain words for the person to change before sending."""
    said = {
        "quote": say("Here is the quote. Write back, or call, to agree to it or to ask."),
        "change order": say(
            "Here is what was found at the bench and what it costs. We go on with it when you have agreed."
        ),
        "invoice": say("Here is the invoice."),
        "credit": say("Here is the credit that corrects the invoice."),
        "before and after": say("Here is your range before and after, on one page to frame."),
        "log book": say("Here is the range's log book. It stays with the range; hand it on with it."),
        "purchase order": say("Please send us what the order names. Tell us when it leaves you."),
    }
    greeting = say("Good day {name},", name=name) if name else say("Good day,")
    body = said.get(paper.kind, say("The paper is attached: {title}.", title=paper.title))
    sender = "\n".join(line for line in (shop.name, shop.phone) if line)
    return "\n\n".join((greeting, body, sender))
