"""The pictures of a range: what is kept, small enough for a strip; new ones; changes over an original."""

from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.picture_changes import PictureChanges, as_kept, from_kept
from shopdesk.domain.rights import Action
from shopdesk.exchange.marked_pictures import redrawn
from shopdesk.exchange.pictures import take_in
from shopdesk.services import intake
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.ranges import Photograph, PhotographEdit, PhotographUse, Range


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


@dataclass(frozen=True, slots=True)
class AsTaken:
    """A picture's untouched original, and what was changed over it to make the one that is shown."""

    original_id: int
    data: bytes
    changes: PictureChanges


def as_taken(seat: Seat, photograph_id: int) -> AsTaken:
    """The original of a picture; of an unchanged one itself."""
    with seat.look() as session:
        original_id, changes = _original(session, photograph_id)
        return AsTaken(original_id, session.get_one(Photograph, original_id).data, changes)


def change_picture(seat: Seat, range_id: int, photograph_id: int, changes: PictureChanges) -> int:
    """Shows a picture of a range turned, cropped and marked from now on; returns the shown one's key.

    The original stays as it came; no changes at all bring it back.
    """
    with seat.look() as session:
        original_id, _ = _original(session, photograph_id)
        original = session.get_one(Photograph, original_id).data
    drawn = None if changes.none else redrawn(original, changes)
    with seat.change(Action.KEEP_STORES) as work:
        row = work.get(Range, range_id, "range")
        shown = original_id
        if drawn is not None:
            shown = intake.keep_picture(work, drawn).id
            if shown != original_id and not _is_change(work.session, shown):
                work.add(
                    PhotographEdit(
                        photograph_id=shown, original_id=original_id, changes=as_kept(changes), at=work.now
                    )
                )
        uses = work.session.scalars(
            sa.select(PhotographUse).where(
                PhotographUse.range_id == range_id, PhotographUse.photograph_id == photograph_id
            )
        )
        for use in uses:
            use.photograph_id = shown
            work.session.flush()
        work.about(row, row.jobs[-1].id if row.jobs else None)
        return shown


def _original(session: Session, photograph_id: int) -> tuple[int, PictureChanges]:
    edit = session.scalar(sa.select(PhotographEdit).where(PhotographEdit.photograph_id == photograph_id))
    if edit is None:
        return photograph_id, PictureChanges()
    return edit.original_id, from_kept(edit.changes)


def _is_change(session: Session, photograph_id: int) -> bool:
    found = session.scalar(sa.select(PhotographEdit.id).where(PhotographEdit.photograph_id == photograph_id))
    return found is not None
