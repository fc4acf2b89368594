"""Short tables: as high as their rows, up to a few; a longer one scrolls in itself."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QEvent

from shopdesk.ui.look import spacing
from shopdesk.ui.widgets.list_table import ListTable

MOST = 12  # rows shown without scrolling
EMPTY_LINES = 2


class ShortTable(ListTable):
    """A ListTable that asks for no more height than it needs; `most` rows show at once."""

    most = MOST

    def __init__(self, *args: Any, **kept: Any) -> None:
        super().__init__(*args, **kept)
        self.view.horizontalScrollBar().rangeChanged.connect(lambda _least, _most: self._fit())

    def show_rows(self, rows: Sequence[Any]) -> None:
        super().show_rows(rows)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit()

    def _fit(self) -> None:
        count = self.model.rowCount()
        row = self.view.verticalHeader().defaultSectionSize()
        if not count:
            sizes = spacing(self.font())
            button = sizes.target + sizes.gap if self.empty.button else 0
            self.setFixedHeight(EMPTY_LINES * sizes.row + 2 * sizes.wide + button)
            return
        header = self.view.horizontalHeader()
        top = header.sizeHint().height() if not header.isHidden() else 0
        bar = self.view.horizontalScrollBar()
        below = bar.sizeHint().height() if bar.maximum() > 0 else 0
        self.setFixedHeight(top + min(count, self.most) * row + 2 * self.view.frameWidth() + below)
