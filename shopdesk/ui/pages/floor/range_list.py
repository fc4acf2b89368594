"""The list of ranges: one drawn row each, as high as its width and letters ask for."""

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject

from shopdesk.ui.pages.floor.row_drawing import RowDrawing, room
from shopdesk.ui.pages.floor.shown import ShownRow
from shopdesk.ui.widgets.list_table import ListTable
from shopdesk.ui.widgets.rows import Column
from shopdesk.wording import say


class RangeList(ListTable):
    """Rows are `ShownRow`."""

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
