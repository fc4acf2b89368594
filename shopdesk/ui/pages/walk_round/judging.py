"""Keeps the verdict in step with the walk: judged in a worker, one at a time, the newest state last."""

from PySide6.QtCore import QObject, QTimer, Signal

from shopdesk.domain.problem import Problem
from shopdesk.services.inspection import Worth, worth_of
from shopdesk.ui.context import Context

PAUSE_MS = 120  # answers that come faster are judged together


class Judging(QObject):
    """`came` carries a Worth; `wrong` a Problem. `under_way` says that the shown one is behind."""

    came = Signal(object)
    wrong = Signal(object)
    under_way = Signal(bool)

    def __init__(self, context: Context, parent: QObject) -> None:
        super().__init__(parent)
        self._context = context
        self._walk_id = 0
        self._running = self._again = False
        self._timer = QTimer(self, interval=PAUSE_MS, singleShot=True)
        self._timer.timeout.connect(self._start)

    @property
    def behind(self) -> bool:
        return self._running or self._timer.isActive()

    def judge(self, walk_id: int) -> None:
        """The walk-round changed, and what changed is kept."""
        self._walk_id = walk_id
        self._timer.start()
        self.under_way.emit(True)

    def stop(self) -> None:
        """Another walk-round, or none: nothing more is told of this one."""
        self._walk_id = 0
        self._timer.stop()

    def _start(self) -> None:
        if self._running:
            self._again = True
            return
        self._running, walk_id = True, self._walk_id
        self._context.ask(
            lambda seat: worth_of(seat, walk_id),
            lambda worth: self._done(walk_id, worth), lambda problem: self._failed(walk_id, problem),
            owner=self,
        )  # fmt: skip

    def _done(self, walk_id: int, worth: Worth) -> None:
        self._running = False
        if walk_id == self._walk_id:
            self.came.emit(worth)
        self._go_on()

    def _failed(self, walk_id: int, problem: Problem) -> None:
        self._running = False
        if walk_id == self._walk_id:
            self.wrong.emit(problem)
        self._go_on()

    def _go_on(self) -> None:
        again, self._again = self._again, False
        if again and self._walk_id:
            self._start()
        self.under_way.emit(self.behind)
