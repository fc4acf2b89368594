"""Lines of a quote to tick, for those the customer does not want."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QSizePolicy

_ROWS = 4


class LeftOutField(QListWidget):
    """Space ticks the line the keyboard is on; the value is the keys of the ticked ones."""

    edited = Signal()

    def __init__(self, lines: Sequence[tuple[int, str]]) -> None:
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setTabKeyNavigation(False)
        for key, text in lines:
            item = QListWidgetItem(text)
            item.setData(Qt.ItemDataRole.UserRole, key)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            item.setCheckState(Qt.CheckState.Unchecked)
            self.addItem(item)
        self.itemChanged.connect(lambda _item: self.edited.emit())

    def sizeHint(self) -> QSize:
        rows = max(1, min(_ROWS, self.count()))
        high = self.sizeHintForRow(0) if self.count() else self.fontMetrics().height()
        return QSize(super().sizeHint().width(), rows * high + 2 * self.frameWidth() + 4)

    def value(self) -> list[int]:
        return [
            int(item.data(Qt.ItemDataRole.UserRole))
            for item in map(self.item, range(self.count()))
            if item.checkState() is Qt.CheckState.Checked
        ]

    def setValue(self, keys: Any) -> None:
        for item in map(self.item, range(self.count())):
            ticked = item.data(Qt.ItemDataRole.UserRole) in (keys or ())
            item.setCheckState(Qt.CheckState.Checked if ticked else Qt.CheckState.Unchecked)

    def typed(self) -> list[int]:
        return self.value()

    def setTyped(self, typed: Any) -> None:
        self.setValue(typed if isinstance(typed, list) else [])
