"""The pictures of a range: what is kept, small enough for a strip, and new ones taken in."""

from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.exchange.pictures import take_in
from shopdesk.services import intake
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.ranges import Photograph, PhotographUse


@dataclass(frozen=True, slots=True)
class PhotographRow:
    """A picture of a range as a strip shows it; `thumbnail` is JPEG bytes."""

    id: int
    caption: str
    observation_id: int | None
    task_id: int | None
    thumbnail: bytes


def photographs_of(seat: Seat, range_id: int) -> list[PhotographRow]:
    """All pictures of a range in the order in which they came, each once."""
    query = (
        sa.select(
            Photograph.id,
            PhotographUse.caption,
            PhotographUse.observation_id,
            PhotographUse.task_id,
            Photograph.thumbnail,
        )
        .join(PhotographUse, PhotographUse.photograph_id == Photograph.id)
        .where(PhotographUse.range_id == range_id)
        .order_by(PhotographUse.id)
    )
    with seat.look() as session:
        kept: dict[int, PhotographRow] = {}
        for row in session.execute(query):
            kept.setdefault(row.id, PhotographRow(*row))
    return list(kept.values())


def add_photograph(
    seat: Seat, range_id: int, data: bytes, name: str, *, caption: str = "", agreement_id: int | None = None
) -> int:
    """Takes a picture in as it was brought (JPEG, PNG, HEIC) and keeps it with the range; returns its key."""
    picture = take_in(data, name)
    return intake.attach_photograph(seat, range_id, picture, caption=caption, agreement_id=agreement_id)
