"""Tasks that bring a part: taking it off a donor, or making it. They stand before the task that needs it."""

from collections.abc import Iterable

from shopdesk.domain.money import Spread
from shopdesk.services.order_places import settle_places
from shopdesk.storage.tables.work import Task, TaskAfter, TaskCause
from shopdesk.storage.unit_of_work import UnitOfWork


def task_before(
    work: UnitOfWork, needing: Task, name: str, minutes: Spread, *, note: str = "",
    hazards: Iterable[str] = (), station: str = "bench",
) -> Task:  # fmt: skip
    """A new task on the same order that `needing` waits for; its cause is the task that needs it."""
    order = needing.work_order
    task = Task(
        work_order_id=order.id, name=name, place=needing.place, stage=needing.stage, station=station,
        note=note, minutes_low=minutes.low, minutes_likely=minutes.likely, minutes_high=minutes.high,
        skills=[], hazards=list(hazards), proofs=[], holds=[], by_hand=[],
        change_order_id=needing.change_order_id,
    )  # fmt: skip
    if needing.code:
        task.causes.append(TaskCause(kind="task", code=needing.code))
    else:
        task.causes.append(TaskCause(kind="hand", code=""))
    order.tasks.append(task)
    work.session.flush()
    needing.after.append(TaskAfter(after_task_id=task.id))
    work.session.flush()
    settle_places(order)
    return task
