"""Asking the customer for what came onto the order beside the agreement: it becomes a change order."""

from collections.abc import Sequence

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.agreed_lines import without_consent
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import ChangeOrder
from shopdesk.storage.tables.ranges import Job
from shopdesk.wording import say

_NAMED = 3  # tasks that a change order names in its line


def added_unasked(seat: Seat, job_id: int) -> list[tuple[int, str]]:
    """Tasks that came beside what is agreed and that nobody asked about yet, key and name, in order."""
    with seat.look() as session:
        return [(task.id, task.name) for task in without_consent(session, job_id)]


def ask_for_added(seat: Seat, job_id: int) -> int:
    """Puts all of them on one change order for the counter to price; returns its key.

    They wait until the customer agrees to it, and are billable from then on; declined, they are off
    the order. Hours and parts already on them are kept and named not billable until then.
    """
    with seat.change(Action.FIND_MORE) as work:
        job = work.get(Job, job_id, "job")
        tasks = without_consent(work.session, job_id)
        if not tasks:
            raise Problem("Nothing was added to {number} beside what is agreed.", number=job.range.number)
        change = work.add(
            ChangeOrder(
                job_id=job_id,
                number=work.take_number("change order"),
                found_on=seat.today,
                found_by_id=seat.acting.staff_id,
                what=_names([task.name for task in tasks]),
            )
        )
        work.session.flush()
        for task in tasks:
            task.change_order_id = change.id
        work.session.flush()
        work.about(change, job_id)
        return change.id


def _names(names: Sequence[str]) -> str:
    listed = "; ".join(names[:_NAMED])
    more = len(names) - _NAMED
    return say("{tasks}, and {count} more", tasks=listed, count=more) if more > 0 else listed
