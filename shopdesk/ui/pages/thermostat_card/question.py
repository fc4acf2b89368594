"""One step of the card: what is asked, how to tell, and its answers as large buttons with their figures."""

from collections.abc import Callable
from functools import partial

from shopdesk.domain.problem import Problem
from shopdesk.services.thermostat_card import CardStep
from shopdesk.ui.widgets.boxes import STRETCH, emptied, upright
from shopdesk.ui.widgets.fields import TextField
from shopdesk.ui.widgets.headings import Note, ProblemText, Words
from shopdesk.ui.widgets.large_buttons import LargeMainButton, SentenceButton
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.wording import say, say_problem

Answer = Callable[[str, str, str], object]


class QuestionPane(PageScroll):
    """`answer` gets step, answer and note; a complete card is not answered, another one is begun."""

    def __init__(self, answer: Answer, begin_again: Callable[[], object]) -> None:
        self._answer = answer
        self._step: CardStep | None = None
        self._complete = False
        self._shown: tuple[object, ...] = ()
        self.ask = Words("", "title")
        self.tell = Words("", "body", "muted")
        self.problem = ProblemText()
        self.note = TextField()
        self.note.setAccessibleName(say("A word about it, kept with the answer"))
        self.note.setPlaceholderText(say("A word about it, kept with the answer"))
        self.note.returnPressed.connect(self._keep_note)
        self.again = LargeMainButton(say("Begin another card"), begin_again, icon_name="add")
        self.kept = Note(say("A complete card is kept as it was answered."))
        self.buttons: list[SentenceButton] = []
        self._room = upright(gap="small")
        parts = (self.ask, self.tell, self._room, self.note, self.problem, self.kept, self.again, STRETCH)
        super().__init__(upright(parts, gap="gap", margin="gap"))

    def show_step(self, step: CardStep, *, complete: bool) -> None:
        """Another step takes its place; what was typed for the same one stays."""
        if self._step is None or self._step.code != step.code:
            self.note.setValue(step.note)
        self._step, self._complete = step, complete
        self.ask.setText(step.ask)
        self.tell.setText(step.tell)
        self.problem.show_text("")
        self._lay(step)
        for widget, here in ((self.note, not complete), (self.kept, complete), (self.again, complete)):
            widget.setVisible(here)

    def press(self, figure: int) -> None:
        """As if the button with this figure were pressed."""
        if 1 <= figure <= len(self.buttons) and not self._complete:
            self.buttons[figure - 1].click()

    def show_problem(self, problem: Problem) -> None:
        self.problem.show_text(say_problem(problem))

    def focusFirst(self) -> None:
        (self.again if self._complete else self.buttons[0] if self.buttons else self.note).setFocus()

    def _lay(self, step: CardStep) -> None:
        """A button an answer; the one given carries the tick."""
        shown = (step.code, step.answer, self._complete)
        if shown == self._shown:
            return
        self._shown = shown
        emptied(self._room)
        self.buttons = []
        for figure, (code, words) in enumerate(step.answers, 1):
            text = say("{figure}  {words}", figure=figure, words=words)
            given = code == step.answer
            button = SentenceButton(text, partial(self._take, code), icon_name="tick" if given else "")
            button.setAccessibleName(say("{words}, chosen", words=words) if given else words)
            button.setEnabled(not self._complete)
            self._room.addWidget(button)
            self.buttons.append(button)

    def _take(self, code: str) -> None:
        if self._step is not None:
            self._answer(self._step.code, code, self.note.value())

    def _keep_note(self) -> None:
        if self._step is not None and self._step.answer:
            self._answer(self._step.code, self._step.answer, self.note.value())
