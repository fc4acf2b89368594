"""The ways from the current task to other rooms: jacket, proofs, gas bench, tags, card, work order."""

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from shopdesk.ui.context import Context
    from shopdesk.ui.pages.bench.shown import TaskRow


class Ways:
    """`current` answers the task the keyboard is on."""

    def __init__(self, context: "Context", current: Callable[[], "TaskRow | None"]) -> None:
        self._context, self._current = context, current

    def jacket(self) -> None:
        row = self._current()
        if row is not None:
            self._context.open_jacket(row.task.range_id)

    def order(self) -> None:
        """The work order in the range's jacket."""
        row = self._current()
        if row is not None:
            self._context.go("jacket", range_id=row.task.range_id, job_id=row.task.job_id, section="order",
                             task_id=row.task.id)  # fmt: skip

    def proofs(self) -> None:
        """The proofs of the task's range; at a task of proving the form of its first proof."""
        row = self._current()
        if row is None:
            return
        known = self._context.seat.catalogue.tasks.get(row.task.code)
        proofs = known.proofs if known is not None and row.task.stage == "proving" else ()
        kind = {"kind": proofs[0]} if proofs else {}
        self._context.go("proving", job_id=row.task.job_id, **kind)

    def gas_bench(self) -> None:
        """The gas bench for the task's range, or by itself."""
        row = self._current()
        what = {"range_id": row.task.range_id} if row is not None else {}
        self._context.go("gas-bench", **what)

    def tags(self) -> None:
        """What is where, of the task's range first."""
        row = self._current()
        what = {"job_id": row.task.job_id} if row is not None else {}
        self._context.go("tags", **what)

    def card(self) -> None:
        """The thermostat card of the task's job."""
        row = self._current()
        if row is not None:
            self._context.go("thermostat-card", job_id=row.task.job_id)
