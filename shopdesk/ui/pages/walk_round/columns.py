"""Drawing, checkpoint and verdict side by side; in fewer columns where there is less room for the letters."""

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from shopdesk.ui.look import spacing
from shopdesk.ui.widgets.page_scroll import PageScroll

THREE, TWO = 122, 78  # letters of width from which three or two columns fit


class Columns(QWidget):
    """The middle is where the keys work, so it always keeps the most room."""

    def __init__(self, left: QWidget, middle: QWidget, right: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._left = left
        self._middle = PageScroll(middle)
        inside = QWidget()
        self._side_box = QVBoxLayout(inside)
        self._side_box.setContentsMargins(0, 0, 0, 0)
        self._side_box.addWidget(right)
        self._side = PageScroll(inside)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(spacing(self.font()).gap)
        self._count = 0
        self._lay(3)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        letters = self.width() / max(1, self.fontMetrics().averageCharWidth())
        self._lay(3 if letters >= THREE else 2 if letters >= TWO else 1)

    def show_middle(self) -> None:
        """The top of the checkpoint in sight."""
        self._middle.verticalScrollBar().setValue(0)

    def _lay(self, count: int) -> None:
        if count == self._count:
            return
        self._count = count
        for widget in (self._middle, self._side, self._left):
            self._grid.removeWidget(widget)
        for place in range(3):
            self._grid.setColumnStretch(place, 0)
            self._grid.setRowStretch(place, 0)
        if count == 3:
            self._side_box.removeWidget(self._left)
            self._grid.addWidget(self._left, 0, 0)
            self._grid.addWidget(self._middle, 0, 1)
            self._grid.addWidget(self._side, 0, 2)
            for place, share in enumerate((5, 8, 6)):
                self._grid.setColumnStretch(place, share)
            return
        self._side_box.insertWidget(0, self._left)
        self._grid.addWidget(self._middle, 0, 0)
        if count == 2:
            self._grid.addWidget(self._side, 0, 1)
            self._grid.setColumnStretch(0, 3)
            self._grid.setColumnStretch(1, 2)
        else:
            self._grid.addWidget(self._side, 1, 0)
            self._grid.setRowStretch(0, 3)
            self._grid.setRowStretch(1, 2)
