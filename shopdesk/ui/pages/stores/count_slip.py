"""The form that counts a bin: each part as the ledger has it, what was counted, and why it differs."""

from collections.abc import Callable, Sequence
from typing import Any

from shopdesk.domain.problem import Problem
from shopdesk.services.stock import PartRow
from shopdesk.services.stock_takes import Counted
from shopdesk.ui.pages.stores.line_grid import Cell, Line, LineGrid
from shopdesk.ui.widgets.fields import CountField, TextField
from shopdesk.ui.widgets.small_form import Close, SmallForm
from shopdesk.wording import say, say_problem

Book = Callable[[list[Counted]], object]


class CountSlip(SmallForm):
    """`book` gets every line; a difference without an explanation is sent back beside its line."""

    def __init__(self, bin_name: str, rows: Sequence[PartRow], book: Book, close: Close) -> None:
        where = bin_name or say("no place")
        super().__init__(say("Count {bin}", bin=where), say("Book the count"), self._save, close)
        self._rows, self._book = rows, book
        self.grid = LineGrid([_line(row) for row in rows], columns=2)
        self.box.insertWidget(1, self.grid)
        self.grid.lead_to(self.form)
        self.ready()

    def focusFirst(self) -> None:
        if self._rows:
            self.grid.cell(self._rows[0].id, "counted").setFocus()

    def show_problem(self, problem: Problem) -> None:
        """Beside the line it is about, else under the form."""
        name, _, key = problem.field.partition(" ")
        if key.isdigit():
            self.grid.show_problem(int(key), name, say_problem(problem))
        else:
            self.form.show_problem(problem)

    def _save(self, _values: dict[str, Any]) -> None:
        said = self.grid.values()
        if said is not None:
            self._book([Counted(row.id, **said[row.id]) for row in self._rows])


def _line(row: PartRow) -> Line:
    counted = CountField(0, 99_999)
    counted.setValue(max(0, row.in_stock))
    note = say("{number}, {count} by the ledger", number=row.number, count=row.in_stock)
    return Line(
        row.id, row.name, note,
        (Cell("counted", say("Counted"), counted, 1), Cell("because", say("Why it differs"), TextField(), 3)),
    )  # fmt: skip
