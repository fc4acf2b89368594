"""The ledger of what happened to pieces that were sent out; a firm's record is read from it."""

import datetime as dt

from shopdesk.services.seat import Seat
from shopdesk.storage.tables.stores import ConsignmentPiece, PieceEvent
from shopdesk.storage.unit_of_work import UnitOfWork


def note_event(
    work: UnitOfWork, seat: Seat, piece: ConsignmentPiece, kind: str, count: int, *,
    on: dt.date | None = None, cents: int = 0, note: str = "",
) -> None:  # fmt: skip
    """One thing that happened to a piece; a row is only ever added."""
    work.add(
        PieceEvent(
            piece_id=piece.id, on_day=on or seat.today, kind=kind, count=count, cents=cents, note=note,
            staff_id=seat.acting.staff_id,
        )
    )  # fmt: skip
