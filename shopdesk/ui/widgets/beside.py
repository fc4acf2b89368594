"""A list and what belongs to it: side by side where there is room, one under the other where there is not."""

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSplitter, QWidget

from shopdesk.ui.memory import Memory

WIDE_LETTERS = 118  # from so many letters in width on, both stand side by side


class Beside(QSplitter):
    """Turns by itself when the window or the letters change; remembers the shares of each way."""

    def __init__(
        self, first: QWidget, second: QWidget, memory: Memory, name: str, *, shares: tuple[int, int] = (3, 2)
    ) -> None:
        super().__init__(Qt.Orientation.Horizontal)
        self._memory, self._name, self._shares = memory, name, shares
        self.setChildrenCollapsible(False)
        for widget in (first, second):
            self.addWidget(widget)
        self._restore()
        self.splitterMoved.connect(lambda _at, _which: memory.keep_parts(self._kept_as(), self))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._turn()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._turn()

    def _turn(self) -> None:
        room = self.width() >= self.fontMetrics().averageCharWidth() * WIDE_LETTERS
        wanted = Qt.Orientation.Horizontal if room else Qt.Orientation.Vertical
        if self.orientation() != wanted:
            self.setOrientation(wanted)
            self._restore()

    def _restore(self) -> None:
        if not self._memory.parts(self._kept_as(), self):
            for place, share in enumerate(self._shares):
                self.setStretchFactor(place, share)
            whole = self.width() if self.orientation() == Qt.Orientation.Horizontal else self.height()
            self.setSizes([max(1, whole * share // sum(self._shares)) for share in self._shares])

    def _kept_as(self) -> str:
        way = "beside" if self.orientation() == Qt.Orientation.Horizontal else "below"
        return f"{self._name}/{way}"
