"""When two texts for one record are shown over the workspace, and when a kept one is offered again."""

from collections.abc import Callable

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

from shopdesk.ui.conflict_pane import DRAFTS, ConflictPane, KeptTextPane
from shopdesk.ui.context import Conflict, Context
from shopdesk.wording import say

Pane = ConflictPane | KeptTextPane


class Conflicts(QObject):
    """One pane at a time over the workspace; `reachable` takes what lies below out of reach and back."""

    def __init__(self, context: Context, over: QWidget, reachable: Callable[[bool], None]) -> None:
        super().__init__(over)
        self._context, self._over, self._reachable = context, over, reachable
        self._came_from: QWidget | None = None
        self._held = False
        self.pane: Pane | None = None
        context.conflicted.connect(self._show)

    def offer_kept_text(self) -> None:
        """What was typed here and lost to another's text before the shop was closed."""
        names = self._context.drafts.names(DRAFTS)
        if names:
            self._context.tell(
                say("A text of yours is kept that was never saved."), say("Show it"),
                lambda: self._open(lambda: KeptTextPane(self._context, names[0], self._over)),
            )  # fmt: skip

    def hold(self, held: bool) -> None:
        """While the window is locked the pane is out of reach, and none comes."""
        self._held = held
        if self.pane is not None:
            self.pane.setEnabled(not held)

    def _show(self, conflict: Conflict) -> None:
        self._open(lambda: ConflictPane(self._context, conflict, self._over))

    def _open(self, make: Callable[[], Pane]) -> None:
        if self.pane is not None or self._held:
            return
        self._came_from = self._over.window().focusWidget()
        self.pane = make()
        self.pane.closed.connect(self._close)
        self._reachable(False)

    def _close(self) -> None:
        pane, self.pane = self.pane, None
        if pane is None:
            return
        self._reachable(True)
        pane.hide()
        pane.deleteLater()
        if self._came_from is not None and isValid(self._came_from):
            self._came_from.setFocus()
