"""The thermostat card of one job: the steps at the left, the current one large with its answers beside."""

from functools import partial
from typing import Any, ClassVar

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QStackedLayout, QWidget

from shopdesk.domain.problem import Problem
from shopdesk.services import thermostat_card
from shopdesk.services.job_range import JobRange, job_range
from shopdesk.services.seat import Seat
from shopdesk.services.thermostat_card import CardView
from shopdesk.ui.context import Context, Topics
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.thermostat_card.question import QuestionPane
from shopdesk.ui.pages.thermostat_card.shown import steps, verdict_words
from shopdesk.ui.range_words import name_of
from shopdesk.ui.widgets.beside import Beside
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.empty_state import EmptyState
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.letter_keys import LetterKeys
from shopdesk.ui.widgets.strip_list import StripList
from shopdesk.wording import say

_SHOWN = frozenset({"everything", "jobs", "staff"})


class ThermostatCardPage(Page):
    """Figures answer the current step and the next one comes; arrows go between steps; Escape leaves."""

    place: ClassVar[str] = "thermostat-card"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.job_id: int | None = None
        self.card: CardView | None = None
        self._go_on = True  # to the first open step when the card comes
        self.heading = Heading(say("Thermostat card"), "head")
        self.range = Words()
        self.verdict, self.why = Words("", "title"), Words()
        self.list = StripList(say("Steps of the card"), empty="", lines=2)
        self.question = QuestionPane(self.answer, self.begin_again)
        both = Beside(self.list, self.question, context.memory, "card/steps", shares=(4, 5))
        whole = QWidget()
        box = upright([self.heading, self.range, self.verdict, self.why, both], gap="small", margin="gap")
        box.setStretchFactor(both, 1)
        whole.setLayout(box)
        self.empty = EmptyState(
            say("The thermostat card of a range stands here once it is opened from the Bench."),
            (say("Go to the Bench"), partial(context.go, "bench")),
        )
        self._rooms = QStackedLayout(self)
        self._rooms.addWidget(self.empty)
        self._rooms.addWidget(whole)
        self.list.chosen.connect(lambda _key: self._show_step())
        self.list.opened.connect(lambda _key: self.question.focusFirst())
        figures = {Qt.Key(Qt.Key.Key_0 + n): partial(self.question.press, n) for n in range(1, 10)}
        self._keys = LetterKeys(self.list.view, {**figures, Qt.Key.Key_Escape: self._leave})

    def refresh(self, topics: Topics) -> None:
        if self.job_id is None or not topics & _SHOWN:
            return
        job_id = self.job_id

        def question(seat: Seat) -> tuple[JobRange, CardView]:
            return job_range(seat, job_id), thermostat_card.card_view(seat, job_id)

        self.ask(question, self._take, key="card")

    def open_on(self, **what: Any) -> None:
        """`job_id` shows that job's card."""
        self.job_id, self._go_on = int(what["job_id"]), True
        self._rooms.setCurrentIndex(1)
        self.refresh(Page.everything)

    def focusFirst(self) -> None:
        if self.job_id is None:
            self.empty.focusFirst()
        else:
            self.list.focusFirst()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self._keys.act(event):
            super().keyPressEvent(event)

    def answer(self, step: str, answer: str, note: str) -> None:
        """Keeps one answer; the next open step comes."""
        job_id = self.job_id
        if job_id is None:
            return
        self._go_on = True
        self.do(
            lambda seat: thermostat_card.answer_card(seat, job_id, step, answer, note),
            None, self._refuse, changes=("jobs", f"job {job_id}"),
        )  # fmt: skip

    def begin_again(self) -> None:
        """Another card beside the complete one."""
        job_id = self.job_id
        if job_id is not None:
            self._go_on = True
            self.do(lambda seat: thermostat_card.begin_again(seat, job_id), None, self._refuse,
                    changes=("jobs", f"job {job_id}"))  # fmt: skip

    def _take(self, found: tuple[JobRange, CardView]) -> None:
        job, card = found
        self.card = card
        named = name_of(job.maker, job.model, job.colour)
        self.range.setText(say("{number}, {name}", number=job.number, name=named))
        heading, sentence = verdict_words(card, self.context.region)
        self.verdict.setText(heading)
        self.why.setText(sentence)
        self.list.show_rows(steps(card))
        if self._go_on:
            self._go_on = False
            following = next((step.code for step in card.steps if not step.answer), card.steps[0].code)
            self.list.select(following)
            self.list.focusFirst()
        self._show_step()

    def _show_step(self) -> None:
        key, card = self.list.current_key(), self.card
        if card is None:
            return
        step = next((step for step in card.steps if step.code == key), card.steps[0])
        self.question.show_step(step, complete=card.complete_at is not None)

    def _refuse(self, problem: Problem) -> None:
        self._go_on = False
        self.question.show_problem(problem)

    def _leave(self) -> None:
        if self.focusWidget() in (None, self.list.view):
            self.context.go("bench")
        else:
            self.list.focusFirst()
