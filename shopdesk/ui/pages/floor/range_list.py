"""The list of ranges: one drawn row each, as high as its width and letters ask for."""

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, QPoint, Qt, Signal
from PySide6.QtWidgets import QMenu

from shopdesk.ui.pages.floor.row_drawing import RowDrawing, room
from shopdesk.ui.pages.floor.shown import ShownRow
from shopdesk.ui.widgets.list_table import ListTable
from shopdesk.ui.widgets.rows import Column
from shopdesk.wording import say


class RangeList(ListTable):
    """`menuAsked` fills the menu of a row, on the right button or the menu key."""

    menuAsked = Signal(object, object)  # ShownRow, QMenu

    def __init__(self, first: tuple[str, Callable[[], object]] | None) -> None:
        column = Column("range", say("Range"), ShownRow.spoken, stretch=True, spoken=ShownRow.spoken,
                        tip=lambda row: row.held)  # fmt: skip
        super().__init__(
            say("Ranges in the shop"), [column], key=lambda row: row.range_id,
            empty=say("Ranges you book in will stand here."), first=first, pictures=True,
        )  # fmt: skip
        self.draw("range", RowDrawing())
        self.view.horizontalHeader().hide()
        self.view.setAlternatingRowColors(False)
        self.view.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        self.view.customContextMenuRequested.connect(self._show_menu)
        self.view.viewport().installEventFilter(self)
        self._fit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Resize and watched is self.view.viewport():
            self._fit()
        return False

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit()

    def _fit(self) -> None:
        height = room(self.view.viewport().width(), self.view.font()).height
        rows = self.view.verticalHeader()
        if rows.defaultSectionSize() != height:
            rows.setMinimumSectionSize(height)
            rows.setDefaultSectionSize(height)

    def _show_menu(self, at: QPoint) -> None:
        row = self.current()
        if row is None:
            return
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.menuAsked.emit(row, menu)
        menu.popup(self.view.viewport().mapToGlobal(at))
