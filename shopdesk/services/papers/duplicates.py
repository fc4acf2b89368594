"""A second copy of an issued paper, marked so that nobody takes it for the first."""

from shopdesk.documents.duplicate import marked_copy
from shopdesk.services.papers.keeping import paper_bytes
from shopdesk.services.seat import Seat
from shopdesk.wording import say


def duplicate_bytes(seat: Seat, number: str, kind: str = "") -> bytes:
    """The archived paper with a mark and today's day on every page; what is archived stays as it is."""
    mark = say("Duplicate, made {day}", day=seat.region.day_long(seat.today))
    return marked_copy(paper_bytes(seat, number, kind), mark)
