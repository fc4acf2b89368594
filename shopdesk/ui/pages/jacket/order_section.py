"""The work order in the jacket: tasks in order with the time they lie in, and the order changed by hand."""

from collections.abc import Callable

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from shopdesk.domain.rights import Action
from shopdesk.services.bench import BenchTask
from shopdesk.services.jacket import Jacket
from shopdesk.ui.context import Context
from shopdesk.ui.pages.jacket.order import OrderFacts, difference_line, order_rows, path_words
from shopdesk.ui.pages.jacket.order_deeds import OrderDeeds
from shopdesk.ui.pages.jacket.order_drawing import OrderBar, OrderTask
from shopdesk.ui.widgets.boxes import level, upright
from shopdesk.ui.widgets.buttons import Button, fill_menu
from shopdesk.ui.widgets.deed_panel import DeedPanel
from shopdesk.ui.widgets.headings import Heading, Note, Words
from shopdesk.ui.widgets.row_dragging import RowDragging
from shopdesk.ui.widgets.rows import Column
from shopdesk.ui.widgets.short_table import ShortTable
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

Do = Callable[..., None]
_BAR_LETTERS, _BAR_SHARE = 46, 0.36


class OrderTable(ShortTable):
    """The bars take what a wide list leaves, and never the room of the words."""

    most = 9

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        letters = self.fontMetrics().averageCharWidth() * _BAR_LETTERS
        self.view.horizontalHeader().resizeSection(1, min(letters, round(self.width() * _BAR_SHARE)))


class OrderSection(QWidget):
    """`do` is the jacket's way of changing things."""

    def __init__(self, context: Context, do: Do) -> None:
        super().__init__()
        self._context = context
        self._facts: OrderFacts | None = None
        self._wanted: int | None = None
        self.path = Note()
        self.change = Words("", "strong", "hold")
        self.panel = DeedPanel()
        self.deeds = deeds = OrderDeeds(context, self.panel, do, self.current)
        self.tasks = OrderTable(
            say("Work order"),
            [
                Column("task", say("Task"), lambda r: r.name, stretch=True, spoken=lambda r: r.spoken(),
                       tip=lambda r: r.spoken()),
                Column("when", say("When, from now on"), lambda r: r.when, width=44),
            ],
            key=lambda r: r.key, pictures=True,
            empty=say("Tasks of the work order will stand here, each after what it needs."),
        )  # fmt: skip
        self.tasks.draw("task", OrderTask())
        self.tasks.draw("when", OrderBar())
        self.tasks.opened.connect(self._to_the_bench)
        self.dragging = RowDragging(self.tasks)
        self.dragging.moved.connect(deeds.move)
        self.look_button = Button(say("Look at the difference"), deeds.difference, icon_name="search")
        self.add_button = Button(say("Add a task"), deeds.add, icon_name="add")
        self.reword_button = Button(say("Reword it"), deeds.reword, icon_name="note")
        self.split_button = Button(say("Split it"), deeds.split)
        self.drop_button = Button(say("Drop it"), deeds.drop, icon_name="remove")
        self.back_button = Button(say("Put one back"), deeds.put_back, icon_name="undo")
        self.join_button = Button(say("Keep it in the catalogue"), deeds.join, icon_name="tick")
        self.paper_button = Button(say("Print the traveller"), deeds.print_traveller, icon_name="print")
        self._buttons = [
            self.add_button, self.reword_button, self.split_button, self.drop_button, self.back_button,
             self.join_button, self.look_button, self.paper_button,
        ]  # fmt: skip
        self.tasks.menuAsked.connect(lambda _row, menu: fill_menu(menu, self._buttons))
        row = WrappedRow(self._buttons)
        self.setLayout(
            upright(
                [level([Heading(say("Work order"))]), self.path, self.change, self.tasks, row, self.panel]
            )
        )
        self.tasks.chosen.connect(lambda _key: self._offer())
        self._offer()

    def show_order(self, jacket: Jacket, facts: OrderFacts) -> None:
        self._facts = facts
        self.deeds.show(jacket, facts)
        region = self._context.region
        self.path.setText(path_words(region, facts))
        self.path.setVisible(bool(self.path.text()))
        line = difference_line(facts.difference)
        self.change.setText(line)
        self.change.setVisible(bool(line))
        fresh = not self.tasks.model.rowCount()
        self.tasks.show_rows(order_rows(region, facts))
        if fresh:
            self._bring_open_tasks()
        if self._wanted is not None and self.tasks.select(self._wanted):
            self._wanted = None
        self._offer()

    def _bring_open_tasks(self) -> None:
        """What is still to be done comes in sight; what is done stands above it."""
        place = next((p for p, t in enumerate(self.current_order()) if t.done_share < 100), None)
        if place is not None and self.tasks.current_key() is None:
            view = self.tasks.view
            self.tasks.select(self.tasks.model.key_at(place))
            view.scrollTo(self.tasks.model.index(max(0, place - 1), 0), view.ScrollHint.PositionAtTop)

    def current_order(self) -> tuple[BenchTask, ...]:
        """The tasks as they are shown."""
        return self._facts.tasks if self._facts else ()

    def want(self, task_id: int) -> None:
        """Puts the keyboard on a task, as soon as it is here."""
        self._wanted = None if self.tasks.select(task_id) else task_id

    def current(self) -> BenchTask | None:
        """The task that is chosen."""
        key = self.tasks.current_key()
        return next((task for task in self.current_order() if task.id == key), None)

    def _offer(self) -> None:
        """Only what can be done with this order and the chosen task."""
        may, task, facts = self._context.may, self.current(), self._facts
        order = bool(facts and facts.tasks)
        plan = may(Action.PLAN_WORK) and order
        one = plan and task is not None
        self.add_button.setVisible(plan)
        self.reword_button.setVisible(one)
        self.split_button.setVisible(one and task is not None and task.done_share < 100)
        self.drop_button.setVisible(one)
        self.back_button.setVisible(plan and bool(facts and facts.dropped))
        self.join_button.setVisible(one and task is not None and not task.code and may(Action.SET_UP))
        self.look_button.setVisible(plan)
        self.paper_button.setVisible(order)

    def _to_the_bench(self, key: object) -> None:
        task = self.current()
        if task is not None:
            self._context.go("bench", job_id=task.job_id, task_id=key)
