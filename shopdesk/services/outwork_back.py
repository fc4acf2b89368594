"""Outwork that comes back: counted, accepted or rejected before its bill, done again, or a named loss."""

import datetime as dt
from collections.abc import Mapping

import sqlalchemy as sa

from shopdesk.domain.money import marked_up, share
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.exchange.pictures import take_in
from shopdesk.services import intake, settings
from shopdesk.services.piece_events import note_event
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.ranges import Photograph
from shopdesk.storage.tables.stock_takes import StoresPhotograph
from shopdesk.storage.tables.stores import Consignment, ConsignmentPiece
from shopdesk.storage.unit_of_work import UnitOfWork


def take_back(
    seat: Seat,
    piece_id: int,
    count: int,
    *,
    accepted: bool = True,
    rejected: int = 0,
    on: dt.date | None = None,
    cost_cents: int | None = None,
    why: str = "",
) -> None:
    """Counts a piece back and accepts or rejects it; `count` is all of it that is here now.

    `rejected` of them are to be done again (all of them without `accepted`). A piece is still out
    while some of it is missing and not lost, or rejected and not done again.
    """
    if cost_cents is not None and cost_cents < 0:
        raise Problem("A cost is zero or more.", field="cost")
    with seat.change(Action.SEND_OUT) as work:
        piece = work.get(ConsignmentPiece, piece_id, "piece")
        could = piece.count_out - piece.count_lost
        if not (0 if not accepted else 1) <= count <= could:
            raise Problem(
                "{count} came back of {out} sent out; count again.", field="count", count=count, out=could
            )
        rejected = rejected if accepted else count
        if not 0 <= rejected <= count:
            raise Problem("{count} are here; no more can be rejected.", field="rejected", count=count)
        came, turned_down = count - piece.count_back, rejected - piece.count_rejected
        piece.count_back, piece.count_rejected = count, rejected
        if came > 0:
            note_event(work, seat, piece, "back", came, on=on)
        if turned_down > 0:
            note_event(work, seat, piece, "rejected", turned_down, on=on, note=why.strip())
        if cost_cents is not None:
            _cost(work, piece, cost_cents)
        _settle(seat, piece, on, rejected_all=not accepted)
        work.about(piece, piece.task.work_order.job_id)


def send_again(seat: Seat, piece_id: int, *, expected_on: dt.date | None = None, note: str = "") -> None:
    """What was rejected goes back to the firm to be done again."""
    with seat.change(Action.SEND_OUT) as work:
        piece = work.get(ConsignmentPiece, piece_id, "piece")
        count = piece.count_rejected
        if not count and piece.accepted != "rejected":
            raise Problem("Nothing of {piece} is rejected.", piece=piece.name)
        piece.count_back -= count
        piece.count_rejected, piece.times_redone = 0, piece.times_redone + 1
        piece.accepted, piece.back_on = "", None
        if expected_on is not None:
            piece.consignment.expected_on = expected_on
        note_event(work, seat, piece, "sent again", count, note=note.strip())
        work.about(piece, piece.task.work_order.job_id)


def lose(seat: Seat, piece_id: int, count: int, because: str, *, cents: int | None = None) -> None:
    """Some of a piece does not come back: a loss with a name, worth its share of the insured value.

    `cents` names another worth for all of what is lost.
    """
    if not because.strip():
        raise Problem("Say what became of it: lost, broken, stripped through.", field="because")
    if cents is not None and cents < 0:
        raise Problem("What is lost is worth zero or more.", field="cents")
    with seat.change(Action.SEND_OUT) as work:
        piece = work.get(ConsignmentPiece, piece_id, "piece")
        out = piece.count_out - piece.count_back - piece.count_lost
        if not 1 <= count <= out + piece.count_rejected:
            raise Problem("{count} of {piece} are not back.", field="count", count=out, piece=piece.name)
        rejected = max(0, count - out)
        piece.count_rejected -= rejected
        piece.count_back -= rejected
        worth = share(piece.insured_cents, [count, piece.count_out - count])[0] if cents is None else cents
        piece.count_lost += count
        piece.lost_cents += worth
        piece.lost_because = "; ".join(w for w in (piece.lost_because, because.strip()) if w)
        note_event(work, seat, piece, "lost", count, cents=worth, note=because.strip())
        _settle(seat, piece, None)
        work.about(piece, piece.task.work_order.job_id)


