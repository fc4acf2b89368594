"""Lines to fill in under each other: what each is about, and its fields side by side below."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from shopdesk.domain.problem import Problem
from shopdesk.ui.look import spacing
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Note, ProblemText, Words
from shopdesk.wording import say, say_problem


@dataclass(frozen=True, slots=True)
class Cell:
    """A field of a line; `stretch` says how much of the width it takes."""

    name: str
    title: str
    field: Any
    stretch: int = 1


@dataclass(frozen=True, slots=True)
class Line:
    """`key` is what the values come back under."""

    key: Any
    title: str
    note: str
    cells: tuple[Cell, ...]


class LineGrid(QWidget):
    """`edited` when any field changed. `columns` cells stand side by side."""

    edited = Signal()

    def __init__(self, lines: Sequence[Line], columns: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._lines = tuple(lines)
        self._problems: dict[Any, ProblemText] = {}
        grid = QGridLayout()
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(spacing(self.font()).hair)
        grid.setHorizontalSpacing(spacing(self.font()).small)
        at = 0
        for line in self._lines:
            at = self._lay(grid, line, at, columns)
        self.setLayout(grid)

    def lead_to(self, form: Form) -> None:
        """Tab goes through the lines first, as they stand above, and then through the form."""
        fields = [cell.field for line in self._lines for cell in line.cells] + form.fields()
        for before, after in pairwise(fields):
            QWidget.setTabOrder(before, after)

    def cell(self, key: Any, name: str) -> Any:
        """A field of a line."""
        line = next(line for line in self._lines if line.key == key)
        return next(cell.field for cell in line.cells if cell.name == name)

    def values(self) -> dict[Any, dict[str, Any]] | None:
        """What the lines say, by key; None when a field is wrong, which then says so and has the keyboard."""
        found: dict[Any, dict[str, Any]] = {}
        wrong: QWidget | None = None
        for line in self._lines:
            self._problems[line.key].show_text("")
            said: dict[str, Any] = {}
            for cell in line.cells:
                try:
                    said[cell.name] = cell.field.value()
                except Problem as problem:
                    self._problems[line.key].show_text(say_problem(problem))
                    wrong = wrong or cell.field
            found[line.key] = said
        if wrong is not None:
            wrong.setFocus()
            return None
        return found

    def show_problem(self, key: Any, name: str, text: str) -> None:
        """A sentence beside a line, and the keyboard in the field it is about."""
        self._problems[key].show_text(text)
        self.cell(key, name).setFocus()

    def _lay(self, grid: QGridLayout, line: Line, at: int, columns: int) -> int:
        title = Words(line.title, "strong")
        grid.addWidget(title, at, 0, 1, columns)
        at += 1
        if line.note:
            grid.addWidget(Note(line.note), at, 0, 1, columns)
            at += 1
        for place, cell in enumerate(line.cells):
            row, column = divmod(place, columns)
            label = QLabel(cell.title)
            label.setBuddy(cell.field)
            cell.field.setAccessibleName(say("{field} of {line}", field=cell.title, line=line.title))
            cell.field.edited.connect(self.edited)
            grid.addWidget(label, at + 2 * row, column)
            grid.addWidget(cell.field, at + 2 * row + 1, column)
            grid.setColumnStretch(column, max(grid.columnStretch(column), cell.stretch))
        at += 2 * ((len(line.cells) + columns - 1) // columns)
        self._problems[line.key] = ProblemText()
        grid.addWidget(self._problems[line.key], at, 0, 1, columns)
        grid.setRowMinimumHeight(at + 1, spacing(self.font()).small)
        return at + 2
