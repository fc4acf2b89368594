"""Jumping to a checkpoint by words: type, look at what fits, press Enter."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QLineEdit, QListWidget, QListWidgetItem, QWidget

from shopdesk.domain.catalogue.model import Catalogue, Checkpoint
from shopdesk.ui.widgets.boxes import upright
from shopdesk.wording import say

MOST = 12


class _Words(QLineEdit):
    """Up and Down go through what fits while one types."""

    stepped = Signal(int)
    left = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}
        if event.key() in steps:
            self.stepped.emit(steps[Qt.Key(event.key())])
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.returnPressed.emit()
        else:
            super().keyPressEvent(event)


class Finder(QFrame):
    """Hidden until it is asked for; `chosen` tells a checkpoint's code, "" when the person turned away."""

    chosen = Signal(str)

    def __init__(self, catalogue: Catalogue, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._catalogue = catalogue
        self._find: Callable[[str], Sequence[Checkpoint]] = lambda _words: ()
        self.words = _Words()
        self.words.setPlaceholderText(say("Find a checkpoint by words"))
        self.words.setAccessibleName(say("Find a checkpoint by words"))
        self.list = QListWidget()
        self.list.setAccessibleName(say("Checkpoints that fit"))
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.words.textChanged.connect(self._narrow)
        self.words.stepped.connect(self._step)
        self.words.returnPressed.connect(self._take)
        self.words.left.connect(lambda: self._leave(""))
        self.list.itemClicked.connect(lambda _item: self._take())
        self.setLayout(upright([self.words, self.list], gap="hair", margin="small"))
        self.hide()

    def ask(self, find: Callable[[str], Sequence[Checkpoint]]) -> None:
        """Shows itself with the keyboard in it."""
        self._find = find
        self.words.clear()
        self._narrow("")
        self.show()
        self.words.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _narrow(self, words: str) -> None:
        self.list.clear()
        for checkpoint in self._find(words)[:MOST] if words.strip() else ():
            zone = self._catalogue.zones[checkpoint.zone].name
            item = QListWidgetItem(say("{name} ({zone})", name=say(checkpoint.name), zone=say(zone)))
            item.setData(Qt.ItemDataRole.UserRole, checkpoint.code)
            self.list.addItem(item)
        if words.strip() and not self.list.count():
            self.list.addItem(say("No checkpoint has these words."))
            self.list.item(0).setFlags(Qt.ItemFlag.NoItemFlags)
        self.list.setVisible(self.list.count() > 0)
        frame = 2 * self.list.frameWidth()
        self.list.setFixedHeight(self.list.sizeHintForRow(0) * self.list.count() + frame)
        self.list.setCurrentRow(0)

    def _step(self, by: int) -> None:
        row = min(max(self.list.currentRow() + by, 0), self.list.count() - 1)
        self.list.setCurrentRow(row)

    def _take(self) -> None:
        row = self.list.currentRow()
        code = self.list.item(row).data(Qt.ItemDataRole.UserRole) if row >= 0 else None
        if code:
            self._leave(code)

    def _leave(self, code: str) -> None:
        self.hide()
        self.chosen.emit(code)
