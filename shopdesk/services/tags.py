"""What came off a range: tagged, found again by where it lies, counted out and back, put back.

Nothing is called ready while a tag is still out.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.drawing.names import PART_IDS
from shopdesk.services import bench
from shopdesk.services.seat import Seat
from shopdesk.services.tag_words import lies_words, out_of, place_words, sent_with
from shopdesk.storage.tables.bench import Tag
from shopdesk.storage.tables.ranges import Job, PhotographUse, Range
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.work import Task
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say


@dataclass(frozen=True, slots=True, kw_only=True)
class TagDraft:
    """What was taken off: `goes_back` is a part of the drawing, or empty with words instead."""

    what: str
    how_many: int = 1
    goes_back: str = ""
    goes_back_words: str = ""
    lies_at: str = ""
    task_id: int | None = None  # the task that took it off


@dataclass(frozen=True, slots=True)
class TagRow:
    """A tag as lists show it; `lies_at` names the firm while the piece is out.

    `standing` is out (of the range), sent (to another trade), back, or not back.
    """

    id: int
    number: str
    job_id: int
    range_number: str
    what: str
    how_many: int
    goes_back: str
    lies_at: str
    taken_off_at: dt.datetime
    taken_off_by: str
    task_id: int | None
    task: str
    consignment: str
    back_at: dt.datetime | None
    back_by: str
    standing: str
    not_back_because: str
    pictures: int

    @property
    def qr(self) -> str:
        return f"shopdesk:tag/{self.number}"


def tag_off(seat: Seat, job_id: int, draft: TagDraft) -> int:
    """Tags something taken off a range; returns the tag's key. A release given before lapses."""
    _check(draft)
    with seat.change(Action.TAG) as work:
        job = work.get(Job, job_id, "job")
        if job.gone_on is not None or job.ended_as:
            raise Problem("{number} is not in the shop; nothing is taken off it.", number=job.range.number)
        if draft.task_id is not None:
            _task_of(work, job, draft.task_id)
        tag = work.add(
            Tag(
                number=work.take_number("tag"),
                job_id=job_id,
                what=draft.what.strip(),
                how_many=draft.how_many,
                goes_back=draft.goes_back,
                goes_back_words=draft.goes_back_words.strip(),
                lies_at=draft.lies_at.strip(),
                task_id=draft.task_id,
                taken_off_at=work.now,
                taken_off_by_id=seat.acting.staff_id,
            )
        )
        bench.lapse_release(work, job_id, say("{tag} taken off: {what}", tag=tag.number, what=tag.what))
        work.session.flush()
        work.about(tag, job_id)
        return tag.id


def change_tag(seat: Seat, tag_id: int, draft: TagDraft) -> None:
    """Corrects what a tag says while it is out; what was counted out stays counted."""
    _check(draft)
    with seat.change(Action.TAG) as work:
        tag = _out(work, tag_id)
        if draft.task_id is not None:
            _task_of(work, tag.job, draft.task_id)
        if tag.piece_id is not None and draft.how_many != tag.how_many:
            raise Problem(
                "{tag} was counted out with a consignment; its count stays.", tag=tag.number, field="how_many"
            )
        tag.what, tag.how_many, tag.lies_at = draft.what.strip(), draft.how_many, draft.lies_at.strip()
        tag.goes_back, tag.goes_back_words = draft.goes_back, draft.goes_back_words.strip()
        tag.task_id = draft.task_id
        work.about(tag, tag.job_id)


def move_tag(seat: Seat, tag_id: int, to: str) -> None:
    """It lies somewhere else now."""
    if not to.strip():
        raise Problem("Say where it lies now: a shelf, a tray, a box.", field="to")
    with seat.change(Action.KEEP_STORES) as work:
        tag = _out(work, tag_id)
        tag.lies_at = to.strip()
        work.about(tag, tag.job_id)


def put_back(seat: Seat, tag_id: int, how_many: int) -> None:
    """What a tag names is on its range again, all of it counted."""
    with seat.change(Action.TAG) as work:
        tag = _out(work, tag_id)
        _refuse_if_sent(tag)
        if how_many != tag.how_many:
            raise Problem(
                "{tag} says {count} × {what}; {given} were counted. Look for the rest, or correct the tag.",
                field="how_many", tag=tag.number, count=tag.how_many, what=tag.what, given=how_many,
            )  # fmt: skip
        tag.back_at, tag.back_by_id = work.now, seat.acting.staff_id
        work.about(tag, tag.job_id)


def not_put_back(seat: Seat, tag_id: int, because: str) -> None:
    """It never goes back: replaced, scrapped, given to the customer."""
    if not because.strip():
        raise Problem("Say what became of it instead.", field="because")
    with seat.change(Action.TAG) as work:
        tag = _out(work, tag_id)
        _refuse_if_sent(tag)
        tag.back_at, tag.back_by_id, tag.not_back_because = work.now, seat.acting.staff_id, because.strip()
        work.about(tag, tag.job_id)


