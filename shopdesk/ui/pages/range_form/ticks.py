"""Ticks side by side in as many columns as fit: what a range has, what comes with it."""

from collections.abc import Mapping
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QWidget

from shopdesk.ui.look import spacing
from shopdesk.ui.widgets.fields import TickField


class Ticks(QWidget):
    """One field of a form; `names` says each tick by its key, and the value is the keys that are ticked."""

    edited = Signal()

    def __init__(
        self, names: Mapping[str, str], ticked: frozenset[str] = frozenset(), parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.ticks = {name: TickField(text, name in ticked) for name, text in names.items()}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._columns = 0
        for tick in self.ticks.values():
            tick.setAccessibleName(tick.text())
            tick.edited.connect(self.edited)
        self.setFocusProxy(next(iter(self.ticks.values())))
        self._lay(2)

    def value(self) -> frozenset[str]:
        return frozenset(name for name, tick in self.ticks.items() if tick.value())

    def setValue(self, value: frozenset[str]) -> None:
        for name, tick in self.ticks.items():
            tick.setValue(name in value)

    def typed(self) -> list[str]:
        return sorted(self.value())

    def setTyped(self, typed: Any) -> None:
        self.setValue(frozenset(typed if isinstance(typed, list) else ()))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        widest = max(tick.sizeHint().width() for tick in self.ticks.values()) + spacing(self.font()).gap
        self._lay(max(1, min(4, self.width() // widest)))

    def _lay(self, columns: int) -> None:
        if columns == self._columns:
            return
        self._columns = columns
        for place, tick in enumerate(self.ticks.values()):
            self._grid.addWidget(tick, *divmod(place, columns))
