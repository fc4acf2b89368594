"""Whether the open shop is whole: looked at in the background once its first page stands.

A quick look at the file goes before every change that is asked for meanwhile; a file it finds damaged is
only looked at from then on. The longer reckoning of every stage goes beside the work, and stops on closing.
"""

from threading import Event
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer

from shopdesk.ui.context import Context
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat

_AFTER_MS = 4000  # the Floor is painted and answered by then


class WholeCheck(QObject):
    """Says nothing of a shop that is whole."""

    def __init__(self, context: Context, parent: QObject) -> None:
        super().__init__(parent)
        self._context, self._stopped = context, Event()
        self.timer = QTimer(self)
        self.timer.setSingleShot(True)
        self.timer.timeout.connect(self.look)
        self.timer.start(_AFTER_MS)

    def look(self) -> None:
        """The quick look, then the longer one."""
        self._context.do(_quick, self._looked, owner=self)

    def stop(self) -> None:
        """Before the shop closes: what is under way ends at the next job it looks at."""
        self.timer.stop()
        self._stopped.set()

    def _looked(self, found: list[str]) -> None:
        if found:
            self._context.tell_problem(
                say("This shop's file is damaged, and nothing more is written to it. Close it, set the file "
                    "aside and bring back a copy (Set-up, Backups). {why}", why=found[0])
            )  # fmt: skip
            return
        stopped = self._stopped
        self._context.ask(lambda seat: _stages(seat, stopped), self._reckoned, key="whole", owner=self)

    def _reckoned(self, found: list[str]) -> None:
        if found:
            self._context.tell_problem(
                say("Something in this shop does not add up. Make no copy over an older one, check the shop "
                    "in Set-up, Backups, and ask whoever looks after this program. {why}", why=found[0])
            )  # fmt: skip


def _quick(seat: "Seat") -> list[str]:
    from shopdesk.services.checking import quick_faults

    return quick_faults(seat)


def _stages(seat: "Seat", stopped: Event) -> list[str]:
    from shopdesk.services.checking import stage_faults

    return stage_faults(seat, stopped.is_set)