def take_off_again(seat: Seat, tag_id: int, lies_at: str = "") -> None:
    """What was put back is off again, under its old tag; a release given before lapses."""
    with seat.change(Action.TAG) as work:
        tag = work.get(Tag, tag_id, "tag")
        if tag.back_at is None:
            raise Problem("{tag} is off already.", tag=tag.number)
        tag.back_at, tag.back_by_id, tag.not_back_because = None, None, ""
        tag.piece_id = None  # a later journey to another trade is another piece
        tag.lies_at = lies_at.strip() or tag.lies_at
        bench.lapse_release(work, tag.job_id, say("{tag} taken off: {what}", tag=tag.number, what=tag.what))
        work.about(tag, tag.job_id)


def tags(seat: Seat, *, job_id: int | None = None, out_only: bool = False, limit: int = 500) -> list[TagRow]:
    """What is where: open tags first, by range, then by number."""
    query = sa.select(Tag).order_by(Tag.back_at.is_not(None), Tag.job_id, Tag.id).limit(limit)
    if job_id is not None:
        query = query.where(Tag.job_id == job_id)
    if out_only:
        query = query.where(Tag.back_at.is_(None))
    with seat.look() as session:
        return _rows(session, query)


def find_tag(seat: Seat, number: str) -> TagRow:
    """A tag by its number, or by what its QR code says."""
    wanted = number.strip().removeprefix("shopdesk:tag/").upper()
    with seat.look() as session:
        found = _rows(session, sa.select(Tag).where(sa.func.upper(Tag.number) == wanted))
    if not found:
        raise Problem("There is no tag {number} in this shop.", number=wanted, field="number")
    return found[0]


def refuse_while_out(session: Session, job: Job) -> None:
    """Refuses to call a range ready while something of it still lies elsewhere."""
    out = out_of(session, job.id)
    if out:
        raise Problem(
            "{number} is not whole: {tags} still out. Put them back, or say what became of them.",
            number=job.range.number,
            tags=", ".join(f"{t.number} ({t.what})" for t in out),
        )


def _rows(session: Session, query: sa.Select[Tag]) -> list[TagRow]:
    found = list(session.scalars(query))
    staff = dict(session.execute(sa.select(Staff.id, Staff.name)).all())
    numbers = _numbers(session, {t.job_id for t in found})
    pictures = _pictures(session, [t.id for t in found])
    return [_row(t, staff, numbers[t.job_id], pictures.get(t.id, 0)) for t in found]


def _row(tag: Tag, staff: dict[int, str], range_number: str, pictures: int) -> TagRow:
    sent = sent_with(tag) is not None
    consignment = tag.piece.consignment if tag.piece else None
    closed = "not back" if tag.not_back_because else "back"
    return TagRow(
        id=tag.id, number=tag.number, job_id=tag.job_id, range_number=range_number, what=tag.what,
        how_many=tag.how_many, goes_back=place_words(tag), lies_at=lies_words(tag),
        taken_off_at=tag.taken_off_at,
        taken_off_by=staff.get(tag.taken_off_by_id, ""), task_id=tag.task_id,
        task=tag.task.name if tag.task else "", consignment=consignment.number if consignment else "",
        back_at=tag.back_at, back_by=staff.get(tag.back_by_id or 0, ""),
        standing=closed if tag.back_at else "sent" if sent else "out",
        not_back_because=tag.not_back_because, pictures=pictures,
    )  # fmt: skip


def _numbers(session: Session, jobs: Iterable[int]) -> dict[int, str]:
    query = sa.select(Job.id, Range.number).join(Range).where(Job.id.in_(jobs))
    return dict(session.execute(query).all())


def _pictures(session: Session, keys: list[int]) -> dict[int, int]:
    query = (
        sa.select(PhotographUse.tag_id, sa.func.count())
        .where(PhotographUse.tag_id.in_(keys))
        .group_by(PhotographUse.tag_id)
    )
    return {key or 0: count for key, count in session.execute(query)}


def _check(draft: TagDraft) -> None:
    if not draft.what.strip():
        raise Problem("Say what came off, such as “oven-door screws”.", field="what")
    if not 1 <= draft.how_many <= 9999:
        raise Problem("Count what came off; a tag stands for one piece or more.", field="how_many")
    if draft.goes_back and draft.goes_back not in PART_IDS:
        raise Problem("“{part}” is no part of the drawing.", field="goes_back", part=draft.goes_back)
    if not draft.goes_back and not draft.goes_back_words.strip():
        raise Problem("Say where it goes back; in a year nobody remembers.", field="goes_back")


def _task_of(work: UnitOfWork, job: Job, task_id: int) -> Task:
    task = work.get(Task, task_id, "task")
    if task.work_order.job_id != job.id:
        raise Problem(
            "“{task}” is not on the work order of {number}.", task=task.name, number=job.range.number
        )
    return task


def _out(work: UnitOfWork, tag_id: int) -> Tag:
    tag = work.get(Tag, tag_id, "tag")
    if tag.back_at is not None:
        raise Problem("{tag} is back already; take it off again first.", tag=tag.number)
    return tag


def _refuse_if_sent(tag: Tag) -> None:
    sent = sent_with(tag)
    if sent is not None:
        raise Problem(
            "{tag} is with {firm} ({number}). Count it back at Stores first.",
            tag=tag.number, firm=sent.firm.name, number=sent.number,
        )  # fmt: skip
