"""The way in for a shop's older books: customers, parts and open jobs out of CSV or XLSX files."""

from functools import partial
from typing import TYPE_CHECKING, Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.ui.context import Context
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.headings import ProblemText, Words
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say, say_problem

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat


class OlderBooks(QWidget):
    """Three buttons; the form of the table that is being brought in stands below them."""

    def __init__(self, context: Context) -> None:
        super().__init__()
        self._context = context
        self.form: QWidget | None = None
        self.buttons = {
            kind: Button(text, partial(self.bring, kind), icon_name="open")
            for kind, text, action in (
                ("customers", say("Customers…"), Action.KEEP_PEOPLE),
                ("parts", say("Parts…"), Action.KEEP_STORES),
                ("open jobs", say("Open jobs…"), Action.BOOK_IN),
            )
            if context.may(action)
        }
        self.problem = ProblemText()
        words = Words(
            say(
                "Tables saved as CSV or XLSX come in here: a line for each customer, part or range that "
                "stands in the shop. Say which column is which, try it, and see what would come of it "
                "before anything is written. Bring a table in again when it grew: what is known is known."
            ),
            "body",
            "muted",
        )
        self._box: QVBoxLayout = upright([words, WrappedRow(list(self.buttons.values())), self.problem])
        self.setLayout(self._box)

    def bring(self, kind: str) -> None:
        """Asks for the file and shows the form that matches its columns."""
        path = self._context.dialogs.open_file(self._title(kind), say("Tables"), _patterns())
        if path is None:
            return
        self.close_form()
        self.problem.show_text("")
        self._context.ask(
            lambda seat: _opened(seat, kind, path),
            lambda found: self._show(kind, *found),
            self._refused,
            owner=self,
        )

    def close_form(self) -> None:
        """Takes the form away; the keyboard goes back to the buttons."""
        if self.form is not None:
            self.form.hide()
            self.form.deleteLater()
            self.form = None
            next(iter(self.buttons.values())).setFocus()

    def _show(self, kind: str, target: Any, table: Any, matching: dict[str, int]) -> None:
        from shopdesk.ui.table_in_form import TableInForm

        self.close_form()
        self.form = TableInForm(
            self._title(kind), target, table, matching, self._context, self.close_form,
            topics=("people", "stores", "jobs", "ranges"), columns=2,
        )  # fmt: skip
        self._box.addWidget(self.form)
        self.form.show()
        self.form.focusFirst()

    def _refused(self, problem: Problem) -> None:
        self.problem.show_text(say_problem(problem))

    def _title(self, kind: str) -> str:
        return {
            "customers": say("Customers of the older books"),
            "parts": say("Parts of the older books"),
            "open jobs": say("Open jobs of the older books"),
        }[kind]


def _patterns() -> str:
    from shopdesk.ui.table_in_form import TABLES

    return TABLES


def _opened(seat: "Seat", kind: str, path: Any) -> tuple[Any, Any, dict[str, int]]:
    from shopdesk.services.brought.kinds import opened

    return opened(seat, kind, path)
