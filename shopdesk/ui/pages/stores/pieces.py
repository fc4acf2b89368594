"""The rows of Outwork: pieces that are out or back, and tasks whose pieces are still to be sent."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from shopdesk.services.outwork import ConsignmentRow, PieceRow
from shopdesk.services.storeroom import OutworkTask
from shopdesk.ui.pages.stores.standing import LATE, Standing, of_outwork_task, of_piece
from shopdesk.wording import Region, say

_RANK = {LATE: 0, "rejected": 1, "to send": 2, "part": 3, "out": 3, "waits": 4, "back": 5, "lost": 5}


@dataclass(frozen=True, slots=True)
class OutworkRow:
    """Either a piece of a consignment or a task to be sent for; the other is None."""

    standing: Standing
    piece: PieceRow | None
    sent: ConsignmentRow | None
    task: OutworkTask | None

    @property
    def key(self) -> tuple[str, int]:
        if self.piece is not None:
            return ("piece", self.piece.id)
        return ("task", self.task.task_id if self.task else 0)

    @property
    def name(self) -> str:
        return self.piece.name if self.piece else self.task.name if self.task else ""

    @property
    def range_number(self) -> str:
        return self.piece.range_number if self.piece else self.task.range_number if self.task else ""

    @property
    def firm(self) -> str:
        """The firm it is at, or the trade it is for."""
        return self.sent.firm if self.sent else say(self.task.trade) if self.task else ""

    @property
    def number(self) -> str:
        return self.sent.number if self.sent else ""

    @property
    def expected_on(self) -> dt.date | None:
        return self.sent.expected_on if self.sent else None

    @property
    def count(self) -> str:
        """`1 of 3 back`, or how many are to go."""
        if self.piece is not None:
            return say("{back} of {out} back", back=self.piece.count_back, out=self.piece.count_out)
        return str(self.task.count) if self.task else ""


def outwork_rows(
    tasks: Iterable[OutworkTask], sent: Iterable[ConsignmentRow], today: dt.date
) -> list[OutworkRow]:
    """Late first, then rejected, to be sent, out, what waits, back."""
    rows = [OutworkRow(of_outwork_task(task), None, None, task) for task in tasks]
    for consignment in sent:
        rows += [
            OutworkRow(of_piece(consignment, piece, today), piece, consignment, None)
            for piece in consignment.pieces
        ]
    return sorted(rows, key=lambda row: _RANK[row.standing.key])


def story(row: OutworkRow, region: Region, today: dt.date) -> str:
    """What a row is, in sentences."""
    if row.piece is not None and row.sent is not None:
        piece, sent = row.piece, row.sent
        parts = [
            say("{number} to {firm}, sent {day}.", number=sent.number, firm=sent.firm,
                day=region.day_short(sent.sent_on, today)),
        ]  # fmt: skip
        if sent.expected_on is not None:
            parts.append(say("Expected back {day}.", day=region.day_short(sent.expected_on, today)))
        if piece.base_metal:
            parts.append(say("Base metal: {metal}.", metal=piece.base_metal))
        if piece.finish:
            parts.append(say("Finish wanted: {finish}.", finish=piece.finish))
        if piece.insured_cents:
            parts.append(say("Insured for {money}.", money=region.money(piece.insured_cents)))
        parts.append(say("{count}.", count=row.count))
        if piece.rejected:
            parts.append(say("{count} rejected.", count=piece.rejected))
        if piece.lost:
            parts.append(say("{count} lost, worth {money}: {why}.", count=piece.lost,
                             money=region.money(piece.lost_cents), why=piece.lost_because))  # fmt: skip
        if sent.bill_cents is not None:
            parts.append(say("Bill {number}: {money}.", number=sent.bill_number,
                             money=region.money(sent.bill_cents)))  # fmt: skip
        parts.append(say("For {number}: {task}.", number=piece.range_number, task=piece.task))
        return " ".join(parts)
    task = row.task
    assert task is not None
    parts = [say("For {number}. About {days} days away.", number=task.range_number, days=task.days)]
    if task.waits:
        parts.append(
            say("Before it: {names}.", names=", ".join(wait.what or say(wait.kind) for wait in task.waits))
        )
    return " ".join(parts)
