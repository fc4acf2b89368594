"""Keeps copies of the shop while it is open and changes, in the background."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer

from shopdesk.domain.problem import Problem
from shopdesk.ui.context import Context
from shopdesk.wording import say, say_problem

if TYPE_CHECKING:
    from shopdesk.services.keeping_copies import Copied
    from shopdesk.services.seat import Seat


class CopyTimer(QObject):
    """Asks how often when the shop opens and whenever settings change."""

    def __init__(self, context: Context, parent: QObject) -> None:
        super().__init__(parent)
        self._context = context
        self.timer = QTimer(self)
        self.timer.timeout.connect(self.copy)
        context.seatChanged.connect(self._ask)
        self._ask()

    def copy(self) -> None:
        """A copy now, if something changed since the last one; trouble is told, success is not."""
        self._context.ask(copied, self._made, self._refused, key="keep a copy", owner=self)

    def _ask(self) -> None:
        self._context.ask(_every_minutes, self._start, key="how often to copy", owner=self)

    def _start(self, minutes: int) -> None:
        if minutes > 0:
            self.timer.start(minutes * 60_000)
        else:
            self.timer.stop()

    def _made(self, done: "Copied") -> None:
        if done.second_problem:
            self._context.tell_problem(done.second_problem)

    def _refused(self, problem: Problem) -> None:
        self._context.tell_problem(say("No copy of the shop was kept. {why}", why=say_problem(problem)))


def _every_minutes(seat: "Seat") -> int:
    from shopdesk.services.settings import Copies
    from shopdesk.services.shops import setting

    return setting(seat, Copies).every_minutes


def copied(seat: "Seat") -> "Copied":
    """A copy kept, if something changed since the last one."""
    from shopdesk.services.keeping_copies import keep_a_copy

    return keep_a_copy(seat)
