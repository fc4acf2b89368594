"""A form: labels, fields, and the sentence beside a field that is wrong.

The button stays enabled; pressing it shows every problem beside its field and puts the keyboard in the
first wrong one. Typed text is never thrown away by a problem.
"""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QCheckBox, QGridLayout, QLabel, QWidget

from shopdesk.domain.changed import Seen
from shopdesk.domain.problem import Problem
from shopdesk.ui.drafts import Drafts
from shopdesk.ui.look import spacing
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.ui.widgets.headings import Heading, Note, ProblemText, Words
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say_problem

LEAST_LETTERS = 24  # of a column of fields
_READ = "@read"  # beside a draft's fields: how long the journal was when they were read


@dataclass(slots=True)
class _Entry:
    field: Any  # a widget that is also a Field
    problem: ProblemText
    required: str
    note: str


class Form(QWidget):
    """Fields under each other, or in `columns` with their labels above."""

    edited = Signal()  # the person changed something

    def __init__(
        self, *, labels: Literal["above", "beside"] = "above", columns: int = 1, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._above = labels == "above"
        self._columns = columns if self._above else 1
        self._entries: dict[str, _Entry] = {}
        self._cells: list[tuple[QWidget, bool]] = []  # in their order, and whether one takes a whole line
        self._holders: dict[str, QWidget] = {}  # what a field stands in, with its label and its help
        self._next = 0  # cell that the next one takes
        self._shown_columns = self._columns
        self._save: Callable[[dict[str, Any]], object] | None = None
        self._main: MainButton | None = None
        self._drafts: tuple[Drafts, str] | None = None
        self.seen: Seen | None = None  # how far the shop was read for what stands in the fields
        gaps = spacing(self.font())
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(gaps.gap)
        self._grid.setVerticalSpacing(gaps.hair)
        for column in range(self._columns if self._above else 2):
            self._grid.setColumnStretch(column, 1 if self._above or column else 0)
        self._whole = ProblemText()
        self._buttons: list[Button] = []
        self._button_row = WrappedRow([])
        self.setLayout(upright([self._grid, self._whole, self._button_row]))

    def minimumSizeHint(self) -> QSize:
        """As narrow as one column."""
        hint = super().minimumSizeHint()
        if not self._above or not self._cells:
            return hint
        widest = max(cell.minimumSizeHint().width() for cell, _ in self._cells)
        margins = self.contentsMargins() if (box := self.layout()) is None else box.contentsMargins()
        return QSize(
            max(widest, self._button_row.minimumSizeHint().width()) + margins.left() + margins.right(),
            hint.height(),
        )

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit_columns()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit_columns()

    # Building

    def heading(self, text: str) -> None:
        """A heading over the fields that follow."""
        self._place(Heading(text), wide=True)

    def add_words(self, words: Words) -> Words:
        """A sentence of its own between the fields; hands it back."""
        self._place(words, wide=True)
        return words

    def add(
        self, name: str, label: str, field: Any, *, required: str = "", note: str = "", wide: bool = False
    ) -> Any:
        """A field under its name, which Problems and `values` use; hands the field back.

        `label` may carry an Alt letter (&); a check box has its own text, give "". `required` is the
        sentence for an empty field; `note` a quiet line of help; `wide` takes a whole line.
        """
        problem = ProblemText()
        self._entries[name] = _Entry(field, problem, required, note)
        field.setObjectName(name)
        field.setAccessibleName(label.replace("&", "") or getattr(field, "text", str)())
        field.setAccessibleDescription(note)
        field.edited.connect(lambda: self._was_edited(name))
        if hasattr(field, "doubted"):
            field.doubted.connect(lambda doubt: self._show(name, self.in_words(doubt)))
        title = Words(label)
        title.setBuddy(field)
        holder = self._lay(title if label else None, field, problem, note, wide)
        if holder is not None:
            self._holders[name] = holder
        return field

    def show_only(self, asked: Collection[str], among: Iterable[str]) -> None:
        """Of these fields those that are asked for now; the others go with their labels, and close up.

        For forms with their labels above. What stands in a hidden field stays in `values`.
        """
        for name in among:
            self._holders[name].setVisible(name in asked)
        self._arrange()

    def on_save(self, text: str, save: Callable[[dict[str, Any]], object], icon_name: str = "") -> MainButton:
        """The main button; `save` gets the values once every field can be read. Ctrl+Return presses it."""
        self._save = save
        button = self._main = MainButton(text, self.submit, icon_name=icon_name)
        self._buttons.insert(0, button)
        self._button_row.show_parts(self._buttons)
        for keys in ("Ctrl+Return", "Ctrl+Enter"):
            shortcut = QShortcut(
                QKeySequence(keys), self, context=Qt.ShortcutContext.WidgetWithChildrenShortcut
            )
            shortcut.activated.connect(self.submit)
        return button

    def add_button(self, button: Button) -> None:
        """Another button, after the main one."""
        self._buttons.append(button)
        self._button_row.show_parts(self._buttons)

    def remember(self, drafts: Drafts, name: str) -> None:
        """Keeps what is typed as a draft of that name and puts a kept one back; `saved` drops it."""
        self._drafts = (drafts, name)
        for key, typed in drafts.kept(name).items():
            if key in self._entries:
                self._entries[key].field.setTyped(typed)

    def read_from(self, seen: Seen | None) -> None:
        """From which state of the shop its fields are filled; a draft put back keeps the one of its own."""
        if self._drafts is not None and seen is not None:
            kept = self._drafts[0].kept(self._drafts[1]).get(_READ)
            if isinstance(kept, int):
                seen = Seen(min(kept, seen.length))
        self.seen = seen

    # Using

    def __getitem__(self, name: str) -> Any:
        """A field by its name."""
        return self._entries[name].field

    def fields(self) -> list[Any]:
        """All fields, in their order."""
        return [entry.field for entry in self._entries.values()]

    def show_values(self, values: Mapping[str, Any]) -> None:
        """Fills the named fields and takes all problems away."""
        for name, value in values.items():
            if name in self._entries:
                self._entries[name].field.setValue(value)
        self.clear_problems()

    def values(self) -> dict[str, Any] | None:
        """What all fields say; None when one is wrong, which is then shown and has the keyboard."""
        self.clear_problems()
        found: dict[str, Any] = {}
        wrong = ""
        for name, entry in self._entries.items():
            try:
                found[name] = entry.field.value()
            except Problem as problem:
                self._show(name, self.in_words(problem))
            else:
                if entry.required and found[name] in (None, ""):
                    self._show(name, entry.required)
            if entry.problem.text() and not wrong:
                wrong = name
        if wrong:
            self._focus(wrong)
            return None
        return found

    def labels(self) -> dict[str, str]:
        """What each field is called here."""
        return {name: entry.field.accessibleName() for name, entry in self._entries.items()}

    def show_put_back(self, stands: Mapping[tuple[str, tuple[str, ...]], Any]) -> None:
        """Shows another's text in the fields in which it was chosen to stand."""
        for (_record, path), value in stands.items():
            if path[-1] in self._entries:
                self._entries[path[-1]].field.setValue(value)

    def submit(self) -> None:
        """What the main button does."""
        values = self.values()
        if values is not None and self._save is not None:
            self._save(values)

    def show_problem(self, problem: Problem) -> None:
        """A refusal of a service beside the field it names, or under the form. Give it as `failed`."""
        if problem.field in self._entries:
            self._show(problem.field, self.in_words(problem))
            self._focus(problem.field)
        else:
            self._whole.show_text(self.in_words(problem))

    def in_words(self, problem: Problem) -> str:
        """How a problem is said here; a form with units of its own says it in those."""
        return say_problem(problem)

    def clear_problems(self) -> None:
        self._whole.show_text("")
        for name in self._entries:
            self._show(name, "")

    def saved(self) -> None:
        """What was typed stands in the shop now: drops its draft and its problems."""
        self.clear_problems()
        if self._drafts is not None:
            self._drafts[0].drop(self._drafts[1])

    def focusFirst(self) -> None:
        """The keyboard in the first field; on the main button where nothing is asked."""
        for name in self._entries:
            self._focus(name)
            return
        if self._main is not None:
            self._main.setFocus(Qt.FocusReason.OtherFocusReason)

    # Inside

    def _lay(
        self, title: QLabel | None, field: QWidget, problem: ProblemText, note: str, wide: bool
    ) -> QWidget | None:
        below: list[QWidget] = [*([Note(note)] if note else []), problem]
        box = upright(gap="hair")
        if self._above and title is not None:
            box.addWidget(title)
        box.addWidget(field)
        for widget in below:
            box.addWidget(widget)
        box.addStretch(1)
        if self._above:
            holder = QWidget()
            box.setContentsMargins(0, 0, 0, spacing(self.font()).small)
            holder.setLayout(box)
            self._place(holder, wide)
            return holder
        row = self._grid.rowCount()
        if title is not None:
            self._grid.addWidget(title, row, 0, Qt.AlignmentFlag.AlignTop)
        self._grid.addLayout(box, row, 1)
        return None

    def _place(self, widget: QWidget, wide: bool) -> None:
        if not self._above:
            self._grid.addWidget(widget, self._grid.rowCount(), 0, 1, 2)
            return
        self._cells.append((widget, wide))
        self._put(widget, wide)

    def _put(self, widget: QWidget, wide: bool) -> None:
        columns = self._shown_columns
        if wide and self._next % columns:
            self._next += columns - self._next % columns
        row, column = divmod(self._next, columns)
        span = columns if wide else 1
        self._grid.addWidget(widget, row, column, 1, span)
        self._next += span

    def _fit_columns(self) -> None:
        """One column where the width has no room for the fields beside each other."""
        least = LEAST_LETTERS * self.fontMetrics().averageCharWidth()
        columns = self._columns if self.width() >= self._columns * least else 1
        if columns == self._shown_columns or not self._above:
            return
        self._shown_columns = columns
        for column in range(self._columns):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)
        self._arrange()

    def _arrange(self) -> None:
        """Every cell that is not hidden in its place."""
        self._next = 0
        for widget, _ in self._cells:
            self._grid.removeWidget(widget)
        for widget, wide in self._cells:
            if not widget.isHidden():
                self._put(widget, wide)

    def _show(self, name: str, text: str) -> None:
        entry = self._entries[name]
        entry.problem.show_text(text)
        entry.field.setAccessibleDescription(text or entry.note)

    def _focus(self, name: str) -> None:
        field = self._entries[name].field
        field.setFocus(Qt.FocusReason.OtherFocusReason)
        if hasattr(field, "selectAll") and not isinstance(field, QCheckBox):
            field.selectAll()

    def _was_edited(self, name: str) -> None:
        self._show(name, "")
        if self._drafts is not None:
            drafts, key = self._drafts
            typed = {name: entry.field.typed() for name, entry in self._entries.items()}
            drafts.keep(key, typed | ({_READ: self.seen.length} if self.seen is not None else {}))
        self.edited.emit()
