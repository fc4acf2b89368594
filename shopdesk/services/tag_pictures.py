"""Pictures of what came off, and those of taking apart played backwards when it is put together."""

from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.exchange.pictures import take_in
from shopdesk.services import intake
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.bench import Tag
from shopdesk.storage.tables.ranges import Photograph, PhotographUse
from shopdesk.storage.tables.work import Task, TaskAfter


@dataclass(frozen=True, slots=True)
class TagPicture:
    """A picture of what came off; `thumbnail` is JPEG bytes, `of` the tag's number or the task."""

    photograph_id: int
    of: str
    caption: str
    thumbnail: bytes


def photograph_tag(seat: Seat, tag_id: int, data: bytes, name: str, *, caption: str = "") -> int:
    """Keeps a picture as it was brought with its tag, its task and its range; returns its key."""
    with seat.look() as session:
        tag = session.get_one(Tag, tag_id)
        range_id, task_id, what = tag.job.range_id, tag.task_id, tag.what
    return intake.attach_photograph(
        seat, range_id, take_in(data, name), task_id=task_id, tag_id=tag_id, caption=caption.strip() or what
    )


def tag_pictures(seat: Seat, tag_id: int) -> list[TagPicture]:
    """The pictures of one tag, oldest first."""
    query = (
        sa.select(Photograph.id, Tag.number, PhotographUse.caption, Photograph.thumbnail)
        .join(PhotographUse, PhotographUse.photograph_id == Photograph.id)
        .join(Tag, Tag.id == PhotographUse.tag_id)
        .where(Tag.id == tag_id)
        .order_by(PhotographUse.id)
    )
    with seat.look() as session:
        return [TagPicture(*row) for row in session.execute(query)]


def teardown_pictures(seat: Seat, task_id: int) -> list[TagPicture]:
    """Pictures of the teardown that a task stands after, the last one taken first.

    Those of the teardown tasks it waits for, however far back, and of what these took off;
    for a task that waits for no teardown all of the order's.
    """
    with seat.look() as session:
        torn = _torn(session, session.get_one(Task, task_id))
        query = (
            sa.select(Photograph.id, Tag.number, Task.name, PhotographUse.caption, Photograph.thumbnail)
            .join(PhotographUse, PhotographUse.photograph_id == Photograph.id)
            .outerjoin(Tag, Tag.id == PhotographUse.tag_id)
            .join(Task, Task.id == sa.func.coalesce(PhotographUse.task_id, Tag.task_id))
            .where(Task.id.in_(torn))
            .order_by(PhotographUse.id.desc())
        )
        return [
            TagPicture(key, number or name, caption, thumbnail)
            for key, number, name, caption, thumbnail in session.execute(query)
        ]


def _torn(session: Session, task: Task) -> set[int]:
    """The teardown tasks behind a task, else every one of its order."""
    query = sa.select(Task.id).where(Task.work_order_id == task.work_order_id, Task.stage == "teardown")
    every = set(session.scalars(query))
    before: dict[int, list[int]] = {}
    for key, earlier in session.execute(
        sa.select(TaskAfter.task_id, TaskAfter.after_task_id)
        .join(Task, Task.id == TaskAfter.task_id)
        .where(Task.work_order_id == task.work_order_id)
    ):
        before.setdefault(key, []).append(earlier)
    seen: set[int] = set()
    ahead = [task.id]
    while ahead:
        for earlier in before.get(ahead.pop(), ()):
            if earlier not in seen:
                seen.add(earlier)
                ahead.append(earlier)
    return (seen & every) or every
