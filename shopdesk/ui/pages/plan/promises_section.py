"""Every promise with its odds this morning: why they fell, what was promised before, a day to promise."""

import datetime as dt
import threading
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.planning import promises
from shopdesk.services.planning.morning import Morning, MorningRow, morning
from shopdesk.services.planning.outlook import Odds, ShopOdds, ready_by
from shopdesk.services.planning.promises import PromiseRow
from shopdesk.ui.context import Topics
from shopdesk.ui.pages.plan.answer_view import strip_of
from shopdesk.ui.pages.plan.side import Side
from shopdesk.ui.pages.plan.words import listed, odds_words, promise_line, three_days
from shopdesk.ui.widgets.beside import Beside
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.ui.widgets.fields import DayField, NoteField
from shopdesk.ui.widgets.headings import Heading, Note, Words
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.ui.widgets.strip_list import StripList
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat
    from shopdesk.ui.pages.page import Page


class PromisesSection(QWidget):
    """D promises a day, N copies the note, J opens the jacket."""

    topics: Topics = frozenset({"everything", "jobs", "stores", "plan", "staff", "settings"})

    def __init__(self, page: "Page") -> None:
        super().__init__()
        self.page, self.context = page, page.context
        self._gone = threading.Event()
        self.morning: Morning | None = None
        self._wanted: int | None = None
        self.list = StripList(
            say("Promises"),
            empty=say("Ranges that are agreed will stand here, each with the day promised and its odds."),
        )
        self.list.chosen.connect(lambda _key: self._follow())
        self.list.opened.connect(lambda _key: self.promise())
        self.day_button = MainButton(say("Promise a day… (D)"), self.promise, icon_name="calendar")
        self.note_button = Button(say("Copy the note (N)"), self.copy_note, icon_name="note")
        self.jacket_button = Button(say("Jacket (J)"), self.open_jacket, icon_name="jacket")
        self.again_button = Button(say("Work the odds out again"), lambda: self.refresh(frozenset()))
        self.note_head, self.note = Heading(say("Note to the customer"), "strong"), Words()
        self.before_head, self.before = Heading(say("Promised before"), "strong"), Note()
        self.side = Side(
            [self.day_button, self.note_button, self.jacket_button],
            [self.note_head, self.note, self.before_head, self.before],
        )
        self.status = Words("", "small", "muted")
        left = QWidget()
        inside = upright([self.status, WrappedRow([self.again_button]), self.list], gap="small")
        inside.setStretchFactor(self.list, 1)
        left.setLayout(inside)
        self.setLayout(
            upright([Beside(left, self.side, self.context.memory, "plan/promises", shares=(3, 2))])
        )
        for letter, deed in (("D", self.promise), ("N", self.copy_note), ("J", self.open_jacket)):
            shortcut = QShortcut(QKeySequence(letter), self.list.view)
            shortcut.setContext(Qt.ShortcutContext.WidgetShortcut)
            shortcut.activated.connect(deed)
        self._follow()

    def refresh(self, _topics: Topics) -> None:
        self._gone.clear()
        self.status.setText(say("Living the plan through to see how likely each promise is…"))
        self.page.ask(
            lambda seat: morning(seat, stop=self._gone.is_set), self.show_morning, self._refused, key="odds"
        )  # fmt: skip

    def leave(self) -> None:
        self._gone.set()

    def focusFirst(self) -> None:
        self.list.focusFirst()

    def put_on(self, job_id: int) -> None:
        """Chooses a job's promise, at once or when its odds have come."""
        self._wanted = job_id
        self.list.select(job_id)

    def show_morning(self, found: Morning) -> None:
        self.morning = found
        region, today = self.context.region, found.day
        self.list.show_rows([strip_of(promise_line(row, region, today)) for row in found.rows])
        if self._wanted is not None and self.list.select(self._wanted):
            self._wanted = None
        elif found.rows and not self.list.selected():
            self.list.select(found.rows[0].odds.job_id)
        fallen = sum(1 for row in found.rows if row.fell)
        told = say("Odds of {day}, by living the plan through 300 times.", day=region.day(today))
        if not found.by_record:
            told = say("{told} Hours and surprises are judgement until ten ranges are finished.", told=told)
        if fallen:
            told = say("{told} {count} fell since the last morning.", told=told, count=fallen)
        self.status.setText(told)
        self._follow()

    def current(self) -> MorningRow | None:
        key = self.list.current_key()
        rows = self.morning.rows if self.morning else ()
        return next((row for row in rows if row.odds.job_id == key), None)

    def _refused(self, problem: Problem) -> None:
        self.status.setText("")
        self.side.show_problem(problem)

    def _follow(self) -> None:
        row = self.current()
        self.side.close_form()
        for widget in (self.day_button, self.jacket_button):
            widget.setVisible(row is not None)
        self.day_button.setVisible(row is not None and self.context.may(Action.PROMISE))
        for shown in (self.note_button, self.note_head, self.note, self.before_head, self.before):
            shown.hide()
        if row is None:
            self.side.say(
                say("Promises"), say("Choose a range to promise a day or to see why its odds fell.")
            )
            return
        odds, region, today = row.odds, self.context.region, self.context.seat.today
        words = [say("{range}, {name}", range=odds.number, name=odds.name)]
        if odds.promised_on is not None:
            day = region.day(odds.promised_on)
            chances = odds_words(odds.percent) or say("cannot be told")
            words = [say("Promised for {day}: {odds}.", day=day, odds=chances)]
        words.append(three_days(odds, region, today))
        notes = listed(row.reasons)
        if not row.reasons and odds.decides:
            notes = say("What decides most: {tasks}.", tasks="; ".join(odds.decides))
        self.side.say(odds.number, "\n".join(word for word in words if word), notes)
        job_id = odds.job_id
        self.page.ask(
            lambda seat: promises.promises(seat, job_id), lambda rows: self._show_past(job_id, rows),
            key="past",
        )  # fmt: skip

    def _show_past(self, job_id: int, rows: list[PromiseRow]) -> None:
        row = self.current()
        if row is None or row.odds.job_id != job_id or self.side.form is not None:
            return
        note = rows[0].note if rows else ""
        self.note.setText(note)
        for widget in (self.note_head, self.note, self.note_button):
            widget.setVisible(bool(note))
        past = [self._past_words(each) for each in rows]
        self.before.setText(listed(past))
        self.before.setVisible(bool(past))
        self.before_head.setVisible(bool(past))

    def _past_words(self, row: PromiseRow) -> str:
        region = self.context.region
        said = region.day(region.local_day(row.at))
        if row.on_day is None:
            return say("{said}: taken back. {why}", said=said, why=row.why)
        told = say("{said}: {day}", said=said, day=region.day(row.on_day))
        if row.odds_percent is not None:
            told = say("{told}, at {odds} %", told=told, odds=row.odds_percent)
        return f"{told}. {row.why}" if row.why else told

    # Deeds

    def promise(self) -> None:
        """Works out the days for this range, then asks for one; a change asks for its reason."""
        row = self.current()
        if row is None or not self.context.may(Action.PROMISE):
            return
        job_id = row.odds.job_id
        self.side.say(row.odds.number, say("Working out when it can be ready…"))
        self.page.ask(
            lambda seat: ready_by(seat, job_id), lambda found: self._open_form(*found),
            lambda _problem: self._open_form(row.odds, None), key="ready",
        )  # fmt: skip

    def _open_form(self, odds: Odds, whole: ShopOdds | None) -> None:
        region, today = self.context.region, self.context.seat.today

        def save(values: dict[str, Any]) -> None:
            self._save(odds, whole, values["on"], values.get("why", ""))

        form = SmallForm(
            say("Promise a day for {range}", range=odds.number), say("Promise it"), save, self._close_form
        )
        chosen = whole.chosen_percent if whole else 80
        note = say("The shop promises at {percent} %. Empty takes the promise back.", percent=chosen)
        form.form.add_words(Words(three_days(odds, region, today)))
        form.form.add("on", say("Ready on"), DayField(region), note=note)
        form.form["on"].setValue(odds.chosen_on or odds.promised_on)
        if odds.promised_on is not None:
            form.form.add("why", say("Why it changes"), NoteField(lines=2), note=say("The customer is told."))
        self.side.say("")
        self.side.open_form(form.ready())

    def _close_form(self) -> None:
        self.side.close_form()
        self._follow()
        self.list.focusFirst()

    def _save(self, odds: Odds, whole: ShopOdds | None, on: dt.date | None, why: str) -> None:
        told = (odds, whole) if whole is not None else None

        def action(seat: "Seat") -> str:
            return promises.promise(seat, odds.job_id, on, why, told=told)

        def stands(note: str) -> None:
            self._close_form()
            text = say("{range} is promised.", range=odds.number) if on else say(
                "The promise of {range} is taken back.", range=odds.number
            )  # fmt: skip
            self.context.tell(text, *((say("Copy the note"), lambda: _copy(note)) if note else ()))

        self.page.do(
            action, stands, self.side.show_problem, changes=[f"job {odds.job_id}", "jobs", "plan"]
        )  # fmt: skip

    def copy_note(self) -> None:
        """The note to the customer, to paste into a letter or a message."""
        if self.note.text():
            _copy(self.note.text())
            self.context.tell(say("The note is copied."))

    def open_jacket(self) -> None:
        row = self.current()
        if row is not None:
            self.context.open_jacket(row.odds.range_id)


def _copy(text: str) -> None:
    QGuiApplication.clipboard().setText(text)
