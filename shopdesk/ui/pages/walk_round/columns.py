"""Drawing, checkpoint and verdict side by side; in fewer columns where there is less room for the letters."""

from PySide6.QtCore import QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from shopdesk.ui.look import spacing
from shopdesk.ui.widgets.page_scroll import PageScroll

THREE, TWO = 122, 78  # letters of width from which three or two columns fit
LEFT, RIGHT = 28, 34  # letters of width the side columns need
MOST = 16_777_215  # Qt's own "no limit"


class Columns(QWidget):
    """The middle is where the keys work, so it always keeps the most room."""

    def __init__(self, left: QWidget, middle: QWidget, right: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._left, self._right = left, right
        self._middle_box, self._middle = _scrolled(middle)
        self._side_box, self._side = _scrolled(right)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(spacing(self.font()).gap)
        self._count = 0
        self._lay(3)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        letters = self.width() / max(1, self.fontMetrics().averageCharWidth())
        self._lay(3 if letters >= THREE else 2 if letters >= TWO else 1)

    def minimumSizeHint(self) -> QSize:
        """As narrow as the checkpoint alone: side by side is for where there is room, and asks for none."""
        return QSize(self._middle.minimumSizeHint().width(), super().minimumSizeHint().height())

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
            self._grid.setColumnMinimumWidth(place, 0)
        self._left.setMaximumHeight(MOST if count == 3 else spacing(self.font()).row * 18)
        self._side.setVisible(count > 1)
        (self._lay_one, self._lay_two, self._lay_three)[count - 1]()

    def _lay_three(self) -> None:
        self._side_box.addWidget(self._right)
        letter = self.fontMetrics().averageCharWidth()
        columns = ((self._left, 4, LEFT), (self._middle, 8, 0), (self._side, 4, RIGHT))
        for place, (widget, share, least) in enumerate(columns):
            self._grid.addWidget(widget, 0, place)
            self._grid.setColumnStretch(place, share)
            self._grid.setColumnMinimumWidth(place, letter * least)

    def _lay_two(self) -> None:
        """The drawing over the verdict, in one column beside the checkpoint."""
        self._side_box.insertWidget(0, self._left)
        self._side_box.addWidget(self._right)
        self._grid.addWidget(self._middle, 0, 0)
        self._grid.addWidget(self._side, 0, 1)
        self._grid.setColumnStretch(0, 3)
        self._grid.setColumnStretch(1, 2)

    def _lay_one(self) -> None:
        """All under each other; one scrolls down from the checkpoint."""
        self._middle_box.addWidget(self._left)
        self._middle_box.addWidget(self._right)
        self._grid.addWidget(self._middle, 0, 0)


def _scrolled(widget: QWidget) -> tuple[QVBoxLayout, PageScroll]:
    """A scrolling column that begins with the widget, and the box to put more into."""
    inside = QWidget()
    box = QVBoxLayout(inside)
    box.setContentsMargins(0, 0, 0, 0)
    box.addWidget(widget)
    return box, PageScroll(inside)
