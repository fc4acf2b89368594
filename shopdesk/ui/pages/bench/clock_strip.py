"""The running clock, always in sight: range, task and time; and the question about a forgotten one."""

import datetime as dt

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QFrame, QWidget

from shopdesk.domain.problem import Problem
from shopdesk.services.bench import Clock
from shopdesk.ui.context import Context
from shopdesk.ui.pages.bench.clock_draft import elapsed, hour_of, is_doubtful, since_words, until
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.ui.widgets.fields import TextField
from shopdesk.ui.widgets.headings import ProblemText, Words
from shopdesk.wording import say, say_problem

EVERY_MS = 10_000


class ClockStrip(QFrame):
    """Hidden while no clock of the acting person runs."""

    stopped = Signal(object)  # instant, or None for now
    taskAsked = Signal(int)

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self._clock: Clock | None = None
        self._settled: set[int] = set()  # entries the person said are still running
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.words = Words("", "title")
        self.go_button = Button(say("Show the task"), self._go)
        self.stop_button = MainButton(
            say("Stop the clock (R)"), lambda: self.stopped.emit(None), icon_name="clock-stop"
        )
        self.question = Words("", "body")
        self.field = TextField()
        self.field.setAccessibleName(say("Until when"))
        self.field.setPlaceholderText(say("17:05"))
        self.field.setMaximumWidth(self.fontMetrics().averageCharWidth() * 16)
        self.field.returnPressed.connect(self._stop_then)
        self.then_button = MainButton(say("Stop it then"), self._stop_then, icon_name="clock-stop")
        self.runs_button = Button(say("It still runs"), self._still_runs)
        self.problem = ProblemText()
        row = level([self.words, self.go_button, self.stop_button], gap="gap")
        row.setStretchFactor(self.words, 1)
        self._asking = QWidget()
        answers = level([self.field, self.then_button, self.runs_button, STRETCH], gap="gap")
        self._asking.setLayout(upright([self.question, answers, self.problem], gap="small"))
        self.setLayout(upright([row, self._asking], margin="small"))
        self._timer = QTimer(self)
        self._timer.setInterval(EVERY_MS)
        self._timer.timeout.connect(self._tick)
        self.hide()

    def show_clock(self, clock: Clock | None) -> None:
        """Shows this clock; asks about it when it may have been forgotten."""
        if self._clock is not None and (clock is None or clock.entry_id != self._clock.entry_id):
            self._context.memory.forget(_remembered(self._clock))
        fresh = clock is not None and (self._clock is None or clock.entry_id != self._clock.entry_id)
        self._clock = clock
        self.setVisible(clock is not None)
        if clock is None:
            self._timer.stop()
            self._asking.hide()
            return
        if fresh:
            self._ask_about(clock)
        self._timer.start()
        self._tick()

    @property
    def asks(self) -> bool:
        """Whether it waits for the hour at which a forgotten clock is to stop."""
        return self._clock is not None and not self._asking.isHidden()

    def focusFirst(self) -> None:
        self.field.setFocus()

    def show_problem(self, problem: Problem) -> None:
        self._asking.show()
        self.problem.show_text(say_problem(problem))

    def _ask_about(self, clock: Clock) -> None:
        seen = self._seen(clock)
        now = self._context.seat.now
        doubtful = is_doubtful(clock.started_at, now, self._context.region, seen)
        ask = doubtful and clock.entry_id not in self._settled
        self._asking.setVisible(ask)
        self.stop_button.setVisible(not ask)
        self.problem.show_text("")
        if ask:
            since = since_words(clock.started_at, now, self._context.region)
            self.question.setText(say("Still running since {since}: until when did you work?", since=since))
            self.field.setText(hour_of(seen, self._context.region) if seen else "")
            self.field.selectAll()

    def _tick(self) -> None:
        clock = self._clock
        if clock is None:
            return
        now, region = self._context.seat.now, self._context.region
        text = say(
            "{number}: {task}, {gone} since {since}",
            number=clock.range_number, task=clock.task_name,
            gone=region.hours(elapsed(clock.started_at, now)),
            since=since_words(clock.started_at, now, region),
        )  # fmt: skip
        self.words.setText(text)
        self.setAccessibleName(say("The clock runs. {text}", text=text))
        if not self.asks:
            self._context.memory.keep(_remembered(clock), now.isoformat())

    def _seen(self, clock: Clock) -> dt.datetime | None:
        """When the program was last open with this clock running."""
        kept = self._context.memory.text(_remembered(clock))
        try:
            seen = dt.datetime.fromisoformat(kept)
        except ValueError:
            return None
        known = seen.tzinfo is not None and clock.started_at <= seen <= self._context.seat.now
        return seen if known else None

    def _go(self) -> None:
        if self._clock is not None:
            self.taskAsked.emit(self._clock.task_id)

    def _stop_then(self) -> None:
        if self._clock is None:
            return
        try:
            end = until(self.field.value(), self._clock.started_at, self._context.region)
        except Problem as problem:
            self.problem.show_text(say_problem(problem))
            self.field.setFocus()
            return
        self.stopped.emit(end)

    def _still_runs(self) -> None:
        if self._clock is not None:
            self._settled.add(self._clock.entry_id)
        self._asking.hide()
        self.stop_button.show()
        self._tick()


def _remembered(clock: Clock) -> str:
    return f"bench/clock-{clock.entry_id}"
