"""The bar chosen in the drawing: pinned, put elsewhere or dragged, always asked first who pays for it."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from shopdesk.domain.rights import Action
from shopdesk.services.planning import plans
from shopdesk.services.planning.agreeing import agree
from shopdesk.services.planning.picture import Bar, Picture, picture_of
from shopdesk.services.planning.suppose import HoldTask, MovePromise
from shopdesk.services.planning.what_if import Answer, what_if
from shopdesk.ui.context import Topics
from shopdesk.ui.pages.plan.answer_view import AnswerView
from shopdesk.ui.pages.plan.chart import PlanChart
from shopdesk.ui.pages.plan.lanes import bar_words
from shopdesk.ui.pages.plan.place_form import place_form
from shopdesk.ui.pages.plan.side import Side
from shopdesk.ui.widgets.buttons import Button
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.ui.pages.page import Page


class ChosenBar:
    """What is said and done beside the drawing; `refresh` and `focus` give the drawing back."""

    def __init__(
        self, page: "Page", chart: PlanChart, refresh: Callable[[Topics], None], focus: Callable[[], None]
    ) -> None:
        self.page, self.context, self.chart = page, page.context, chart
        self._refresh, self._focus = refresh, focus
        self.answer = AnswerView(self.context, self._agree, self._leave_answer)
        self.pin_button = Button(say("Pin it (P)"), self.pin, icon_name="pin")
        self.move_button = Button(say("Put it elsewhere… (M)"), self.put_elsewhere)
        self.jacket_button = Button(say("Jacket (J)"), self.open_jacket, icon_name="jacket")
        chart.chosen.connect(self._follow)
        chart.moveAsked.connect(self._dragged)
        chart.promiseAsked.connect(self._promise_dragged)
        chart.may_move = self._may_plan()

    def make_side(self, below: Sequence[QWidget]) -> Side:
        """The column beside the drawing: the bar's deeds, the answer, and what the section says `below`."""
        self.side = Side([self.pin_button, self.move_button, self.jacket_button], [self.answer, *below])
        return self.side

    def _may_plan(self) -> bool:
        return self.context.may(Action.PLAN_BENCH)

    def _follow(self, bar: Bar | None) -> None:
        if self.side.form is not None or self.answer.answer is not None:
            return
        here = bar is not None
        self.pin_button.setVisible(here and self._may_plan() and bar is not None and bar.kind == "hand")
        self.move_button.setVisible(here and self._may_plan() and bar is not None and bar.kind == "hand")
        self.jacket_button.setVisible(here)
        if bar is None or self.chart.picture is None:
            self.side.say(say("Plan"), say("Choose a bar with the arrow keys or the mouse."))
            return
        self.pin_button.setText(say("Let it go (P)") if bar.pinned else say("Pin it (P)"))
        words = bar_words(bar, self.context.region, self.chart.picture.today).partition("; ")[2]
        self.side.say(f"{bar.number}: {bar.task}", words)

    def pin(self) -> None:
        """Holds the bar where it is, with its person; or lets it go."""
        bar = self.chart.current_bar()
        if bar is None or bar.kind != "hand" or not self._may_plan():
            return
        day, minute = bar.begins
        if bar.pinned:
            told = say("{task} may move again.", task=bar.task)
            self.page.do(
                lambda seat: plans.unpin(seat, bar.task_id), lambda _none: self.context.tell(told),
                self.side.show_problem, changes=["plan"],
            )  # fmt: skip
            return
        told = say("{task} stays where it is.", task=bar.task)
        self.page.do(
            lambda seat: plans.pin(seat, bar.task_id, day=day, minute=minute, staff_id=bar.staff_id),
            lambda _none: self.context.tell(told), self.side.show_problem, changes=["plan"],
        )  # fmt: skip

    def open_jacket(self) -> None:
        bar = self.chart.current_bar()
        if bar is not None:
            self.context.open_jacket(bar.range_id)

    def put_elsewhere(self) -> None:
        """By keyboard what dragging does by mouse: day, time and person, asked first."""
        bar = self.chart.current_bar()
        found = self.chart.picture
        if bar is None or found is None or bar.kind != "hand" or not self._may_plan():
            return
        people = [(person.staff_id, person.name) for person in found.people]
        form = place_form(self.context, bar, people, self._ask_about, self._close_form)
        self.side.open_form(form)

    def _close_form(self) -> None:
        self.side.close_form()
        self._refresh(self.page.everything)
        self._focus()

    # What if

    def _dragged(self, bar: Bar, place: float, row: object) -> None:
        found = self.chart.picture
        if found is None:
            return
        who = row if self.chart.sorting == "person" and isinstance(row, int) else bar.staff_id
        minute = _minute_of(found.share_at(place), bar, found)
        self._ask_about(HoldTask(bar.task_id, found.day_at(place), minute, who))

    def _promise_dragged(self, job_id: int, place: float) -> None:
        if self.chart.picture is not None:
            self._ask_about(MovePromise(job_id, self.chart.picture.day_at(place)))

    def _ask_about(self, supposed: HoldTask | MovePromise) -> None:
        self.side.say(say("Asking who pays for it…"))
        self.page.ask(
            lambda seat: what_if(seat, supposed, with_odds=False), self._show_answer,
            self.side.show_problem, key="what if",
        )  # fmt: skip

    def _show_answer(self, answer: Answer) -> None:
        self.side.close_form()
        deed = say("Hold it there") if isinstance(answer.supposed, HoldTask) else say("Move the promise…")
        self.answer.show_answer(answer, agree=deed)
        self.side.say(say("Before it holds"))
        for button in (self.pin_button, self.move_button, self.jacket_button):
            button.hide()
        if self.chart.picture is not None:
            self.chart.show_picture(picture_of(answer.made, self.chart.picture.kept), self.chart.sorting)

    def _agree(self, answer: Answer) -> None:
        supposed = answer.supposed
        if isinstance(supposed, MovePromise):
            why = self.context.dialogs.write(
                say("Move the promise"), say("Why it changes; the customer is told this.")
            )
            if not why:
                return
            done = say("The promise is moved; the note to the customer is ready under Promises.")
        else:
            assert isinstance(supposed, HoldTask)
            why, done = "", say("The task is held there.")

        def stands(_none: object) -> None:
            self.answer.put_away()
            self.context.tell(done)
            self._focus()

        self.page.do(
            lambda seat: agree(seat, answer, why), stands, self.side.show_problem, changes=["plan", "jobs"]
        )  # fmt: skip

    def _leave_answer(self) -> None:
        self._refresh(self.page.everything)
        self._focus()


def _minute_of(share: float, bar: Bar, picture: Picture) -> int:
    """The half-hour at a share of a day's opening hours, as the bar's own day shows them."""
    first, last = picture.share_at(bar.begin), picture.share_at(max(bar.begin, bar.end - 1e-9))
    opens, closes = 8 * 60.0, 16 * 60 + 30.0
    if bar.begins[0] == bar.ends[0] and last > first:
        per_share = (bar.ends[1] - bar.begins[1]) / (last - first)
        opens = bar.begins[1] - first * per_share
        closes = opens + per_share
    return round((opens + share * (closes - opens)) / 30) * 30
