"""A part of a job at the counter: a heading, what stands there, its deeds, and the form of the one begun.

One form at a time is open in a section; Escape leaves it, and what was typed stays as a draft. A deed that
is under way is not begun twice.
"""

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget

from shopdesk.domain.changed import Seen
from shopdesk.domain.problem import Problem
from shopdesk.services.counter import JobAtCounter
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.boxes import emptied, upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading, ProblemText
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say, say_problem

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat

T = TypeVar("T")


class Section(QWidget):
    """`key` is what next steps lead to; `grown` asks the page to bring the open form into sight."""

    key = ""
    grown = Signal(object)  # QWidget

    def __init__(self, page: Page, title: str) -> None:
        super().__init__()
        self.page = page
        self.context = page.context
        self.job: JobAtCounter | None = None
        self.read: Seen | None = None  # the state of the shop the job was read from
        self.form: Form | None = None
        self._busy = False
        self._back: QWidget | None = None
        self.refusal = ProblemText()
        self._panel_box = upright(margin="gap")
        self.panel = QWidget()
        self.panel.setLayout(self._panel_box)
        self.panel.hide()
        self.body = upright(gap="small")
        self.setLayout(upright([Heading(title), self.body, self.refusal, self.panel], gap="small"))
        leave = QShortcut(QKeySequence("Esc"), self.panel)
        leave.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        leave.activated.connect(self.leave_form)

    # What a section fills in

    def show_job(self, job: JobAtCounter) -> None:
        """Shows the job; another job closes the open form."""
        if self.job is not None and self.job.head.found.job_id != job.head.found.job_id:
            self.leave_form()
            self.refusal.show_text("")
        self.job, self.read = job, self.context.reading

    def focusFirst(self) -> None:
        """The keyboard where the section's work begins."""

    # What a section leans on

    @property
    def job_id(self) -> int:
        assert self.job is not None, "a section acts on the job it shows"
        return self.job.head.found.job_id

    def deeds(self, buttons: Sequence[Button]) -> QWidget:
        """A row of buttons; those that do not apply hide."""
        return WrappedRow(buttons)

    def open_form(self, title: str, form: Form, above: Sequence[QWidget] = ()) -> None:
        """Shows a form, its main button already set, in place of the one before."""
        if not self.panel.isVisible():
            self._back = self.window().focusWidget()
        self._clear()
        self.form = form
        form.add_button(Button(say("Leave it"), self.leave_form))
        for widget in (Heading(title), *above, form):
            self._panel_box.addWidget(widget)
        self.panel.show()
        form.focusFirst()
        self.grown.emit(self.panel)

    def leave_form(self) -> None:
        """Closes the form; the keyboard goes back to where it was."""
        back, self._back = self._back, None
        focus: QWidget | None = self.window().focusWidget()
        had_focus = focus is not None and self.panel.isAncestorOf(focus)
        self._clear()
        self.panel.hide()
        if had_focus and back is not None and back.isVisible():
            back.setFocus(Qt.FocusReason.OtherFocusReason)

    def act(
        self, action: Callable[["Seat"], T], then: Callable[[T], None] | None = None, *,
        changes: Iterable[str] = (),
    ) -> None:  # fmt: skip
        """Does it for the job; a refusal stands in the open form, else under the section."""
        if self._busy:
            return
        self._busy = True
        self.refusal.show_text("")
        form = self.form

        def done(result: T) -> None:
            self._busy = False
            if form is not None and form is self.form:
                form.saved()
                self.leave_form()
            if then is not None:
                then(result)

        def refused(problem: Problem) -> None:
            self._busy = False
            if form is not None and form is self.form:
                form.show_problem(problem)
            else:
                self.refusal.show_text(say_problem(problem))
                self.grown.emit(self.refusal)

        topics = [f"job {self.job_id}", "jobs", "money", "papers", *changes]
        self.page.do(action, done, refused, changes=topics, form=form)

    def show_paper(self, number: str, title: str, kind: str) -> None:
        self.context.show_paper(number, title, kind)

    def _clear(self) -> None:
        self.form = None
        emptied(self._panel_box)
