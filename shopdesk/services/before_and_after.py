"""The before-and-after page of a range: a pair of pictures, chosen or the best there is, and few words."""

from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.documents.facts import BeforeAfterFacts
from shopdesk.documents.papers import render
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.drawing import compose
from shopdesk.services import stages
from shopdesk.services.papers.heads import shop_head
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.seat import Seat
from shopdesk.services.shops import SERIES
from shopdesk.services.work_pictures import When, WorkPicture, pictures_of, printed_photos
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.work import TaskCause
from shopdesk.wording import say

PAPER = "before and after"
_EDGE = 1800  # pixels; a framed page is looked at closely


@dataclass(frozen=True, slots=True)
class Pair:
    """Pictures to choose from, the best pair among them, and the words offered below."""

    job_id: int
    pictures: tuple[WorkPicture, ...]
    before: int
    after: int
    words: str


def best_pair(seat: Seat, range_id: int) -> Pair:
    """A finding and the newest picture of the work it led to; else the first and the last picture."""
    with seat.look() as session:
        range_ = session.get_one(Range, range_id)
        pictures = tuple(pictures_of(seat, session, range_id))
        _refuse_few(range_, len(pictures))
        before, after = _best(pictures, _led_to(seat, session, pictures))
        job = _job(session, range_id)
        return Pair(job.id, pictures, before.id, after.id, _words(seat, job))


def preview_pair(seat: Seat, range_id: int, before: int, after: int, words: str) -> bytes:
    """The page as it would be; not kept."""
    with seat.look(Action.PRINT) as session:
        return render(_facts(seat, session, range_id, before, after, words, ""))


def print_pair(seat: Seat, range_id: int, before: int, after: int, words: str) -> str:
    """Keeps the page as a paper of the range's newest job; returns its number."""
    with seat.change(Action.PRINT) as work:
        job = _job(work.session, range_id)
        number = work.take_number(PAPER, SERIES[PAPER])
        facts = _facts(seat, work.session, range_id, before, after, words, number)
        title = say("Before and after {number}", number=number)
        paper = keep_paper(work, PAPER, number, title, facts, job_id=job.id, party_id=job.customer_id)
        work.about(paper, job.id)
        return number


def _best(pictures: tuple[WorkPicture, ...], led_to: dict[str, set[str]]) -> tuple[WorkPicture, WorkPicture]:
    """`led_to`: by checkpoint, the tasks its findings brought."""
    later = [p for p in pictures if p.when is not When.BEFORE]
    for before in (p for p in pictures if p.when is When.BEFORE):
        same = [p for p in later if p.shows == before.shows or p.shows in led_to.get(before.shows, ())]
        if same:
            return before, same[-1]
    first = next((p for p in pictures if p.when is When.BEFORE), pictures[0])
    after = [p for p in pictures if p.when is When.AFTER and p.id != first.id]
    rest = after or [p for p in later if p.id != first.id] or [p for p in pictures if p.id != first.id]
    return first, rest[-1]


def _led_to(seat: Seat, session: Session, pictures: tuple[WorkPicture, ...]) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    points = seat.catalogue.checkpoints
    for job_id in {picture.job_id for picture in pictures}:
        for task in stages.tasks_of(session, job_id, with_causes=True):
            for cause in task.causes:
                point = cause.code.partition(".")[0]
                if _is_finding(cause) and point in points:
                    found.setdefault(points[point].name, set()).add(task.name)
    return found


def _is_finding(cause: TaskCause) -> bool:
    return cause.kind == "finding"


def _facts(
    seat: Seat, session: Session, range_id: int, before: int, after: int, words: str, number: str
) -> BeforeAfterFacts:  # fmt: skip
    range_ = session.get_one(Range, range_id)
    known = {p.id: p for p in pictures_of(seat, session, range_id)}
    _refuse_few(range_, len(known))
    if before not in known or after not in known:
        raise Problem("One of the pictures is no longer with this range. Choose again.", field="before")
    if before == after:
        raise Problem("Both pictures are the same one. Choose another for after.", field="after")
    first, second = printed_photos(session, (known[before], known[after]), edge=_EDGE)
    name = " ".join(word for word in (range_.maker, range_.model) if word) or range_.number
    return BeforeAfterFacts(
        shop=shop_head(seat, session), number=number, day=seat.today, name=name, words=words.strip(),
        before=first,
        after=second,
        drawing=compose(stages.build_of(_job(session, range_id)), "front"),
    )  # fmt: skip


def _refuse_few(range_: Range, count: int) -> None:
    if count < 2:
        raise Problem(
            "{number} has fewer than two pictures. Take one of how it is now, in its jacket.",
            number=range_.number,
        )


def _job(session: Session, range_id: int) -> Job:
    return session.scalars(
        sa.select(Job).where(Job.range_id == range_id).order_by(Job.id.desc()).limit(1)
    ).one()


def _words(seat: Seat, job: Job) -> str:
    """When it was made and when it was restored, as far as that is known."""
    done = job.gone_on or seat.today
    if job.range.made_about:
        return say("Made about {made}, restored {year}", made=job.range.made_about, year=done.year)
    return say("Restored {year}", year=done.year)
