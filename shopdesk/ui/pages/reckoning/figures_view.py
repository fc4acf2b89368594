"""A list of figures with its chart above and the records of the chosen figure beneath. Knows no services."""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QMenu

from shopdesk.drawing.bars import Bars
from shopdesk.drawing.chart import Chart
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.bar_chart import BarChart
from shopdesk.ui.widgets.boxes import STRETCH, Part, upright
from shopdesk.ui.widgets.headings import Heading, Note, Words
from shopdesk.ui.widgets.line_chart import LineChart
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.rows import Column
from shopdesk.ui.widgets.short_table import ShortTable
from shopdesk.wording import say

Key = Callable[[Any], Hashable]


@dataclass(frozen=True, slots=True)
class Listed:
    """One list: what it is called, its columns, the key of a row, and what stands in it when empty."""

    name: str
    columns: Sequence[Column]
    key: Key
    empty: str


class FiguresView(PageScroll):
    """Return on a figure goes to its records, on a record to its range; `chosen` is a row above."""

    chosen = Signal(object)

    def __init__(
        self, page: Page, name: str, upper: Listed, lower: Listed | None = None, *, note: str = ""
    ) -> None:  # fmt: skip
        self._page = page
        self.bars, self.line = BarChart(), LineChart()
        self.note, self.sums = Note(note), Words()
        self.rows = self._table(f"reckoning/{name}", upper)
        self.records = self._table(f"reckoning/{name}/records", lower) if lower else None
        self.records_heading = Heading(lower.name if lower else "")
        self.records_heading.setWordWrap(True)
        parts: list[Part] = [self.bars, self.line, self.rows, self.sums, self.note]
        if self.records is not None:
            parts += [self.records_heading, self.records]
        super().__init__(upright([*parts, STRETCH], gap="small", margin="gap"))
        self._records_name = lower.name if lower else ""
        self.rows.opened.connect(lambda _key: self._open_upper())
        self.rows.menuAsked.connect(self._fill_menu)
        if self.records is not None:
            self.records.menuAsked.connect(self._fill_menu)
            self.records.opened.connect(lambda _key: self.open_record(self.records.current()))
        self.rows.chosen.connect(self.chosen)
        self.bars.pressed.connect(self._choose)

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

    def open_record(self, row: Any) -> None:
        """The jacket of the range a record is about."""
        what = {"job_id": row.job_id} if hasattr(row, "job_id") else {}
        self._page.context.go("jacket", range_id=row.range_id, **what)

    # Inside

    def _table(self, remembered: str, listed: Listed) -> ShortTable:
        return ShortTable(
            listed.name, listed.columns, listed.key, empty=listed.empty,
            memory=self._page.context.memory, remembered=remembered,
        )  # fmt: skip

    def _fill_menu(self, row: Any, menu: QMenu) -> None:
        """What a hand expects at a range, wherever it is listed."""
        go = self._page.context.go
        if not hasattr(row, "range_id"):
            return
        menu.addAction(say("Open the jacket"), lambda: self.open_record(row))
        menu.addAction(say("Where it stands"), lambda: go("standing", range_id=row.range_id))
        if hasattr(row, "job_id"):
            menu.addAction(say("Go to the Counter"), lambda: go("counter", job_id=row.job_id))

    def _open_upper(self) -> None:
        """Return on a figure goes to its records; a list without any opens the record itself."""
        if self.records is None:
            self.open_record(self.current())
        elif self.records.rows():
            self.ensureWidgetVisible(self.records)
            self.records.focusFirst()

    def _choose(self, key: Any) -> None:
        """A press on the chart chooses the row it stands for."""
        if key is not None and self.rows.select(key):
            self.rows.view.setFocus()
