"""The pictures of a walk-round: kept with the answer they show."""

from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.domain.answers import Answer
from shopdesk.domain.catalogue.model import Evidence
from shopdesk.exchange.pictures import take_in
from shopdesk.services import intake, walks
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.ranges import Photograph, PhotographUse
from shopdesk.storage.tables.walk import Observation, WalkRound


@dataclass(frozen=True, slots=True)
class WalkPicture:
    """A picture at a checkpoint; `thumbnail` is JPEG bytes."""

    id: int
    caption: str
    thumbnail: bytes


def keep_picture(seat: Seat, walk_id: int, checkpoint: str, data: bytes, name: str) -> int:
    """Keeps a picture with the last answer of a checkpoint; returns its key.

    Where nothing is answered yet the checkpoint is written down as not seen, to be answered.
    `name` is what the person calls the file. Raises Problem for what is no picture.
    """
    picture = take_in(data, name)
    with seat.look() as session:
        walk = session.get_one(WalkRound, walk_id)
        range_id = walk.job.range_id
        here = [row.id for row in walk.observations if row.checkpoint == checkpoint]
    answer_id = here[-1] if here else walks.answer(seat, walk_id, _open(checkpoint))
    caption = seat.catalogue.checkpoints[checkpoint].name
    return intake.attach_photograph(seat, range_id, picture, observation_id=answer_id, caption=caption)


def pictures_at(seat: Seat, walk_id: int, checkpoint: str) -> list[WalkPicture]:
    """The pictures of a checkpoint in the order in which they came."""
    query = (
        sa.select(Photograph.id, PhotographUse.caption, Photograph.thumbnail)
        .join(PhotographUse, PhotographUse.photograph_id == Photograph.id)
        .join(Observation, Observation.id == PhotographUse.observation_id)
        .where(Observation.walk_round_id == walk_id, Observation.checkpoint == checkpoint)
        .order_by(PhotographUse.id)
    )
    with seat.look() as session:
        return [WalkPicture(*row) for row in session.execute(query)]


def _open(checkpoint: str) -> Answer:
    return Answer(checkpoint, evidence=Evidence.NOT_SEEN)
