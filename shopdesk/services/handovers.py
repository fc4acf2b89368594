"""A range leaves the shop: released, or disconnected and red-tagged; the papers that go with it."""

import datetime as dt

from sqlalchemy.orm import Session

from shopdesk.domain import proving
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import bench, stages, tags, warranty_clock
from shopdesk.services.papers.hand_over import hand_over_facts
from shopdesk.services.papers.intake_receipt import intake_receipt_facts
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.proving import Release
from shopdesk.storage.tables.ranges import Job
from shopdesk.wording import say


def hand_over(seat: Seat, job_id: int, *, on: dt.date | None = None, red_tagged: bool = False) -> str:
    """The range goes out with its hand-over sheet; returns the sheet's number.

    Without a standing release it leaves only disconnected and red-tagged, and every paper
    says so.
    """
    with seat.change(Action.HAND_OVER) as work:
        job = work.get(Job, job_id, "job")
        if job.gone_on is not None:
            raise Problem("{number} has left already.", number=job.range.number)
        given = stages.last_release(work.session, job_id)
        if not red_tagged and (given is None or given.lapsed_at is not None):
            raise Problem(
                "{number} has no release that stands. Release it first, or hand it over disconnected and "
                "red-tagged.",
                number=job.range.number,
            )
        if not red_tagged and given is not None:
            tags.refuse_while_out(work.session, job)
            _refuse_unproved(seat, work.session, job, given)
        job.gone_on = on or seat.today
        job.red_tagged = red_tagged
        if job.customer_id is not None and not job.ended_as:
            warranty_clock.begin(work.session, job, job.gone_on)
        number = work.take_number("hand-over sheet")
        facts = hand_over_facts(seat, work.session, job, number)
        title = say("Hand-over sheet {number}", number=number)
        keep_paper(work, "hand-over sheet", number, title, facts, job_id=job_id, party_id=job.customer_id)
        work.about(job, job_id)
        return number


def _refuse_unproved(seat: Seat, session: Session, job: Job, release: Release) -> None:
    """A release speaks for the proofs that stood when it was given; one that is due since stops it."""
    lacking = proving.unsigned(stages.proofs_missing(session, seat.catalogue, job), release.without)
    if lacking:
        raise Problem(
            "{number} was released, but {proofs} is due again. Prove it and release it anew, or hand it "
            "over disconnected and red-tagged.",
            number=job.range.number,
            proofs=", ".join(kind.name for kind in lacking),
        )


def moved(seat: Seat, job_id: int, to: str) -> None:
    """The range was moved inside the shop; a release given before lapses."""
    with seat.change(Action.WORK) as work:
        job = work.get(Job, job_id, "job")
        job.range.stands_at = to.strip()
        bench.lapse_release(work, job_id, say("moved to {place}", place=to.strip() or "?"))
        work.about(job.range, job_id)


def print_intake_receipt(seat: Seat, job_id: int) -> str:
    """The paper a customer takes home when the range comes in; returns its number."""
    with seat.change(Action.BOOK_IN) as work:
        job = work.get(Job, job_id, "job")
        if job.customer is None:
            raise Problem("{number} is the shop's own; nobody needs a receipt.", number=job.range.number)
        number = work.take_number("intake receipt")
        facts = intake_receipt_facts(seat, work.session, job, number)
        title = say("Intake receipt {number}", number=number)
        paper = keep_paper(
            work, "intake receipt", number, title, facts, job_id=job_id, party_id=job.customer_id
        )
        work.about(paper, job_id)
        return number
