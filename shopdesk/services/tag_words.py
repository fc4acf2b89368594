"""What a tag says in words, for lists and papers: where it goes back, where it lies."""

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.drawing.names import PART_IDS, part_name
from shopdesk.storage.tables.bench import Tag
from shopdesk.storage.tables.stores import Consignment
from shopdesk.wording import say


def out_of(session: Session, job_id: int) -> list[Tag]:
    """The tags of a job that are still out, by number."""
    query = sa.select(Tag).where(Tag.job_id == job_id, Tag.back_at.is_(None)).order_by(Tag.id)
    return list(session.scalars(query))


def place_words(tag: Tag) -> str:
    """Where it goes back, as people read it."""
    part = part_name(tag.goes_back) if tag.goes_back in PART_IDS else ""
    return ", ".join(words for words in (part, tag.goes_back_words) if words)


def sent_with(tag: Tag) -> Consignment | None:
    """The consignment it is out with; None while it lies in the shop."""
    return tag.piece.consignment if tag.piece is not None and tag.piece.back_on is None else None


def lies_words(tag: Tag) -> str:
    """Where it lies, or with which firm it is."""
    sent = sent_with(tag)
    return say("with {firm} ({number})", firm=sent.firm.name, number=sent.number) if sent else tag.lies_at
