"""The drawn plan with what makes it: planning and stopping, undoing, sorting, papers."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.planning import plans
from shopdesk.services.planning.picture import Picture, picture
from shopdesk.ui.context import Topics
from shopdesk.ui.pages.plan.chart import PlanChart
from shopdesk.ui.pages.plan.chosen_bar import ChosenBar
from shopdesk.ui.pages.plan.handing_out import print_week, save_calendar
from shopdesk.ui.pages.plan.lanes import SORTINGS
from shopdesk.ui.pages.plan.planner import Planner
from shopdesk.ui.pages.plan.words import first_of, listed, plan_words
from shopdesk.ui.widgets.beside import Beside
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button, MainButton, QuietButton
from shopdesk.ui.widgets.empty_state import EmptyState
from shopdesk.ui.widgets.fields import ChoiceField
from shopdesk.ui.widgets.headings import Heading, Note, Words
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.ui.pages.page import Page


class CalendarSection(QWidget):
    """Letters while the drawing has the keyboard: P pins, M moves, J opens the jacket, 1 2 3 sort."""

    topics: Topics = frozenset({"everything", "jobs", "ranges", "stores", "plan", "staff", "settings"})

    def __init__(self, page: "Page") -> None:
        super().__init__()
        self.page, self.context = page, page.context
        self.planner = Planner(page)
        self.chart = PlanChart(self.context.region)
        self._make_buttons()
        self.status = Words("", "small", "muted")
        self.left_out = Note()
        self.assumed = Note()
        self._assumed: list[str] = []
        self.all_button = QuietButton(say("Show all"), self._show_all_assumed)
        self.left_out_head, self.assumed_head = (
            Heading(say("Not in the plan"), "strong"), Heading(say("Taken for granted"), "strong"),
        )  # fmt: skip
        self.bar = ChosenBar(page, self.chart, self.refresh, self.focusFirst)
        self.side = self.bar.make_side(
            [self.left_out_head, self.left_out, self.assumed_head, self.assumed, self.all_button],
        )
        self.empty = EmptyState(
            say("The plan will be drawn here: who does what when, so that promises are kept."),
            (say("Make the first plan"), self.planner.anew) if self._may_plan() else None,
        )
        self._assemble()
        self._listen()

    # Building

    def _make_buttons(self) -> None:
        self.again_button = MainButton(say("Plan again"), self.planner.again, icon_name="plan")
        self.anew_button = Button(say("Plan from scratch"), self.planner.anew)
        self.stop_button = Button(say("Stop and keep the best"), self.planner.stop, icon_name="close")
        self.undo_button = Button(say("Back to the plan before"), self.undo, icon_name="undo")
        self.week_button = Button(say("Weekly list…"), self.print_week, icon_name="print")
        self.file_button = Button(say("Calendar file…"), self.save_calendar, icon_name="calendar")
        self.sorting = ChoiceField(
            [("person", say("by person")), ("station", say("by station")), ("range", say("by range"))],
            self.context.memory.text("plan/sorting", "person"),
        )
        self.sorting.setAccessibleName(say("Rows of the drawing"))
        self.nearer = QuietButton("+", lambda: self.chart.zoom(1), tip=say("Nearer (+)"))
        self.farther = QuietButton("−", lambda: self.chart.zoom(-1), tip=say("Farther (-)"))
        self.nearer.setAccessibleName(say("Nearer"))
        self.farther.setAccessibleName(say("Farther"))
        spans = [
            (1.0, say("a day")), (7.0, say("a week")), (31.0, say("a month")), (92.0, say("a quarter")),
            (183.0, say("half a year")),
        ]  # fmt: skip
        self.span = ChoiceField(spans, 7.0)
        self.span.setPlaceholderText(say("as zoomed"))
        self._spans = [days for days, _ in spans]
        self.span.setAccessibleName(say("How much time across"))
        self.across = Words("", "small", "muted")
        self.across.setWordWrap(False)
        self.now_button = QuietButton(say("Now (Home)"), self.chart.go_to_now)
        for button in (self.again_button, self.anew_button, self.undo_button):
            button.setVisible(self._may_plan())

    def _assemble(self) -> None:
        deeds = WrappedRow([
            self.again_button, self.anew_button, self.stop_button, self.undo_button, self.week_button,
            self.file_button,
        ])  # fmt: skip
        ways = self.ways = WrappedRow([
            self.sorting, self.span, self.farther, self.nearer, self.now_button, self.across,
        ])  # fmt: skip
        left = QWidget()
        inside = upright([deeds, ways, self.status, self.chart, self.empty], gap="small")
        inside.setStretchFactor(self.chart, 1)
        inside.setStretchFactor(self.empty, 1)
        left.setLayout(inside)
        both = Beside(left, self.side, self.context.memory, "plan/calendar", shares=(13, 5))
        self.setLayout(upright([PageScroll(upright([both]))]))

        self._planning_changed(False)
        for widget in (self.empty, self.left_out_head, self.assumed_head, self.all_button):
            widget.hide()  # until the first picture says what there is

    def _listen(self) -> None:
        self.chart.opened.connect(self.context.open_jacket)
        self.chart.zoomed.connect(self._zoomed)
        self.sorting.edited.connect(self._sort)
        self.span.edited.connect(lambda: self.chart.show_days(self.span.value()))
        self.planner.better.connect(self._show_better)
        self.planner.planningChanged.connect(self._planning_changed)
        self.planner.refused.connect(self._refused)
        deeds: list[tuple[str, Callable[[], None]]] = [
            ("P", self.bar.pin), ("M", self.bar.put_elsewhere), ("J", self.bar.open_jacket)
        ]  # fmt: skip
        deeds += [(str(n), partial(self._sort_by, sorting)) for n, sorting in enumerate(SORTINGS, 1)]
        for letter, deed in deeds:
            shortcut = QShortcut(QKeySequence(letter), self.chart)
            shortcut.setContext(Qt.ShortcutContext.WidgetShortcut)
            shortcut.activated.connect(deed)
        undo = QShortcut(QKeySequence(QKeySequence.StandardKey.Undo), self.chart)
        undo.setContext(Qt.ShortcutContext.WidgetShortcut)
        undo.activated.connect(self.undo)

    def _may_plan(self) -> bool:
        return self.context.may(Action.PLAN_BENCH)

    # What a section answers

    def refresh(self, _topics: Topics) -> None:
        if not self.planner.planning:
            self.page.ask(picture, self.show_picture, key="picture")

    def focusFirst(self) -> None:
        if self.chart.isVisibleTo(self):
            self.chart.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self.empty.focusFirst()

    def show_picture(self, found: Picture) -> None:
        drawn, waiting = bool(found.bars), self.chart.hasFocus()
        self._show_drawing(drawn)
        if not drawn and found.kept is not None:
            self.empty.setText(say("Nothing open can be planned now. What is agreed will be drawn here."))
        if not drawn and waiting:
            self.empty.focusFirst()
        self.chart.show_picture(found, self.sorting.value())
        if not drawn:
            self.side.say("")
        self.status.setText(plan_words(found, self.context.region))
        self.undo_button.setVisible(
            self._may_plan() and found.kept is not None and found.kept.can_undo and not self.planner.planning
        )
        left = [each.sentence for each in found.left_out]
        left += [
            say("{range} waits for its quote's answer.", range=row.number) for row in found.unanswered
        ]  # fmt: skip
        self._assumed = list(found.assumed)
        few = first_of(self._assumed)
        self.all_button.setVisible(len(few) < len(self._assumed) and self.side.form is None)
        for head, label, texts in (
            (self.left_out_head, self.left_out, left), (self.assumed_head, self.assumed, few),
        ):  # fmt: skip
            label.setText(listed(texts))
            shown = bool(texts) and self.side.form is None
            head.setVisible(shown)
            label.setVisible(shown)

    def _show_all_assumed(self) -> None:
        self.assumed.setText(listed(self._assumed))
        self.all_button.hide()
        self.focusFirst()

    def _show_drawing(self, drawn: bool) -> None:
        """The drawing with what sorts, zooms and prints it; or the words that stand in its place."""
        self.chart.setVisible(drawn)
        self.empty.setVisible(not drawn)
        for widget in (self.ways, self.week_button, self.file_button):
            widget.setVisible(drawn)
        if not self.planner.planning:
            for button in (self.again_button, self.anew_button):
                button.setVisible(drawn and self._may_plan())

    # Planning

    def _planning_changed(self, on: bool) -> None:
        for button in (self.again_button, self.anew_button):
            button.setVisible(not on and self._may_plan())
        self.undo_button.setVisible(False)
        if not on and self.stop_button.hasFocus():
            self.focusFirst()
        self.stop_button.setVisible(on)
        if on:
            self.status.setText(say("Planning…"))
            self.stop_button.setFocus()

    def _refused(self, problem: Problem) -> None:
        self.side.show_problem(problem)
        self.refresh(self.page.everything)

    def _show_better(self, found: Picture) -> None:
        if not self.planner.planning:
            return
        self._show_drawing(bool(found.bars))
        self.chart.show_picture(found, self.sorting.value())
        late = ", ".join(row.number for row in found.late[:5])
        self.status.setText(
            say("Planning… the best so far is late with {ranges}.", ranges=late)
            if late
            else say("Planning… the best so far keeps every promise.")
        )

    def undo(self) -> None:
        """Plan and pins as they were before the last planning."""
        if self.planner.planning or not self._may_plan():
            return
        self.page.do(
            plans.undo_plan, lambda _none: self.context.tell(say("The plan before is in force again.")),
            self.side.show_problem, changes=["plan"],
        )  # fmt: skip

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.bar.answer.isVisible():
            self.bar.answer.leave()
            return
        super().keyPressEvent(event)

    # Sorting and papers

    def _sort_by(self, sorting: str) -> None:
        self.sorting.setValue(sorting)
        self._sort()

    def _zoomed(self) -> None:
        """Beside the choice of spans stands what is shown; between two spans none is chosen."""
        self.across.setText(self.chart.zoom_words())
        days = self.chart.days_across()
        near = [span for span in self._spans if abs(days - span) < span * 0.1]
        self.span.setValue(near[0] if near else None)

    def _sort(self) -> None:
        self.context.memory.keep("plan/sorting", self.sorting.value())
        if self.chart.picture is not None:
            self.chart.show_picture(self.chart.picture, self.sorting.value())

    def print_week(self) -> None:
        found = self.chart.picture
        print_week(self.page, list(found.people) if found is not None else [], self.side.show_problem)

    def save_calendar(self) -> None:
        save_calendar(self.page, self.side.show_problem)

    def leave(self) -> None:
        """The page is left or the window closes: planning ends with the best so far."""
        self.planner.stop()
