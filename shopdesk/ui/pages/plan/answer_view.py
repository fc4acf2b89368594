"""The answer to a what-if: what was asked, who pays, who gains; agreed to or left."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from shopdesk.services.planning.what_if import Answer
from shopdesk.ui.context import Context
from shopdesk.ui.pages.plan.words import Line, answer_words, moved_line, supposed_words
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say


class AnswerView(QWidget):
    """Hidden until there is an answer. `agree` is offered only where something can be agreed to."""

    def __init__(self, context: Context, agree: Callable[[Answer], None], leave: Callable[[], None]) -> None:
        super().__init__()
        self._context, self._agree, self._leave = context, agree, leave
        self.answer: Answer | None = None
        self.asked = Heading("")
        self.asked.setWordWrap(True)
        self.told = Words()
        self.agree_button = MainButton(say("Agree to it"), self.agree)
        self.leave_button = Button(say("Leave it (Esc)"), self.leave)
        self.list = StripList(
            say("Who pays and who gains"), empty=say("No range is ready on another day."), most=9
        )
        self.list.opened.connect(self._open)
        self.setLayout(
            upright(
                [self.asked, self.told, WrappedRow([self.agree_button, self.leave_button]), self.list],
                gap="small",
            )
        )
        self.hide()

    def show_answer(self, answer: Answer, *, agree: str = "") -> None:
        """`agree` is what agreeing does, on its button; empty: it can only be known."""
        self.answer = answer
        region, today = self._context.region, self._context.seat.today
        self.asked.setText(supposed_words(answer.supposed, region, today))
        self.told.setText(answer_words(answer, region, today))
        self.agree_button.setText(agree)
        self.agree_button.setAccessibleName(agree)
        self.agree_button.setVisible(bool(agree))
        rows = [moved_line(row, region, today) for row in (*answer.pays, *answer.gains)]
        self.list.show_rows([strip_of(row) for row in rows])
        self.show()
        (self.agree_button if agree else self.leave_button).setFocus()

    def agree(self) -> None:
        if self.answer is not None:
            self._agree(self.answer)

    def leave(self) -> None:
        self.put_away()
        self._leave()

    def put_away(self) -> None:
        self.answer = None
        self.hide()

    def _open(self, job_id: object) -> None:
        answer = self.answer
        if answer is None:
            return
        for row in answer.ranges:
            if row.job_id == job_id and row.range_id is not None:
                self._context.open_jacket(row.range_id)


def strip_of(line: Line) -> Strip:
    """A line of words as a drawn strip."""
    return Strip(line.key, line.title, line.second, line.right, line.below, tone=line.tone)  # type: ignore[arg-type]
