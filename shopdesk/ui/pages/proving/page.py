"""The room of one range's proofs; another range is another panel in its place."""

from typing import Any, ClassVar

from PySide6.QtWidgets import QStackedLayout

from shopdesk.ui.context import Context, Topics
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.proving.panel import ProofsPanel
from shopdesk.ui.widgets.empty_state import EmptyState
from shopdesk.wording import say

_SHOWN = frozenset({"everything", "jobs", "instruments", "settings", "catalogue", "staff"})


class ProvingPage(Page):
    """`context.go("proving", job_id=..., kind=...)` shows a job, with one proof's form if it is named."""

    place: ClassVar[str] = "proving"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.panel: ProofsPanel | None = None
        self.empty = EmptyState(
            say("The proofs of a range stand here once it is opened from the Bench or from its jacket."),
            (say("Go to the Bench"), lambda: context.go("bench")),
        )
        self._rooms = QStackedLayout(self)
        self._rooms.addWidget(self.empty)

    def refresh(self, topics: Topics) -> None:
        if self.panel is not None and topics & _SHOWN:
            self.panel.refresh()

    def open_on(self, **what: Any) -> None:
        job_id = int(what["job_id"])
        if self.panel is None or self.panel.job_id != job_id:
            self._take_away()
            self.panel = ProofsPanel(self.context, job_id)
            self._rooms.addWidget(self.panel)
            self._rooms.setCurrentWidget(self.panel)
            self.panel.refresh()
        if what.get("kind"):
            self.panel.want(str(what["kind"]))

    def focusFirst(self) -> None:
        if self.panel is not None:
            self.panel.focusFirst()
        else:
            self.empty.focusFirst()

    def _take_away(self) -> None:
        if self.panel is not None:
            self._rooms.removeWidget(self.panel)
            self.panel.deleteLater()
            self.panel = None
