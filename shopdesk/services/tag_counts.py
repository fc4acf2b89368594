"""Tags that travel: counted against the pieces of a consignment when they go and when they return."""

from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.bench import Tag
from shopdesk.storage.tables.stores import Consignment, ConsignmentPiece


@dataclass(frozen=True, slots=True)
class PieceCount:
    """One piece of a consignment: what its tags name, what was counted out, what came back.

    `standing` is untagged, short of tags, more on the tags than sent, out, missing or whole.
    """

    piece_id: int
    name: str
    tags: tuple[str, ...]
    tagged: int
    count_out: int
    count_back: int
    standing: str


def send_tagged(seat: Seat, tag_id: int, piece_id: int) -> None:
    """The tagged thing leaves as part of a piece; refused when more would leave than was sent."""
    with seat.change(Action.SEND_OUT) as work:
        tag = work.get(Tag, tag_id, "tag")
        piece = work.get(ConsignmentPiece, piece_id, "piece")
        if tag.back_at is not None:
            raise Problem("{tag} is back on its range; it cannot be sent out.", tag=tag.number)
        if piece.back_on is not None:
            raise Problem("{piece} is back already; send it out again first.", piece=piece.name)
        if tag.piece is not None and tag.piece.back_on is None and tag.piece_id != piece_id:
            raise Problem(
                "{tag} is out already, with {number}.", tag=tag.number, number=tag.piece.consignment.number
            )
        if piece.task.work_order.job_id != tag.job_id:
            raise Problem("{tag} belongs to another range than {piece}.", tag=tag.number, piece=piece.name)
        others = work.session.scalar(
            sa.select(sa.func.coalesce(sa.func.sum(Tag.how_many), 0)).where(
                Tag.piece_id == piece_id, Tag.id != tag_id
            )
        )
        if int(others or 0) + tag.how_many > piece.count_out:
            raise Problem(
                "{piece} was sent out as {count}; with {tag} the tags would name {tagged}. Count again.",
                piece=piece.name, count=piece.count_out, tag=tag.number,
                tagged=int(others or 0) + tag.how_many,
            )  # fmt: skip
        tag.piece_id = piece_id
        work.about(tag, tag.job_id)


def piece_counts(seat: Seat, consignment_id: int) -> list[PieceCount]:
    """The count of a consignment against its tags, piece by piece."""
    with seat.look() as session:
        sent = session.get_one(Consignment, consignment_id)
        named: dict[int, list[Tag]] = {}
        keys = [piece.id for piece in sent.pieces]
        for tag in session.scalars(sa.select(Tag).where(Tag.piece_id.in_(keys)).order_by(Tag.id)):
            named.setdefault(tag.piece_id or 0, []).append(tag)
        return [_count(piece, named.get(piece.id, [])) for piece in sent.pieces]


def _count(piece: ConsignmentPiece, named: list[Tag]) -> PieceCount:
    tagged = sum(tag.how_many for tag in named)
    return PieceCount(
        piece.id, piece.name, tuple(tag.number for tag in named), tagged, piece.count_out, piece.count_back,
        _standing(piece, tagged),
    )  # fmt: skip


def _standing(piece: ConsignmentPiece, tagged: int) -> str:
    if not tagged:
        return "untagged"
    if tagged < piece.count_out:
        return "short of tags"
    if tagged > piece.count_out:
        return "more on the tags than sent"
    if piece.count_back == 0:
        return "out"
    return "whole" if piece.count_back == piece.count_out else "missing"
