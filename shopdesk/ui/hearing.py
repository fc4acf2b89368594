"""Other seats' changes in the window: pages refresh what they show of them; nothing typed is touched."""

from threading import Event
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QThread, Signal

from shopdesk.ui.context import Context

if TYPE_CHECKING:
    from shopdesk.services.hearing import Heard
    from shopdesk.services.seat import Seat

_PEOPLE = frozenset({"party"})
_STORES = frozenset({
    "part", "part_movement", "part_fit", "need", "purchase_order", "purchase_line", "goods_in", "goods_back",
    "consignment", "consignment_piece", "piece_event", "stock_take", "donor", "donor_part", "want",
})  # fmt: skip
_PLAN = frozenset({"bench_plan", "planned_task", "pin", "appointment", "promise", "leave", "working_hours"})


class _Listener(QThread):
    heard = Signal(object)

    def __init__(self, seat: "Seat", parent: QObject) -> None:
        super().__init__(parent)
        self._seat = seat
        self.stop = Event()

    def run(self) -> None:
        from shopdesk.services.hearing import hear_others

        hear_others(self._seat, self.stop, self.heard.emit)


class SeatsHearing(QObject):
    """Listens while a shop on a server is open; a shop file has one writer and needs none of it."""

    def __init__(self, context: Context, parent: QObject) -> None:
        super().__init__(parent)
        self._context = context
        self._listener: _Listener | None = None
        if not context.seat.file.is_file:
            self._listener = _Listener(context.seat, self)
            self._listener.heard.connect(self._announce)
            self._listener.start()

    def close(self) -> None:
        if self._listener is not None:
            self._listener.stop.set()
            self._listener.wait(15_000)
            self._listener = None

    def _announce(self, heard: "Heard") -> None:
        self._context.announce(*topics_of(heard))


def topics_of(heard: "Heard") -> set[str]:
    """The topics pages know, from the tables and the job that were touched."""
    if heard.missed:
        return {"everything", "settings"}
    topics = {"jobs", "ranges", "papers"}
    if heard.job_id is not None:
        topics.add(f"job {heard.job_id}")
    named = ((_PEOPLE, "people"), (_STORES, "stores"), (_PLAN, "plan"), ({"staff", "wage"}, "staff"),
             ({"setting"}, "settings"))  # fmt: skip
    return topics | {topic for tables, topic in named if heard.tables & tables}
