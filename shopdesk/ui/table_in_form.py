"""The form that brings a table in: columns matched, tried first, then whole or as far as it is good.

Works for whatever a table may become (`services.tables_in.Target`). Reading and writing run in a worker;
the form looks at their progress and can stop them.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from PySide6.QtCore import QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QProgressBar

from shopdesk.domain.problem import Problem
from shopdesk.services import tables_in
from shopdesk.services.tables_in import Outcome, Progress, Table
from shopdesk.ui.context import Context
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import ChoiceField
from shopdesk.ui.widgets.headings import Note
from shopdesk.ui.widgets.list_table import ListTable
from shopdesk.ui.widgets.rows import Column
from shopdesk.ui.widgets.small_form import Close, SmallForm
from shopdesk.wording import say, say_problem

TABLES = "*.csv *.tsv *.txt *.xlsx *.CSV *.TSV *.TXT *.XLSX"
LOOK_MS = 100


class TableInForm(SmallForm):
    """The main button tries first; once a trial stands, it brings in."""

    keeps_draft = False  # the next file has other columns

    def __init__(
        self,
        title: str,
        target: Any,
        table: Table,
        matching: Mapping[str, int],
        context: Context,
        close: Close,
        *,
        topics: Iterable[str] = ("stores",),
        columns: int = 1,
    ) -> None:
        """`topics` are what changes once it came in."""
        super().__init__(title, say("Try it"), lambda _values: self._try(), close, columns=columns)
        self._topics = tuple(topics)
        self._target, self._table, self._context = target, table, context
        self._close_form = close
        self._progress: Progress | None = None
        titles = [(None, say("no column")), *((at, name or say("column {number}", number=at + 1))
                  for at, name in enumerate(table.titles))]  # fmt: skip
        for wanted in target.wanted:
            field = self.form.add(wanted.key, wanted.title, ChoiceField(titles))
            field.setValue(matching.get(wanted.key))
            field.edited.connect(self._unmatched)
        choices = [
            (True, say("take the good lines, leave the bad ones out")),
            (False, say("take nothing at all")),
        ]
        self.form.add("bad", say("If a line is bad"), ChoiceField(choices), wide=True)
        self.sample = Note(_sample(table))
        self.bar = QProgressBar()
        self.bar.setAccessibleName(say("Lines read"))
        self.bar.setTextVisible(True)
        self.stop_button = Button(say("Stop"), self.stop)
        self.told = Note()
        self.bad = ListTable(
            say("Bad lines"), _bad_columns(), key=lambda row: row.number, empty=say("No line is bad."),
        )  # fmt: skip
        self.bad.setMinimumHeight(7 * self.fontMetrics().height())
        self.take_button = Button(say("Bring it in"), self.bring_in, icon_name="tick")
        self.box.insertWidget(1, self.sample)
        for widget in (self.bar, self.stop_button, self.told, self.take_button, self.bad):
            self.box.addWidget(widget)
            widget.hide()
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_MS)
        self._timer.timeout.connect(self._look)
        self.ready()

    def stop(self) -> None:
        """Asks the worker to stop; nothing is brought in then."""
        if self._progress is not None:
            self._progress.stop()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape stops what runs, and only then leaves the form."""
        if self._progress is not None and event.text() == "\x1b":
            self.stop()
        else:
            super().keyPressEvent(event)

    def bring_in(self) -> None:
        """All of it, or what is good of it, as chosen."""
        values = self.form.values()
        if values is None or self._progress is not None:
            return
        target, table, progress = self._target, self._table, self._begin()
        matching, leave_out = self._matching(values), values["bad"]

        def stands(outcome: Outcome) -> None:
            self._ended()
            self._context.tell(_brought(outcome, table.name))
            self._close_form()

        self._context.do(
            lambda seat: tables_in.bring_in(
                seat, target, table, matching, leave_out_bad=leave_out, progress=progress
            ),
            stands, self._refused, changes=self._topics, owner=self,
        )  # fmt: skip

    def _try(self) -> None:
        values = self.form.values()
        if values is None or self._progress is not None:
            return
        target, table, progress = self._target, self._table, self._begin()
        matching = self._matching(values)
        self._context.ask(
            lambda seat: tables_in.trial(seat, target, table, matching, progress),
            self._tried, self._refused, key=f"table in/{id(self)}", owner=self,
        )  # fmt: skip

    def _tried(self, outcome: Outcome) -> None:
        self._ended()
        self.told.setText(_would(outcome))
        self.bad.show_rows(outcome.bad_lines)
        self.told.show()
        self.bad.setVisible(bool(outcome.bad_lines))
        self.take_button.setVisible(outcome.new + outcome.changed > 0)
        self.take_button.setFocus()

    def _refused(self, problem: Problem) -> None:
        self._ended()
        self.form.show_problem(problem)

    def _unmatched(self) -> None:
        """Another matching: what was tried no longer says anything."""
        for widget in (self.told, self.bad, self.take_button):
            widget.hide()

    def _matching(self, values: Mapping[str, Any]) -> dict[str, int]:
        return {w.key: values[w.key] for w in self._target.wanted if values[w.key] is not None}

    def _begin(self) -> Progress:
        self._progress = Progress()
        self.form.clear_problems()
        self.bar.setRange(0, 0)
        self.bar.show()
        self.stop_button.show()
        self._timer.start()
        return self._progress

    def _ended(self) -> None:
        self._progress = None
        self._timer.stop()
        self.bar.hide()
        self.stop_button.hide()

    def _look(self) -> None:
        if self._progress is not None:
            self.bar.setFormat(say("{count} lines", count=self._progress.lines))
            self.bar.setAccessibleDescription(self.bar.format())


def _would(outcome: Outcome) -> str:
    return say("{new} new, {changed} changed, {same} as they were, {bad} bad, of {lines} lines.",
               new=outcome.new, changed=outcome.changed, same=outcome.same, bad=outcome.bad,
               lines=outcome.lines)  # fmt: skip


def _brought(outcome: Outcome, name: str) -> str:
    count, bad = outcome.new + outcome.changed, outcome.bad
    return say("Of {name} came in: {count}. Left out: {bad}.", count=count, name=name, bad=bad)


def _sample(table: Table) -> str:
    """The titles and a few lines, to know the columns by."""
    lines = [" | ".join(cell for cell in line if cell)[:90] for line in table.first(2)]
    return "\n".join([" | ".join(title for title in table.titles if title)[:90], *lines])


def _bad_columns() -> list[Column]:
    return [
        Column("number", say("Line"), lambda r: str(r.number), width=7, figures=True),
        Column("problem", say("What is wrong"), lambda r: say_problem(r.problem), width=30, stretch=True),
    ]
