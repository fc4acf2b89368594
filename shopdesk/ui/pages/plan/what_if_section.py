"""What if: suppose one thing, see who pays for it before agreeing."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from PySide6.QtWidgets import QStackedWidget, QWidget

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import people
from shopdesk.services.planning.agreeing import agree
from shopdesk.services.planning.picture import Picture, picture
from shopdesk.services.planning.suppose import Hire, MovePromise, Shut, Supposed, TakeIn
from shopdesk.services.planning.what_if import Answer, what_if
from shopdesk.ui.context import Topics
from shopdesk.ui.pages.plan.answer_view import AnswerView
from shopdesk.ui.widgets.beside import Beside
from shopdesk.ui.widgets.boxes import STRETCH, upright
from shopdesk.ui.widgets.fields import ChoiceField, DayField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Note, Words
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat
    from shopdesk.ui.pages.page import Page


@dataclass(frozen=True, slots=True)
class _Asked:
    """Everything the forms choose from."""

    picture: Picture
    trades: tuple[str, ...]


class WhatIfSection(QWidget):
    """Four questions; each has its form, all have the same answer."""

    topics: Topics = frozenset({"everything", "jobs", "plan", "staff", "people"})

    def __init__(self, page: "Page") -> None:
        super().__init__()
        self.page, self.context = page, page.context
        self.question = ChoiceField(
            [
                ("take in", say("we take this range in")),
                ("promise", say("this promise moves")),
                ("hire", say("somebody helps for a while")),
                ("shut", say("a firm outside is shut")),
            ]
        )
        self.question.setAccessibleName(say("What is supposed"))
        self.forms = QStackedWidget()
        self._forms: dict[str, Form] = {
            "take in": self._take_in(), "promise": self._promise(), "hire": self._hire(),
            "shut": self._shut(),
        }  # fmt: skip
        self._holders: dict[str, QWidget] = {}
        for name, form in self._forms.items():
            holder = QWidget()
            holder.setLayout(upright([form, STRETCH]))
            self._holders[name] = holder
            self.forms.addWidget(holder)
        self.question.edited.connect(self._choose)
        self.waiting = Note()
        self.answer = AnswerView(self.context, self._agree, self.focusFirst)
        self.hint = Words(
            say("Nothing is changed by asking. The answer compares with today's plan."), "body", "muted"
        )
        left, right = QWidget(), QWidget()
        left.setLayout(upright([Words(say("What if")), self.question, self.forms, self.waiting, STRETCH]))
        right.setLayout(upright([PageScroll(upright([self.hint, self.answer, STRETCH], margin="gap"))]))
        self.setLayout(upright([Beside(left, right, self.context.memory, "plan/what-if", shares=(2, 3))]))

    def refresh(self, _topics: Topics) -> None:
        self.page.ask(_choices, self._show_choices, key="choices")

    def focusFirst(self) -> None:
        self.question.setFocus()

    # Forms

    def _take_in(self) -> Form:
        form = Form()
        form.add("job", say("Range"), ChoiceField(), required=say("Choose a range."),
                 note=say("One that waits for its answer, or another like one that is here."))  # fmt: skip
        form.add("on", say("From"), DayField(self.context.region), required=say("Write the day."))
        form["on"].setValue(self.context.seat.today)
        form.on_save(say("See who pays"), lambda v: self._ask(TakeIn(v["job"][0], v["on"], v["job"][1])))
        return form

    def _promise(self) -> Form:
        form = Form()
        form.add("job", say("Range"), ChoiceField(), required=say("Choose a range."))
        form.add("on", say("Ready on"), DayField(self.context.region), required=say("Write the day."))
        form.on_save(say("See who pays"), lambda v: self._ask(MovePromise(v["job"], v["on"])))
        return form

    def _hire(self) -> Form:
        form = Form()
        form.add("name", say("Who"), TextField(say("A helper")), required=say("Write a name."))
        form.add(
            "skills",
            say("Skills"),
            TextField(),
            note=say("Parted by commas; empty: all that the bench does."),
        )
        self._days(form)
        form.on_save(
            say("See who pays"),
            lambda v: self._ask(Hire(v["name"], v["first_day"], v["last_day"], _split(v["skills"]))),
        )
        return form

    def _shut(self) -> Form:
        form = Form()
        form.add("trade", say("Who is shut"), ChoiceField(), required=say("Choose a trade."))
        self._days(form)
        form.on_save(
            say("See who pays"), lambda v: self._ask(Shut(v["trade"], v["first_day"], v["last_day"]))
        )
        return form

    def _days(self, form: Form) -> None:
        for name, label in (("first_day", say("From")), ("last_day", say("Up to and with"))):
            form.add(name, label, DayField(self.context.region), required=say("Write the day."))

    def _choose(self) -> None:
        self.forms.setCurrentWidget(self._holders[self.question.value()])

    def _show_choices(self, asked: _Asked) -> None:
        found = asked.picture
        waiting = [
            ((row.job_id, False), say("{range} {name}, when it is agreed", range=row.number, name=row.name))
            for row in found.unanswered
        ]
        unanswered = {row.job_id for row in found.unanswered}
        here = [
            (row.job_id, f"{row.number} {row.name}") for row in found.ranges if row.job_id not in unanswered
        ]
        like = [((key, True), say("another like {range}", range=name)) for key, name in here]
        self._forms["take in"]["job"].setChoices(waiting + like)
        self._forms["promise"]["job"].setChoices(here)
        self._forms["shut"]["trade"].setChoices([(trade, say(trade)) for trade in asked.trades])

    # Asking and agreeing

    def _ask(self, supposed: Supposed) -> None:
        form = self._forms[self.question.value()]
        self.waiting.setText(say("Planning both ways…"))

        def shown(answer: Answer) -> None:
            self.waiting.setText("")
            self.hint.hide()
            self.answer.show_answer(answer, agree=self._agree_words(supposed))

        def refused(problem: Problem) -> None:
            self.waiting.setText("")
            form.show_problem(problem)

        self.page.ask(lambda seat: what_if(seat, supposed), shown, refused, key="what if")

    def _agree_words(self, supposed: Supposed) -> str:
        """What can be agreed to here; taking in and hiring are agreed with people, not with the plan."""
        if isinstance(supposed, MovePromise) and self.context.may(Action.PROMISE):
            return say("Move the promise…")
        if isinstance(supposed, Shut) and self.context.may(Action.KEEP_HOURS):
            return say("Write it down and plan so")
        return ""

    def _agree(self, answer: Answer) -> None:
        supposed = answer.supposed
        why: str | None = ""
        if isinstance(supposed, MovePromise):
            why = self.context.dialogs.write(
                say("Move the promise"), say("Why it changes; the customer is told this.")
            )
            if not why:
                return

        def stands(_none: object) -> None:
            self.answer.leave()
            self.hint.show()
            self.context.tell(say("It is written down."))

        form = self._forms[self.question.value()]
        self.page.do(
            lambda seat: agree(seat, answer, why or ""), stands, form.show_problem, changes=["plan", "jobs"]
        )  # fmt: skip


def _choices(seat: "Seat") -> _Asked:
    found = picture(seat)
    firms = {row.trade for row in people.parties(seat, kind="outworker")}
    tasks = {outwork.trade for task in seat.catalogue.tasks.values() if (outwork := task.outwork)}
    return _Asked(found, tuple(sorted(firms | tasks)))


def _split(words: Any) -> tuple[str, ...]:
    return tuple(word.strip() for word in str(words).split(",") if word.strip())
