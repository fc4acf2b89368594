"""Papers that change nothing: the condition report of a walk-round and the traveller of a job."""

import sqlalchemy as sa

from shopdesk.documents.papers import render
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import stages, walks
from shopdesk.services.papers.condition_report import report_facts
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.papers.traveller import traveller_facts
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Paper
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.walk import WalkRound
from shopdesk.wording import say

REPORT = "condition report"
TRAVELLER = "traveller"


def print_condition_report(seat: Seat, walk_id: int) -> str:
    """Issues the condition report of a walk-round as it stands; returns its number.

    A later report of the same job names the one whose place it takes. The walk-round is not
    finished by it.
    """
    verdict = walks.judge_walk(seat, walk_id)
    with seat.change(Action.PRINT) as work:
        walk = work.get(WalkRound, walk_id, "walk-round")
        job = walk.job
        earlier = work.session.scalars(
            sa.select(Paper)
            .where(Paper.job_id == job.id, Paper.kind == REPORT)
            .order_by(Paper.id.desc())
            .limit(1)
        ).first()
        number = work.take_number(REPORT)
        replaces = earlier.number if earlier else ""
        facts = report_facts(seat, work.session, walk, number, verdict, replaces=replaces)
        paper = keep_paper(
            work,
            REPORT,
            number,
            say("Condition report {number}", number=number),
            facts,
            job_id=job.id,
            party_id=job.customer_id,
            corrects_id=earlier.id if earlier else None,
        )
        work.about(paper, job.id)
        return number


def preview_condition_report(seat: Seat, walk_id: int) -> bytes:
    """The report as it would print now, without a number and not kept."""
    verdict = walks.judge_walk(seat, walk_id)
    with seat.look(Action.PRINT) as session:
        walk = session.get_one(WalkRound, walk_id)
        return render(report_facts(seat, session, walk, say("preview"), verdict))


def print_traveller(seat: Seat, job_id: int) -> str:
    """Issues the work order for the bench as it stands; returns its number."""
    with seat.change(Action.PRINT) as work:
        job = work.get(Job, job_id, "job")
        if stages.tasks_of(work.session, job_id).first() is None:
            raise Problem("{number} has no tasks yet. Write its work order first.", number=job.range.number)
        number = work.take_number(TRAVELLER)
        facts = traveller_facts(seat, work.session, job, number)
        title = say("Traveller {number}", number=number)
        paper = keep_paper(work, TRAVELLER, number, title, facts, job_id=job_id, party_id=job.customer_id)
        work.about(paper, job_id)
        return number
