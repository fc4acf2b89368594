"""Outwork: pieces sent to platers, enamellers and others, counted out with what they are worth."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.money import marked_up, round_half_up
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import settings
from shopdesk.services.outwork_back import take_back
from shopdesk.services.piece_events import note_event
from shopdesk.services.seat import Seat
from shopdesk.services.thermostat_card import refuse_tasks_without_card
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.stock_takes import StoresPhotograph
from shopdesk.storage.tables.stores import Consignment, ConsignmentPiece
from shopdesk.storage.tables.work import Task
from shopdesk.wording import say

__all__ = ["ConsignmentRow", "PieceDraft", "PieceRow", "consignments", "send_out", "take_back"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceDraft:
    """A piece to be sent out for a task; `cost_cents` for all of its count, unless it follows from a price.

    Priced by the piece, `unit_price_cents` is for one; by area, for one measure of area, of which one
    piece has `area` (square feet or square decimetres, as the shop measures).
    """

    task_id: int
    name: str
    count: int = 1
    base_metal: str = ""
    finish: str = ""
    cost_cents: int = 0
    insured_cents: int = 0
    unit_price_cents: int | None = None
    priced_by: str = "piece"
    area: Decimal | None = None

    @property
    def agreed_cents(self) -> int:
        """What all of it is to cost, rounded once."""
        if self.unit_price_cents is None:
            return self.cost_cents
        measure = Fraction(self.area or 0) if self.priced_by == "area" else Fraction(1)
        return round_half_up(measure * self.unit_price_cents * self.count)


@dataclass(frozen=True, slots=True)
class PieceRow:
    id: int
    name: str
    base_metal: str
    finish: str
    count_out: int
    count_back: int
    back_on: dt.date | None
    accepted: str
    cost_cents: int
    range_number: str
    task: str
    rejected: int = 0
    lost: int = 0
    lost_because: str = ""
    lost_cents: int = 0
    insured_cents: int = 0
    times_redone: int = 0
    priced_by: str = "piece"
    unit_price_cents: int = 0
    area: Decimal | None = None
    pictures: int = 0

    @property
    def out(self) -> int:
        """How many are with the firm now."""
        return self.count_out - self.count_back - self.lost


@dataclass(frozen=True, slots=True)
class ConsignmentRow:
    """A consignment; `standing` is out, late, part back, back. `bill_cents` None: no bill yet."""

    id: int
    number: str
    firm: str
    sent_on: dt.date
    expected_on: dt.date | None
    standing: str
    pieces: tuple[PieceRow, ...]
    firm_id: int = 0
    note: str = ""
    bill_number: str = ""
    bill_cents: int | None = None


def send_out(
    seat: Seat,
    firm_id: int,
    pieces: Sequence[PieceDraft],
    *,
    expected_on: dt.date | None = None,
    note: str = "",
) -> int:
    """Sends pieces out together; returns the consignment's key."""
    if not pieces:
        raise Problem("A consignment needs at least one piece.", field="pieces")
    for piece in pieces:
        _check(piece)
    with seat.change(Action.SEND_OUT) as work:
        work.get(Party, firm_id, "firm")
        handling = settings.read(work.session, settings.Terms).outwork_handling_percent
        sent = work.add(
            Consignment(
                number=work.take_number("consignment"),
                firm_id=firm_id,
                sent_on=seat.today,
                expected_on=expected_on,
                note=note.strip(),
            )
        )
        for piece in pieces:
            task = work.get(Task, piece.task_id, "task")
            refuse_tasks_without_card(work.session, [task])
            sent.pieces.append(
                ConsignmentPiece(
                    task_id=task.id,
                    name=piece.name.strip() or task.name,
                    base_metal=piece.base_metal.strip(),
                    finish=piece.finish.strip(),
                    count_out=piece.count,
                    cost_cents=piece.agreed_cents,
                    price_cents=marked_up(piece.agreed_cents, handling),
                    insured_cents=piece.insured_cents,
                    priced_by=piece.priced_by,
                    unit_price_cents=piece.unit_price_cents or 0,
                    area=piece.area,
                )
            )
            work.jobs.add(task.work_order.job_id)
        work.session.flush()
        for kept in sent.pieces:
            note_event(work, seat, kept, "out", kept.count_out)
        work.about(sent)
        return sent.id


def consignments(seat: Seat, *, out_only: bool = False, limit: int = 200) -> list[ConsignmentRow]:
    """Consignments, newest first."""
    query = (
        sa.select(Consignment)
        .options(sa.orm.joinedload(Consignment.firm), sa.orm.selectinload(Consignment.pieces))
        .order_by(Consignment.id.desc())
        .limit(limit)
    )
    with seat.look() as session:
        pictures = _pictures(session)
        rows = [_row(sent, seat.today, pictures) for sent in session.scalars(query)]
    return [r for r in rows if not out_only or r.standing != "back"]


def _check(piece: PieceDraft) -> None:
    if piece.count < 1:
        raise Problem("Count every piece out; a count is one or more.", field="pieces")
    if min(piece.cost_cents, piece.insured_cents, piece.unit_price_cents or 0) < 0:
        raise Problem("A cost, a price and an insured value are zero or more.", field="pieces")
    if piece.priced_by not in ("piece", "area"):
        raise Problem("A price is for a piece or for a measure of area.", field="priced_by")
    if piece.priced_by == "area" and (piece.area is None or piece.area <= 0):
        raise Problem("Write the area of one {name}.", field="area", name=piece.name or say("piece"))


def _pictures(session: Session) -> dict[int, int]:
    query = (
        sa.select(StoresPhotograph.piece_id, sa.func.count())
        .where(StoresPhotograph.piece_id.is_not(None))
        .group_by(StoresPhotograph.piece_id)
    )
    return {key or 0: count for key, count in session.execute(query)}


def _row(sent: Consignment, today: dt.date, pictures: dict[int, int]) -> ConsignmentRow:
    pieces = tuple(
        PieceRow(
            p.id,
            p.name,
            p.base_metal,
            p.finish,
            p.count_out,
            p.count_back,
            p.back_on,
            p.accepted,
            p.cost_cents,
            p.task.work_order.job.range.number,
            p.task.name,
            p.count_rejected,
            p.count_lost,
            p.lost_because,
            p.lost_cents,
            p.insured_cents,
            p.times_redone,
            p.priced_by,
            p.unit_price_cents,
            p.area,
            pictures.get(p.id, 0),
        )
        for p in sent.pieces
    )
    back = [p for p in pieces if p.back_on is not None]
    some_back = any(p.count_back and p.accepted != "rejected" for p in pieces)
    if len(back) == len(pieces):
        standing = "back"
    elif sent.expected_on is not None and sent.expected_on < today:
        standing = "late"
    else:
        standing = "part back" if some_back else "out"
    return ConsignmentRow(
        sent.id, sent.number, sent.firm.name, sent.sent_on, sent.expected_on, standing, pieces, sent.firm_id,
        sent.note, sent.bill_number, sent.bill_cents,
    )  # fmt: skip
