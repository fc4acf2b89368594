"""From findings to the tasks of one job, in order.

`roots` says what calls for work, `demand` what each of them pulls onto the order and how
often, `holds` what must wait for an answer, `arrange` the order, `plan` the whole;
`changes` compares two orders. Nothing here knows money spent, clocks or people.
"""

from shopdesk.domain.work.changes import Changes, TaskChange, changes
from shopdesk.domain.work.order import (
    ROUTINE,
    Cause,
    CauseKind,
    Hold,
    PlannedOutwork,
    PlannedPart,
    PlannedTask,
    WorkOrder,
)
from shopdesk.domain.work.plan import causes_by_task, plan_work, planned_alone, proofs_due
from shopdesk.domain.work.roots import Root

__all__ = [
    "ROUTINE",
    "Cause",
    "CauseKind",
    "Changes",
    "Hold",
    "PlannedOutwork",
    "PlannedPart",
    "PlannedTask",
    "Root",
    "TaskChange",
    "WorkOrder",
    "causes_by_task",
    "changes",
    "plan_work",
    "planned_alone",
    "proofs_due",
]