def take_bill(
    seat: Seat, consignment_id: int, number: str, cents: int, *, by_piece: Mapping[int, int] | None = None
) -> None:
    """The firm's bill, only once every piece was looked over; its sum becomes what the pieces cost.

    Without sums of their own (`by_piece`, piece key to cents) it is shared by what was agreed.
    """
    if not number.strip():
        raise Problem("Write the number of the bill.", field="number")
    if cents < 0:
        raise Problem("A bill is zero or more.", field="cents")
    with seat.change(Action.SEND_OUT) as work:
        sent = work.get(Consignment, consignment_id, "consignment")
        waiting = [p for p in sent.pieces if p.back_on is None]
        if waiting:
            raise Problem(
                "{number}: {piece} is not back and accepted yet. The bill waits until it is.",
                number=sent.number, piece=waiting[0].name,
            )  # fmt: skip
        sums = (
            [by_piece.get(p.id, 0) for p in sent.pieces]
            if by_piece is not None
            else share(cents, [p.cost_cents for p in sent.pieces])
        )
        if sum(sums) != cents:
            raise Problem("The pieces do not add up to the bill.", field="cents")
        for piece, of_it in zip(sent.pieces, sums, strict=True):
            _cost(work, piece, of_it)
            note_event(work, seat, piece, "billed", piece.count_back, cents=of_it, note=number.strip())
            work.jobs.add(piece.task.work_order.job_id)
        sent.bill_number, sent.bill_cents, sent.billed_on = number.strip(), cents, seat.today
        work.about(sent)


def photograph_piece(seat: Seat, piece_id: int, data: bytes, name: str, *, caption: str = "") -> int:
    """Keeps a picture of a piece as it was brought (JPEG, PNG, HEIC); returns its key."""
    picture = take_in(data, name)
    with seat.change(Action.SEND_OUT) as work:
        piece = work.get(ConsignmentPiece, piece_id, "piece")
        kept = intake.keep_picture(work, picture)
        work.add(StoresPhotograph(photograph_id=kept.id, piece_id=piece_id, caption=caption.strip()))
        work.about(piece, piece.task.work_order.job_id)
        return kept.id


def _settle(seat: Seat, piece: ConsignmentPiece, on: dt.date | None, *, rejected_all: bool = False) -> None:
    """Back once all of it is here or lost and nothing is rejected; then it is accepted or gone."""
    whole = (
        not rejected_all
        and not piece.count_rejected
        and piece.count_back + piece.count_lost == piece.count_out
    )
    if whole:
        piece.accepted, piece.back_on = "accepted" if piece.count_back else "lost", on or seat.today
    else:
        piece.accepted, piece.back_on = "rejected" if piece.count_rejected or rejected_all else "", None


def _cost(work: UnitOfWork, piece: ConsignmentPiece, cents: int) -> None:
    handling = settings.read(work.session, settings.Terms).outwork_handling_percent
    piece.cost_cents, piece.price_cents = cents, marked_up(cents, handling)


def piece_pictures(seat: Seat, piece_id: int) -> list[tuple[int, str, bytes]]:
    """The pictures of a piece: key, caption, small JPEG."""
    query = (
        sa.select(Photograph.id, StoresPhotograph.caption, Photograph.thumbnail)
        .join(Photograph, Photograph.id == StoresPhotograph.photograph_id)
        .where(StoresPhotograph.piece_id == piece_id)
        .order_by(StoresPhotograph.id)
    )
    with seat.look() as session:
        return [(key, caption, small) for key, caption, small in session.execute(query)]
