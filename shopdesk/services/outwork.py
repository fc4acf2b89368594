"""Outwork: pieces sent to platers, enamellers and others, counted out and counted back."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.domain.money import marked_up
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import settings
from shopdesk.services.seat import Seat
from shopdesk.services.thermostat_card import refuse_tasks_without_card
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.stores import Consignment, ConsignmentPiece
from shopdesk.storage.tables.work import Task


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceDraft:
    """A piece to be sent out for a task; `cost_cents` for all of its count."""

    task_id: int
    name: str
    count: int = 1
    base_metal: str = ""
    finish: str = ""
    cost_cents: int = 0
    insured_cents: int = 0


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


@dataclass(frozen=True, slots=True)
class ConsignmentRow:
    """A consignment; `standing` is out, late, part back, back."""

    id: int
    number: str
    firm: str
    sent_on: dt.date
    expected_on: dt.date | None
    standing: str
    pieces: tuple[PieceRow, ...]


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
    if any(p.count < 1 for p in pieces):
        raise Problem("Count every piece out; a count is one or more.", field="pieces")
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
                    cost_cents=piece.cost_cents,
                    price_cents=marked_up(piece.cost_cents, handling),
                    insured_cents=piece.insured_cents,
                )
            )
            work.jobs.add(task.work_order.job_id)
        work.session.flush()
        work.about(sent)
        return sent.id


def take_back(
    seat: Seat,
    piece_id: int,
    count: int,
    *,
    accepted: bool = True,
    on: dt.date | None = None,
    cost_cents: int | None = None,
) -> None:
    """Counts a piece back and accepts or rejects it.

    It is still out while some of it is missing, or while it is rejected and not redone.
    """
    if cost_cents is not None and cost_cents < 0:
        raise Problem("A cost is zero or more.", field="cost")
    with seat.change(Action.SEND_OUT) as work:
        piece = work.get(ConsignmentPiece, piece_id, "piece")
        if not (0 if not accepted else 1) <= count <= piece.count_out:
            raise Problem(
                "{count} came back of {out} sent out; count again.",
                field="count",
                count=count,
                out=piece.count_out,
            )
        piece.count_back = count
        whole = accepted and count == piece.count_out
        piece.accepted = "accepted" if whole else "" if accepted else "rejected"
        piece.back_on = (on or seat.today) if whole else None
        if cost_cents is not None:
            handling = settings.read(work.session, settings.Terms).outwork_handling_percent
            piece.cost_cents, piece.price_cents = cost_cents, marked_up(cost_cents, handling)
        work.about(piece, piece.task.work_order.job_id)


def consignments(seat: Seat, *, out_only: bool = False, limit: int = 200) -> list[ConsignmentRow]:
    """Consignments, newest first."""
    query = (
        sa.select(Consignment)
        .options(sa.orm.joinedload(Consignment.firm), sa.orm.selectinload(Consignment.pieces))
        .order_by(Consignment.id.desc())
        .limit(limit)
    )
    with seat.look() as session:
        rows = [_row(sent, seat.today) for sent in session.scalars(query)]
    return [r for r in rows if not out_only or r.standing != "back"]


def _row(sent: Consignment, today: dt.date) -> ConsignmentRow:
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
        sent.id, sent.number, sent.firm.name, sent.sent_on, sent.expected_on, standing, pieces
    )
