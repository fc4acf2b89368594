"""Questions of screens about tags: where things lie in this shop, what a tag says in parts, its pieces."""

from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.domain.build import Build
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.bench import Tag
from shopdesk.storage.tables.stores import Consignment, ConsignmentPiece
from shopdesk.storage.tables.work import Task, WorkOrder

_FEW = 6


@dataclass(frozen=True, slots=True)
class PieceOut:
    """A piece of a consignment that is out; its tags name `tagged` of `count_out`."""

    piece_id: int
    name: str
    number: str
    firm: str
    count_out: int
    tagged: int


@dataclass(frozen=True, slots=True)
class TagOrigin:
    """Of which range a tag is, and what it says of where it goes back: a part's id and words."""

    range_id: int
    build: Build
    goes_back: str
    goes_back_words: str
    piece_id: int | None


def known_places(seat: Seat, limit: int = _FEW) -> list[str]:
    """Where tagged things lie, the most used place first."""
    used = sa.func.count()
    query = (
        sa.select(Tag.lies_at)
        .where(Tag.lies_at != "", Tag.back_at.is_(None))
        .group_by(Tag.lies_at)
        .order_by(used.desc(), Tag.lies_at)
        .limit(limit)
    )
    with seat.look() as session:
        return list(session.scalars(query))


def tag_origin(seat: Seat, tag_id: int) -> TagOrigin:
    """What correcting a tag and counting it back ask for."""
    with seat.look() as session:
        tag = session.get_one(Tag, tag_id)
        build = Build(**tag.job.range.build)
        return TagOrigin(tag.job.range_id, build, tag.goes_back, tag.goes_back_words, tag.piece_id)


def pieces_out(seat: Seat, job_id: int) -> list[PieceOut]:
    """The pieces of a job that are with other trades now, newest first."""
    tagged = (
        sa.select(sa.func.coalesce(sa.func.sum(Tag.how_many), 0))
        .where(Tag.piece_id == ConsignmentPiece.id)
        .correlate(ConsignmentPiece)
        .scalar_subquery()
    )
    query = (
        sa.select(ConsignmentPiece, Consignment, tagged)
        .join(Consignment, Consignment.id == ConsignmentPiece.consignment_id)
        .join(Task, Task.id == ConsignmentPiece.task_id)
        .join(WorkOrder, WorkOrder.id == Task.work_order_id)
        .where(WorkOrder.job_id == job_id, ConsignmentPiece.back_on.is_(None))
        .order_by(ConsignmentPiece.id.desc())
    )
    with seat.look() as session:
        return [
            PieceOut(piece.id, piece.name, sent.number, sent.firm.name, piece.count_out, int(count or 0))
            for piece, sent, count in session.execute(query)
        ]
