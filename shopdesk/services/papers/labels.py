"""The labels of tags, gathered for printing; nothing is kept of them but the tags themselves."""

from collections.abc import Sequence

import sqlalchemy as sa

from shopdesk.documents import labels as paper
from shopdesk.documents.facts import LabelSheetFacts, LabelSize, TagLabel
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.papers.heads import shop_head
from shopdesk.services.seat import Seat
from shopdesk.services.tag_words import place_words
from shopdesk.storage.tables.bench import Tag


def usual_size(seat: Seat) -> LabelSize:
    """The sheet that goes with the shop's paper."""
    return LabelSize.A4 if seat.region.paper == "a4" else LabelSize.LETTER


def tag_labels(seat: Seat, tag_ids: Sequence[int], size: LabelSize | None = None, *, first: int = 1) -> bytes:
    """PDF of the labels of some tags in the order of their numbers; `first` free place of the sheet."""
    chosen = size or usual_size(seat)
    places = paper.SHEETS[chosen].places
    if not 1 <= first <= places:
        raise Problem("The sheet has the places 1 to {count}.", field="first", count=places)
    with seat.look(Action.PRINT) as session:
        tags = list(session.scalars(sa.select(Tag).where(Tag.id.in_(tag_ids)).order_by(Tag.id)))
        if not tags:
            raise Problem("Choose at least one tag to print.", field="tags")
        labels = tuple(_label(tag) for tag in tags)
        return paper.render(
            LabelSheetFacts(shop=shop_head(seat, session), size=chosen, labels=labels, first=first)
        )


def _label(tag: Tag) -> TagLabel:
    range_ = tag.job.range
    name = " ".join(word for word in (range_.maker, range_.model) if word)
    return TagLabel(
        number=tag.number,
        what=tag.what,
        how_many=tag.how_many,
        range=", ".join(word for word in (range_.number, name) if word),
        goes_back=place_words(tag),
        lies_at=tag.lies_at,
        qr=f"shopdesk:tag/{tag.number}",
    )
