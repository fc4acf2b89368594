"""What was supposed is agreed to: written down together with the plan that was shown, or not at all."""

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action, may
from shopdesk.services.planning import promises
from shopdesk.services.planning.plans import write_pin, write_plan
from shopdesk.services.planning.suppose import HoldTask, MovePromise, Shut
from shopdesk.services.planning.what_if import Answer
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.plan import OutworkClosure
from shopdesk.storage.tables.ranges import Job
from shopdesk.wording import say

_ACTIONS = {HoldTask: Action.PLAN_BENCH, MovePromise: Action.PROMISE, Shut: Action.KEEP_HOURS}


def agree(seat: Seat, answer: Answer, why: str = "") -> None:
    """Holds a task, moves a promise (with `why`), or writes a closure down; where this person may plan,
    the plan shown is in force from now on. Taking in and hiring are agreed with people, not here.
    """
    supposed = answer.supposed
    action = _ACTIONS.get(type(supposed))
    if action is None:
        raise Problem("This can only be supposed. Agree it with the people it concerns, then plan again.")
    with seat.change(action) as work:
        if isinstance(supposed, HoldTask):
            write_pin(work, supposed.task_id, supposed.day, supposed.minute, supposed.staff_id)
            reason = say("a task was put elsewhere")
        elif isinstance(supposed, MovePromise):
            promises.record(seat, work, work.get(Job, supposed.job_id, "job"), supposed.on, why)
            reason = say("a promise was moved")
        else:
            assert isinstance(supposed, Shut)
            row = work.add(
                OutworkClosure(trade=supposed.trade, first_day=supposed.first_day, last_day=supposed.last_day)
            )
            work.about(row)
            reason = say("a firm outside is shut")
        if may(seat.acting.role, Action.PLAN_BENCH):
            write_plan(work, answer.made, reason)
