"""A range comes back: a new job on it, at no charge within the warranty, and a paper of what was done."""

from dataclasses import replace

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action, require
from shopdesk.services import intake, stages
from shopdesk.services.comebacks import is_free
from shopdesk.services.intake import JobDraft, Taken
from shopdesk.services.invoice_drafts import WARRANTY, keep_draft
from shopdesk.services.pricing import for_customer, work_lines
from shopdesk.services.seat import Seat
from shopdesk.services.warranty_clock import warranty
from shopdesk.storage.tables.counter import Comeback
from shopdesk.storage.tables.ranges import Job
from shopdesk.wording import say


def come_back(seat: Seat, range_id: int, job: JobDraft, *, free: bool | None = None, why: str = "") -> Taken:
    """A range comes back: a new job on it, at no charge within the warranty unless somebody says otherwise.

    Free outside the clock is the owner's to give, with a reason.
    """
    standing = warranty(seat, range_id)
    at_no_charge = standing.standing if free is None else free
    if at_no_charge and not standing.standing:
        if not why.strip():
            raise Problem(
                "The warranty has run out. Say why it is done at no charge all the same.", field="why"
            )
        require(seat.acting, Action.WRITE_OFF)
    if standing.job_id is None:
        raise Problem("This range has not left the shop before; book it in as it is.")
    with seat.change(Action.BOOK_IN) as work:
        taken = intake.come_again(seat, work, range_id, job)
        row = work.add(
            Comeback(
                job_id=taken.job_id, of_job_id=standing.job_id, free=at_no_charge, why=why.strip()
            )
        )  # fmt: skip
        work.session.flush()
        work.about(row, taken.job_id)
        return taken


def draft_free_invoice(seat: Seat, job_id: int) -> int:
    """An invoice that comes to nothing over the work of a comeback: a paper of what was done and fitted.

    Each line is priced and taken off in full; some laws want the paper even where nothing is owed
    (16 CCR 2723 asks for it on warranty work).
    """
    with seat.change(Action.INVOICE) as work:
        job = work.get(Job, job_id, "job")
        if job.customer is None or not is_free(work.session, job_id):
            raise Problem("{number} is not done at no charge; bill it as agreed.", number=job.range.number)
        tasks = [task for task in stages.tasks_of(work.session, job_id) if task.done_share == 100]
        lines = for_customer(seat, job, work_lines(seat, work.session, tasks, job.customer))
        if not lines:
            raise Problem(
                "There is nothing to write on {number} yet: no task is ticked.", number=job.range.number
            )
        why = say("done at no charge, under warranty")
        free = [replace(line, adjust_cents=-line.full_cents, adjust_why=why) for line in lines]
        return keep_draft(seat, work, job, job.customer, free, basis=WARRANTY)
