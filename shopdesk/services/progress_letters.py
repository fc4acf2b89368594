"""The progress letter: drawn from the thread, changed by a person, kept as a paper, ready for the mail."""

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy.orm import Session

from shopdesk.documents.facts import ProgressLetterFacts
from shopdesk.documents.papers import render
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import settings
from shopdesk.services.papers.heads import party_facts, range_facts, shop_head
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.seat import Seat
from shopdesk.services.shops import SERIES
from shopdesk.services.standing_words import held_sentences, promise_words, stage_words
from shopdesk.services.where_it_stands import PROGRESS, Standing, standing_of_job
from shopdesk.services.work_pictures import WorkPicture, pictures_of, printed_photos
from shopdesk.storage.tables.counter import Letter
from shopdesk.storage.tables.ranges import Job
from shopdesk.wording import say

PAPER = "progress letter"
_MOST = 12  # things done that anyone reads in a letter
_PICTURES = 4


@dataclass(frozen=True, slots=True)
class ProgressDraft:
    """The letter as the thread tells it. A blank line parts paragraphs; "- " begins an entry of a list."""

    job_id: int
    number: str
    subject: str
    text: str
    pictures: tuple[WorkPicture, ...]  # of the work since the last letter; the last of them are offered
    chosen: tuple[int, ...]


def draft_progress(seat: Seat, job_id: int) -> ProgressDraft:
    """The letter to start from; nothing is written."""
    with seat.look(Action.WRITE_LETTER) as session:
        job = session.get_one(Job, job_id)
        _refuse_without_customer(job)
        standing = standing_of_job(seat, session, job)
        shop = settings.read(session, settings.ShopIdentity)
        pictures = _since_last(standing)
        return ProgressDraft(
            job_id, standing.number, _subject(standing), _text(seat, job, standing, shop), pictures,
            tuple(picture.id for picture in pictures[-_PICTURES:]),
        )  # fmt: skip


def preview_progress(seat: Seat, job_id: int, text: str, pictures: Sequence[int]) -> bytes:
    """The letter as it would print now, without a number and not kept."""
    with seat.look(Action.WRITE_LETTER) as session:
        return render(_facts(seat, session, session.get_one(Job, job_id), text, pictures, ""))


def write_progress(seat: Seat, job_id: int, text: str, pictures: Sequence[int]) -> str:
    """Writes the letter and keeps its paper; returns its number."""
    with seat.change(Action.WRITE_LETTER) as work:
        job = work.get(Job, job_id, "job")
        number = work.take_number(PAPER, SERIES[PAPER])
        facts = _facts(seat, work.session, job, text, pictures, number)
        title = say("Progress letter {number}", number=number)
        paper = keep_paper(work, PAPER, number, title, facts, job_id=job_id, party_id=job.customer_id)
        row = work.add(
            Letter(
                kind=PROGRESS, job_id=job_id, party_id=job.customer_id, on_day=seat.today, paper_id=paper.id
            )
        )
        work.session.flush()
        work.about(row, job_id)
        return number


def _refuse_without_customer(job: Job) -> None:
    if job.customer is None:
        raise Problem("{number} is the shop's own; nobody waits for a letter.", number=job.range.number)


def _facts(
    seat: Seat, session: Session, job: Job, text: str, pictures: Sequence[int], number: str
) -> ProgressLetterFacts:  # fmt: skip
    _refuse_without_customer(job)
    assert job.customer is not None, "refused above"
    paragraphs = tuple(part.strip() for part in text.replace("\r\n", "\n").split("\n\n") if part.strip())
    if not paragraphs:
        raise Problem("The letter is empty. Write what the customer should know.", field="text")
    known = {p.id: p for p in pictures_of(seat, session, job.range_id)}
    return ProgressLetterFacts(
        shop=shop_head(seat, session),
        number=number,
        day=seat.today,
        customer=party_facts(job.customer),
        subject=_subject(standing_of_job(seat, session, job)),
        paragraphs=paragraphs,
        range=range_facts(job.range, seat.region),
        photos=printed_photos(session, (known[key] for key in pictures if key in known)),
    )


def _since_last(standing: Standing) -> tuple[WorkPicture, ...]:
    """Pictures that came since the last letter, oldest first."""
    told_at = standing.told_at
    return tuple(p for p in reversed(standing.pictures) if told_at is None or p.taken_at > told_at)


def _subject(standing: Standing) -> str:
    return say("How your range is getting on: {name}", name=standing.name or standing.number)


def _text(seat: Seat, job: Job, standing: Standing, shop: settings.ShopIdentity) -> str:
    """Greeting, where it stands, what was done, what was found, what it waits for, the day, a close."""
    region = seat.region
    person = job.customer.contact or job.customer.name if job.customer else ""
    day = region.day_long(standing.since)
    done, left = standing.done[:_MOST], len(standing.done) - _MOST
    entries = [*done, *([say("and {count} more", count=left)] if left > 0 else [])]
    listed = "\n".join(f"- {entry}" for entry in entries)
    waits = (
        *held_sentences(seat.catalogue, region, standing.held),
        *promise_words(
            standing.promise.on_day, standing.promise.odds_percent, standing.promise.ready_50,
            standing.promise.ready_95, standing.stage, seat,
        ),
    )  # fmt: skip
    parts = [
        say("Good day {name},", name=person),
        say("here is how your range {name} ({number}) is getting on. {stands}", name=standing.name,
            number=standing.number, stands=stage_words(standing.stage, job.gone_on, region)),
        say("Done since {day}:", day=day) + "\n" + listed if entries else "",
        say("We found more than we knew of:") + "\n" + "\n".join(f"- {what}" for what in standing.found_more)
        if standing.found_more else "",
        " ".join(waits),
        say("If you want to see it or to ask something, call us: {phone}.", phone=shop.phone)
        if shop.phone else say("If you want to see it or to ask something, call us."),
    ]  # fmt: skip
    return "\n\n".join(part for part in parts if part)
