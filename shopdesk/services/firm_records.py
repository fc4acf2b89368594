"""How outside firms have done: days late, what was rejected, what never came back."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.services.seat import Seat
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.stores import Consignment, ConsignmentPiece, PieceEvent


@dataclass(frozen=True, slots=True)
class FirmRecord:
    """One firm's consignments so far; pieces are counted, days are calendar days.

    `days_late` holds a figure for every consignment that is back or overdue, early ones as 0.
    """

    firm_id: int
    firm: str
    consignments: int
    out_now: int
    days_late: tuple[int, ...]
    pieces: int
    rejected: int
    lost: int
    lost_cents: int

    @property
    def usually_late(self) -> int:
        """The middle figure of the days late."""
        return sorted(self.days_late)[len(self.days_late) // 2] if self.days_late else 0


def firm_records(seat: Seat) -> list[FirmRecord]:
    """Every firm that had something of ours, by name."""
    query = (
        sa.select(Consignment)
        .join(Party, Party.id == Consignment.firm_id)
        .options(sa.orm.selectinload(Consignment.pieces), sa.orm.joinedload(Consignment.firm))
        .order_by(Party.name, Consignment.id)
    )
    with seat.look() as session:
        turned_down = _rejected(session)
        by_firm: dict[int, list[Consignment]] = {}
        for sent in session.scalars(query):
            by_firm.setdefault(sent.firm_id, []).append(sent)
        return [_record(sent, turned_down, seat.today) for sent in by_firm.values()]


def _rejected(session: sa.orm.Session) -> dict[int, int]:
    """By piece: how many were ever rejected."""
    query = (
        sa.select(PieceEvent.piece_id, sa.func.sum(PieceEvent.count))
        .where(PieceEvent.kind == "rejected")
        .group_by(PieceEvent.piece_id)
    )
    return {key: int(count) for key, count in session.execute(query)}


def _record(sent: list[Consignment], turned_down: dict[int, int], today: dt.date) -> FirmRecord:
    pieces = [piece for one in sent for piece in one.pieces]
    late = [days for one in sent if (days := _days_late(one, today)) is not None]
    return FirmRecord(
        sent[0].firm_id,
        sent[0].firm.name,
        len(sent),
        sum(_out(piece) for piece in pieces),
        tuple(late),
        sum(piece.count_out for piece in pieces),
        sum(turned_down.get(piece.id, 0) for piece in pieces),
        sum(piece.count_lost for piece in pieces),
        sum(piece.lost_cents for piece in pieces),
    )


def _out(piece: ConsignmentPiece) -> int:
    return 0 if piece.back_on else piece.count_out - piece.count_back - piece.count_lost


def _days_late(sent: Consignment, today: dt.date) -> int | None:
    """None while it is out and not due yet, or when no day was agreed."""
    if sent.expected_on is None:
        return None
    days = [piece.back_on for piece in sent.pieces if piece.back_on is not None]
    whole = len(days) == len(sent.pieces)
    if not whole and today <= sent.expected_on:
        return None
    last = max(days) if whole else today
    return max(0, (last - sent.expected_on).days)
