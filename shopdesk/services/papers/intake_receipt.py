"""The intake receipt: what a customer takes home when the range comes in."""

from sqlalchemy.orm import Session

from shopdesk.documents.condition_findings import severity_words
from shopdesk.documents.facts import IntakeReceiptFacts
from shopdesk.domain.catalogue.model import Purpose
from shopdesk.domain.condition import Condition, condition
from shopdesk.services import settings, walks
from shopdesk.services.papers.completeness import pieces
from shopdesk.services.papers.heads import party_facts, range_facts, shop_head
from shopdesk.services.papers.words import purpose_name
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.ranges import Job
from shopdesk.wording import say


def intake_receipt_facts(seat: Seat, session: Session, job: Job, number: str) -> IntakeReceiptFacts:
    """The range as it came, with what is known of it from a walk-round made before."""
    assert job.customer is not None, "an intake receipt goes to a customer"
    texts = settings.read(session, settings.Texts)
    walk = walks.newest(session, job.id)
    look = walks.view_of(session, walk).look if walk is not None and walk.observations else None
    known = condition(seat.catalogue, look) if look else None
    return IntakeReceiptFacts(
        shop=shop_head(seat, session),
        number=number,
        day=job.booked_in_on or seat.today,
        customer=party_facts(job.customer),
        range=range_facts(job.range, seat.region),
        trouble=job.complaint or say("No trouble was named."),
        wanted=purpose_name(Purpose(job.purpose)),
        condition=_condition(known) if known else "",
        pieces=pieces(seat.catalogue, look, known) if look else (),
        taken_by=seat.acting.name,
        back_by=job.promised_on,
        terms=(texts.quote,) if texts.quote else (),
    )


def _condition(known: Condition) -> str:
    if known.overall is None:
        return ""
    worst = "; ".join(f"{found.checkpoint.name}: {found.finding.name}" for found in known.worst[:3])
    said = say("Looked over before. The gravest finding: {severity}.", severity=severity_words(known.overall))
    return f"{said} {worst}." if worst else said
