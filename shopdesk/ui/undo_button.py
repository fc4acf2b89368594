"""What was done last, by name, each to be taken back: a menu at the foot of the rail."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QApplication, QMenu, QToolButton, QWidget

from shopdesk.ui.context import Context
from shopdesk.ui.deed_words import deed
from shopdesk.ui.look import icon, spacing
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat
    from shopdesk.services.undo import Undoable

KEYS = "Ctrl+Alt+Z"
SHOWN = 30


class UndoButton(QToolButton):
    """Asks for the deeds when it is opened; taking one back is told, and can be taken back again."""

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        keys = QKeySequence(KEYS).toString(QKeySequence.SequenceFormat.NativeText)
        self.setAccessibleName(say("Take back what was done"))
        self.setToolTip(f"{self.accessibleName()} ({keys})")
        self.menu_of_deeds = QMenu(self)
        self.menu_of_deeds.setToolTipsVisible(True)
        self.clicked.connect(self.ask)
        QShortcut(QKeySequence(KEYS), self).activated.connect(self.ask)
        self._dress()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.PaletteChange):
            self._dress()

    def ask(self) -> None:
        """The newest deeds that can be taken back, in a menu beside the button."""
        self._context.ask(_undoable, self._show, key="what can be taken back", owner=self)

    def _show(self, deeds: "tuple[Undoable, ...]") -> None:
        self.menu_of_deeds.clear()
        for one in deeds[:SHOWN]:
            action = self.menu_of_deeds.addAction(self._named(one))
            action.triggered.connect(lambda _checked, one=one: self._take_back(one))
        if not deeds:
            self.menu_of_deeds.addAction(say("Nothing to take back.")).setEnabled(False)
        self.menu_of_deeds.popup(self.mapToGlobal(self.rect().topRight()))

    def _named(self, one: "Undoable") -> str:
        region = self._context.region
        what = deed(one.action, one.record)
        if one.range_number:
            what = say("{number}: {what}", number=one.range_number, what=what)
        return say("{when}  {what} ({who})", when=region.instant(one.at), what=what, who=one.who)

    def _take_back(self, one: "Undoable") -> None:
        topics = ["everything", "people", "stores", "staff"]
        if one.job_id is not None:
            topics.append(f"job {one.job_id}")
        self._context.do(
            lambda seat: _undo(seat, one.journal_id),
            lambda _nothing: self._context.tell(say("Taken back: {what}.", what=self._named(one))),
            changes=topics,
            owner=self,
        )

    def _dress(self) -> None:
        side = spacing(QApplication.font()).icon
        self.setIcon(icon("undo", QApplication.palette()))
        self.setIconSize(QSize(side, side))


def _undoable(seat: "Seat") -> "tuple[Undoable, ...]":
    from shopdesk.services.undo import undoable

    return undoable(seat, limit=SHOWN)


def _undo(seat: "Seat", journal_id: int) -> None:
    from shopdesk.services.undo import undo

    undo(seat, journal_id)
