"""A field with a short list under it: type, go up and down through what fits, press Enter."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QLineEdit, QListWidget, QListWidgetItem, QWidget

from shopdesk.ui.widgets.boxes import upright


class _Words(QLineEdit):
    """Up and Down go through what fits while one types."""

    stepped = Signal(int)
    left = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1, Qt.Key.Key_PageDown: 8, Qt.Key.Key_PageUp: -8}
        if event.key() in steps:
            self.stepped.emit(steps[Qt.Key(event.key())])
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.returnPressed.emit()
        else:
            super().keyPressEvent(event)


class WordPicker(QFrame):
    """Hidden until `open_up`; `typed` asks for choices, `picked` tells one, `left` that none was wanted."""

    typed = Signal(str)
    picked = Signal(object)
    left = Signal()

    def __init__(self, prompt: str, list_name: str, most: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._most = most
        self.words = _Words()
        self.words.setPlaceholderText(prompt)
        self.words.setAccessibleName(prompt)
        self.list = QListWidget()
        self.list.setAccessibleName(list_name)
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.words.textChanged.connect(lambda text: self.typed.emit(text.strip()))
        self.words.stepped.connect(self._step)
        self.words.returnPressed.connect(self._take)
        self.words.left.connect(self._leave)
        self.list.itemClicked.connect(lambda _item: self._take())
        self.setLayout(upright([self.words, self.list], gap="hair", margin="small"))
        self.hide()

    def open_up(self) -> None:
        """Shows itself, empty, with the keyboard in it."""
        self.words.clear()
        self.show_choices([], "")
        self.show()
        self.raise_()
        self.words.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def show_choices(self, choices: Sequence[tuple[str, Any]], nothing: str) -> None:
        """Texts with what each stands for; `nothing` is said when there are none."""
        self.list.clear()
        for text, meant in choices:
            item = QListWidgetItem(text)
            item.setToolTip(text)
            item.setData(Qt.ItemDataRole.UserRole, meant)
            self.list.addItem(item)
        if not choices and nothing:
            self.list.addItem(nothing)
            self.list.item(0).setFlags(Qt.ItemFlag.NoItemFlags)
        shown = min(self.list.count(), self._most)
        self.list.setVisible(shown > 0)
        self.list.setFixedHeight(self.list.sizeHintForRow(0) * shown + 2 * self.list.frameWidth())
        self.list.setCurrentRow(0)
        self.adjustSize()

    def _step(self, by: int) -> None:
        self.list.setCurrentRow(min(max(self.list.currentRow() + by, 0), self.list.count() - 1))

    def _take(self) -> None:
        item = self.list.item(self.list.currentRow()) if self.list.count() else None
        meant = item.data(Qt.ItemDataRole.UserRole) if item is not None else None
        if meant is not None:
            self.hide()
            self.picked.emit(meant)

    def _leave(self) -> None:
        self.hide()
        self.left.emit()
