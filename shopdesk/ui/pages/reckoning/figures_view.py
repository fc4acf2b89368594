"""A list of figures with its chart above and the records of the chosen figure beneath. Knows no services."""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QEvent, Signal

from shopdesk.drawing.bars import Bars
from shopdesk.drawing.chart import Chart
from shopdesk.ui.memory import Memory
from shopdesk.ui.widgets.bar_chart import BarChart
from shopdesk.ui.widgets.boxes import STRETCH, Part, upright
from shopdesk.ui.widgets.headings import Heading, Note, Words
from shopdesk.ui.widgets.line_chart import LineChart
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.rows import Column
from shopdesk.ui.widgets.short_table import ShortTable
from shopdesk.wording import say

Key = Callable[[Any], Hashable]
_LEAST = 11  # letters of a column


@dataclass(frozen=True, slots=True)
class Listed:
    """One list: what it is called, its columns, the key of a row, and what stands in it when empty."""

    name: str
    columns: Sequence[Column]
    key: Key
    empty: str


class FiguresView(PageScroll):
    """`opened` names a record, of the lower list where there is one; `chosen` a row of the upper list."""

    opened = Signal(object)
    chosen = Signal(object)

    def __init__(
        self, memory: Memory, name: str, upper: Listed, lower: Listed | None = None, *, note: str = ""
    ) -> None:  # fmt: skip
        self.bars, self.line = BarChart(), LineChart()
        self.note, self.sums = Note(note), Words()
        self.rows = FigureTable(memory, f"reckoning/{name}", upper)
        self.records = FigureTable(memory, f"reckoning/{name}/records", lower) if lower else None
        self.records_heading = Heading(lower.name if lower else "")
        self.records_heading.setWordWrap(True)
        parts: list[Part] = [self.bars, self.line, self.rows, self.sums, self.note]
        if self.records is not None:
            parts += [self.records_heading, self.records]
        super().__init__(upright([*parts, STRETCH], gap="small", margin="gap"))
        self._records_name = lower.name if lower else ""
        self.rows.opened.connect(self._open_upper)
        self.rows.chosen.connect(self.chosen)
        self.bars.pressed.connect(self._choose)
        if self.records is not None:
            self.records.opened.connect(self.opened)

    def show_figures(
        self, rows: Sequence[Any], *, bars: Bars | None = None, chart: Chart | None = None, sums: str = ""
    ) -> None:  # fmt: skip
        """The list with its chart; `sums` says what it comes to."""
        self.rows.show_rows(rows)
        self.bars.show_bars(bars)
        self.line.show_chart(chart)
        self.sums.setText(sums)
        self.sums.setVisible(bool(sums))
        if self.records is not None:
            self.records.setVisible(bool(rows))
            self.records_heading.setVisible(bool(rows))
        if rows and self.rows.current_key() is None:
            self.rows.select(self.rows.model.key_at(0))

    def show_records(self, of: str, rows: Sequence[Any]) -> None:
        """The records of the chosen row."""
        if self.records is not None:
            self.records_heading.setText(say("{records}: {of}", records=self._records_name, of=of))
            self.records.show_rows(rows)

    def current(self) -> Any:
        return self.rows.current()

    def focusFirst(self) -> None:
        self.rows.focusFirst()

    def _open_upper(self, key: Any) -> None:
        """Return on a figure goes to its records; a list without any opens the record itself."""
        if self.records is None:
            self.opened.emit(key)
        elif self.records.rows():
            self.ensureWidgetVisible(self.records)
            self.records.focusFirst()

    def _choose(self, key: Any) -> None:
        """A press on the chart chooses the row it stands for."""
        if key is not None and self.rows.select(key):
            self.rows.view.setFocus()


class FigureTable(ShortTable):
    """No column grows so narrow that nothing of it can be read; a narrow window scrolls sideways instead."""

    def __init__(self, memory: Memory, remembered: str, listed: Listed) -> None:
        super().__init__(
            listed.name, listed.columns, listed.key, empty=listed.empty, memory=memory, remembered=remembered
        )
        self._keep_readable()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._keep_readable()

    def _keep_readable(self) -> None:
        self.view.horizontalHeader().setMinimumSectionSize(self.fontMetrics().averageCharWidth() * _LEAST)
