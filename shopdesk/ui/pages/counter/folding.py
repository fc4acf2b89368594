"""A list to find in and the sheet of what was found; where room is short the list folds while it is not used.

Side by side where there is room. One under the other, the list shows while the keyboard is in it and folds
to its search field when the work goes on in the sheet; in a low window only one of the two is in sight.
"""

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QApplication, QWidget

from shopdesk.ui.memory import Memory
from shopdesk.ui.widgets.beside import Beside
from shopdesk.ui.widgets.list_table import ListTable

_LOW_LINES = 34  # below so many lines of text there is no room for both


class FoldingBeside(Beside):
    """`found` holds the search and `table`; `sheet` shows the table's current row."""

    def __init__(
        self, found: QWidget, table: ListTable, sheet: QWidget, memory: Memory, name: str,
        *, shares: tuple[int, int],
    ) -> None:  # fmt: skip
        self._found, self._table, self._sheet = found, table, sheet
        self._folded: tuple[bool, bool] | None = None
        super().__init__(found, sheet, memory, name, shares=shares)
        self._timer = QTimer(self, singleShot=True, interval=0)
        self._timer.timeout.connect(self.fold)
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        app.focusChanged.connect(self._timer.start)
        table.chosen.connect(lambda _key: self._timer.start())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._timer.start()

    def fold(self) -> None:
        """Shows what there is room for, by where the keyboard is."""
        narrow = self.orientation() == Qt.Orientation.Vertical
        focus: QWidget | None = self.window().focusWidget()  # also while another program is in front
        searching = focus is not None and self._found.isAncestorOf(focus)
        with_list = not narrow or searching or self._table.current() is None
        low = self.height() < self.fontMetrics().height() * _LOW_LINES
        with_sheet = not (narrow and low and with_list)
        if self._folded == (with_list, with_sheet):
            return
        self._folded = (with_list, with_sheet)
        self._table.setVisible(with_list)
        self._sheet.setVisible(with_sheet)
        self._found.setMaximumHeight(16_777_215 if with_list else self._found.sizeHint().height())
