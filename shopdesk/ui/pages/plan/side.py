"""Beside the drawing or a list: what is chosen, what can be done with it, and one form at a time."""

from collections.abc import Sequence

from PySide6.QtWidgets import QWidget

from shopdesk.domain.problem import Problem
from shopdesk.ui.widgets.boxes import STRETCH, upright
from shopdesk.ui.widgets.headings import Heading, Note, ProblemText, Words
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say_problem


class Side(QWidget):
    """A heading, a sentence, buttons, then whatever else belongs there."""

    def __init__(self, buttons: Sequence[QWidget] = (), more: Sequence[QWidget] = ()) -> None:
        super().__init__()
        self.title = Heading("")
        self.title.setWordWrap(True)
        self.words = Words()
        self.note = Note()
        self.problem = ProblemText()
        self.buttons = WrappedRow(list(buttons))
        self.form: SmallForm | None = None
        self._more = list(more)
        self._room = upright(gap="small")
        body = upright(
            [self.title, self.words, self.note, self.problem, self.buttons, self._room, *more, STRETCH],
            gap="small", margin="gap",
        )  # fmt: skip
        self.setLayout(upright([PageScroll(body)]))

    def say(self, title: str, words: str = "", note: str = "") -> None:
        for label, text in ((self.title, title), (self.words, words), (self.note, note)):
            label.setText(text)
            label.setVisible(bool(text))
        self.problem.show_text("")

    def open_form(self, form: SmallForm) -> None:
        """Shows a form instead of the buttons, with the keyboard in it."""
        self.close_form()
        self.form = form
        for widget in (self.buttons, *self._more):
            widget.hide()
        self._room.addWidget(form)
        form.show()
        form.focusFirst()

    def close_form(self) -> None:
        if self.form is None:
            return
        self._room.removeWidget(self.form)
        self.form.hide()
        self.form.deleteLater()
        self.form = None
        for widget in (self.buttons, *self._more):
            widget.show()

    def show_problem(self, problem: Problem) -> None:
        """Beside the form's field, else under the sentence."""
        if self.form is not None:
            self.form.form.show_problem(problem)
        else:
            self.problem.show_text(say_problem(problem))
