"""Labels of tags, parts, bins and ranges, gathered for printing; nothing is kept of them."""

from collections.abc import Sequence

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.documents import labels as paper
from shopdesk.documents.facts import LabelSheetFacts, LabelSize, TagLabel, ThingLabel
from shopdesk.domain.codes import Code, Thing
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.papers.heads import shop_head
from shopdesk.services.seat import Seat
from shopdesk.services.tag_words import place_words
from shopdesk.storage.tables.bench import Tag
from shopdesk.storage.tables.ranges import Range
from shopdesk.storage.tables.stores import Part
from shopdesk.wording import say


def usual_size(seat: Seat) -> LabelSize:
    """The sheet that goes with the shop's paper."""
    return LabelSize.A4 if seat.region.paper == "a4" else LabelSize.LETTER


def sizes() -> list[str]:
    """The sheets and rolls there are, by their names."""
    return [size.value for size in LabelSize]


def tag_labels(seat: Seat, tag_ids: Sequence[int], size: str | None = None, *, first: int = 1) -> bytes:
    """PDF of the labels of some tags in the order of their numbers; `first` free place of the sheet."""
    with seat.look(Action.PRINT) as session:
        tags = list(session.scalars(sa.select(Tag).where(Tag.id.in_(tag_ids)).order_by(Tag.id)))
        if not tags:
            raise Problem("Choose at least one tag to print.", field="tags")
        return _printed(seat, session, [_label(tag) for tag in tags], size, first)


def part_labels(seat: Seat, part_ids: Sequence[int], size: str | None = None, *, first: int = 1) -> bytes:
    """PDF of the labels of some parts, by number."""
    with seat.look(Action.PRINT) as session:
        parts = list(session.scalars(sa.select(Part).where(Part.id.in_(part_ids)).order_by(Part.id)))
        if not parts:
            raise Problem("Choose at least one part to print.", field="parts")
        return _printed(seat, session, [_part_label(part) for part in parts], size, first)


def bin_labels(seat: Seat, names: Sequence[str], size: str | None = None, *, first: int = 1) -> bytes:
    """PDF of the labels of some bins, in the order given."""
    if not any(name.strip() for name in names):
        raise Problem("Choose at least one bin to print.", field="bins")
    with seat.look(Action.PRINT) as session:
        labels = [
            ThingLabel(number=name.strip(), what=say("bin"), qr=str(Code(Thing.BIN, name.strip())))
            for name in names
            if name.strip()
        ]
        return _printed(seat, session, labels, size, first)


def range_labels(seat: Seat, range_ids: Sequence[int], size: str | None = None, *, first: int = 1) -> bytes:
    """PDF of the labels of some ranges, by number."""
    with seat.look(Action.PRINT) as session:
        ranges = list(session.scalars(sa.select(Range).where(Range.id.in_(range_ids)).order_by(Range.id)))
        if not ranges:
            raise Problem("Choose at least one range to print.", field="ranges")
        return _printed(seat, session, [_range_label(range_) for range_ in ranges], size, first)


def _printed(
    seat: Seat, session: Session, labels: Sequence[TagLabel | ThingLabel], size: str | None, first: int
) -> bytes:
    chosen = LabelSize(size) if size else usual_size(seat)
    places = paper.SHEETS[chosen].places
    if not 1 <= first <= places:
        raise Problem("The sheet has the places 1 to {count}.", field="first", count=places)
    head = shop_head(seat, session)
    return paper.render(LabelSheetFacts(shop=head, size=chosen, labels=tuple(labels), first=first))


def _part_label(part: Part) -> ThingLabel:
    fits = [" ".join(word for word in (fit.maker, fit.model) if word) for fit in part.fits if fit.certain]
    return ThingLabel(
        number=part.number,
        what=part.name,
        lines=(
            ", ".join(word for word in (say(part.condition), part.state) if word),
            say("Fits: {ranges}", ranges=", ".join(fits)) if any(fits) else "",
            say("Lies: {place}", place=part.lies_at) if part.lies_at else "",
        ),
        qr=str(Code(Thing.PART, part.number)),
    )


def _range_label(range_: Range) -> ThingLabel:
    name = " ".join(word for word in (range_.maker, range_.model) if word)
    return ThingLabel(
        number=range_.number,
        what=name,
        lines=(
            ", ".join(word for word in (range_.colour, range_.serial) if word),
            say("Owner: {name}", name=range_.owner.name) if range_.owner else say("the shop's own"),
        ),
        qr=str(Code(Thing.RANGE, range_.number)),
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
