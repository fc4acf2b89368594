"""The tick and the clock of the Bench, and what was refused of them. Belongs to one page."""

from typing import TYPE_CHECKING, Any

from shopdesk.domain.problem import Problem
from shopdesk.services import bench, cautions
from shopdesk.wording import say, say_problem

if TYPE_CHECKING:
    from shopdesk.ui.pages.bench.page import BenchPage
    from shopdesk.ui.pages.bench.shown import TaskRow


class Acts:
    """Ticks, takes ticks back, starts and stops the clock; `refused` is told beside its task."""

    def __init__(self, page: "BenchPage") -> None:
        self._page = page
        self.refused: dict[int, str] = {}
        self._last_ticked: int | None = None

    def tick(self) -> None:
        """Ticks the current task, or takes its tick back; refused while its cautions are unread."""
        row = self._page.current()
        if row is not None:
            self._tick(row, 0 if row.done else 100)

    def take_back(self) -> None:
        """Takes the tick of the current task back, or the one set last."""
        row = self._page.current()
        if row is not None and row.done:
            self._tick(row, 0)
        elif self._last_ticked is not None:
            self._untick(self._last_ticked)

    def toggle_clock(self) -> None:
        """Starts the clock on the current task, or stops the one that runs on it."""
        page = self._page
        row, clock = page.current(), page.running
        if clock is not None and (row is None or row.task.id == clock.task_id):
            if page.clock.asks:
                page.clock.focusFirst()
                return
            self.stop_clock(None)
        elif row is not None and not row.done:
            task = row.task
            page.do(lambda seat: bench.clock_on(seat, task.id), failed=lambda p: self.refuse(task.id, p),
                    changes=("jobs", f"job {task.job_id}"))  # fmt: skip

    def stop_clock(self, until: Any) -> None:
        """Stops the running clock, now or at an instant, and says what it made."""
        page, clock = self._page, self._page.running
        if clock is None:
            return

        def stands(minutes: int) -> None:
            page.context.tell(
                say("{number}: {hours} on “{task}”.", number=clock.range_number, task=clock.task_name,
                    hours=page.context.region.hours(minutes))
            )  # fmt: skip
            page.list.focusFirst()

        page.do(lambda seat: bench.clock_off(seat, until=until), stands, page.clock.show_problem,
                changes=("jobs", f"job {clock.job_id}"))  # fmt: skip

    def read(self) -> None:
        """This person has read the cautions of the current task; it counts for every task of its kind."""
        row = self._page.current()
        if row is None or not row.task.hazards:
            return
        task = row.task

        def stands(_nothing: None) -> None:
            self.refused.pop(task.id, None)

        self._page.do(lambda seat: cautions.acknowledge(seat, task.id), stands,
                      lambda p: self.refuse(task.id, p), changes=("jobs", f"job {task.job_id}"))  # fmt: skip

    def refuse(self, task_id: int, problem: Problem) -> None:
        """A refusal stands beside its task."""
        self.refused[task_id] = say_problem(problem)
        self._page.show_rows()

    def forget(self) -> None:
        """Another person acts, or all is read anew: nothing was refused yet."""
        self.refused.clear()

    def forget_others(self) -> None:
        """What was refused is said while its task is current, no longer."""
        row = self._page.current()
        kept = {row.task.id} if row else set()
        if self.refused.keys() - kept:
            self.refused = {key: text for key, text in self.refused.items() if key in kept}
            self._page.show_rows()

    def _tick(self, row: "TaskRow", share: int) -> None:
        task, page = row.task, self._page

        def stands(_nothing: None) -> None:
            self.refused.pop(task.id, None)
            page.leave_row()
            if share:
                self._last_ticked = task.id
                page.context.tell(
                    say("{number}: “{task}” is ticked.", number=task.range_number, task=task.name),
                    say("Take it back"), lambda: self._untick(task.id),
                )  # fmt: skip

        page.do(lambda seat: bench.tick(seat, task.id, share), stands, lambda p: self.refuse(task.id, p),
                changes=("jobs", f"job {task.job_id}"))  # fmt: skip

    def _untick(self, task_id: int) -> None:
        self._page.want(task_id)
        self._last_ticked = None
        self._page.do(lambda seat: bench.tick(seat, task_id, 0), changes=("jobs",))
