"""A range's log book is printed: it goes with the range to whoever has it next."""

import sqlalchemy as sa

from shopdesk.documents.papers import render
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.papers.log_book import log_book_facts
from shopdesk.services.seat import Seat
from shopdesk.services.shops import SERIES
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.wording import say

PAPER = "log book"


def preview_log_book(seat: Seat, range_id: int) -> bytes:
    """The book as it would print now; not kept."""
    with seat.look(Action.PRINT) as session:
        return render(log_book_facts(seat, session, session.get_one(Range, range_id), ""))


def print_log_book(seat: Seat, range_id: int) -> str:
    """Keeps the book as it stands today as a paper of the newest job; returns its number."""
    with seat.change(Action.PRINT) as work:
        range_ = work.get(Range, range_id, "range")
        job = work.session.scalars(
            sa.select(Job).where(Job.range_id == range_id).order_by(Job.id.desc()).limit(1)
        ).first()
        if job is None:
            raise Problem("{number} was never here. There is nothing to write down.", number=range_.number)
        number = work.take_number(PAPER, SERIES[PAPER])
        facts = log_book_facts(seat, work.session, range_, number)
        title = say("Log book {number}", number=number)
        paper = keep_paper(work, PAPER, number, title, facts, job_id=job.id)
        work.about(paper, job.id)
        return number
