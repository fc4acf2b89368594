"""What is done with a work order by hand: add, reword, split, drop, put back, write it again, print it."""

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QWidget

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.changed import Seen
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import order_by_hand, order_difference, own_tasks, reports, work_orders
from shopdesk.services.bench import BenchTask
from shopdesk.services.jacket import Jacket
from shopdesk.services.order_difference import OrderDifference
from shopdesk.services.seat import Seat
from shopdesk.ui.context import Context
from shopdesk.ui.pages.jacket.order import OrderFacts, scope_choices
from shopdesk.ui.pages.jacket.order_difference_view import DifferenceView
from shopdesk.ui.span_fields import add_span, span_of
from shopdesk.ui.widgets.deed_panel import DeedPanel
from shopdesk.ui.widgets.fields import ChoiceField, CountField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Words
from shopdesk.ui.widgets.tapped import Tapped
from shopdesk.wording import say

Do = Callable[..., None]
Save = Callable[[Seat, dict[str, Any]], object]


class OrderDeeds:
    """`current` answers the chosen task; forms open in `panel`."""

    def __init__(
        self, context: Context, panel: DeedPanel, do: Do, current: Callable[[], BenchTask | None]
    ) -> None:
        self._context, self._panel, self._do, self._current = context, panel, do, current
        self._jacket: Jacket | None = None
        self._facts: OrderFacts | None = None
        self._read: Seen | None = None

    def show(self, jacket: Jacket, facts: OrderFacts) -> None:
        self._jacket, self._facts, self._read = jacket, facts, self._context.reading

    def add(self) -> None:
        """One of the catalogue, or one in own words."""
        job_id, region = self._job, self._context.region
        there = {task.code for task in self._known.tasks}
        catalogue = sorted(self._context.seat.catalogue.tasks.values(), key=lambda task: task.name)
        choices = [("", say("one of my own, in the words below"))]
        choices += [(task.code, task.name) for task in catalogue if task.code not in there]
        form = Form()
        form.add("code", say("Which task"), ChoiceField(choices))
        form.add("pieces", say("For how many pieces, if it is of the catalogue"), CountField(1, 99))
        form.add("name", say("What is to be done, in own words"), TextField())
        add_span(form, region)
        form.add("why", say("Why"), TextField())

        def save(seat: Seat, values: dict[str, Any]) -> None:
            if values["code"]:
                order_by_hand.add_known_task(seat, job_id, values["code"], values["pieces"])
            else:
                work_orders.add_task(seat, job_id, values["name"], span_of(values), values["why"])

        self._open(say("Add a task"), form, say("Put it on the order"), save,
                   say("It comes on no invoice before the customer agrees to it."))  # fmt: skip

    def reword(self) -> None:
        task = self._current()
        if task is None:
            return
        form = Form()
        form.read_from(self._read)
        form.add("name", say("What is to be done"), TextField(task.name))
        add_span(form, self._context.region, task.minutes)
        self._open(
            say("Reword: {name}", name=task.name), form, say("Keep it so"),
            lambda seat, v: order_by_hand.reword_task(seat, task.id, v["name"], span_of(v)),
            say("Words and hours set here stay when the order is written again."),
        )  # fmt: skip

    def split(self) -> None:
        task = self._current()
        if task is None:
            return
        form = Form()
        form.add("name", say("What the part is"), TextField())
        add_span(form, self._context.region)
        self._open(
            say("Split off from: {name}", name=task.name), form, say("Split it off"),
            lambda seat, v: order_by_hand.split_task(seat, task.id, v["name"], span_of(v)),
            say("Its hours come off the task ({hours}); what waits for the task waits for the part too.",
                hours=self._context.region.hours_range(task.minutes)),
        )  # fmt: skip

    def move(self, task_id: int, before_id: int | None) -> None:
        """To another place on the order; what it waits for stays before it."""
        if self._context.may(Action.PLAN_WORK):
            self._do(
                lambda seat: order_by_hand.move_task(seat, task_id, before_id),
                None,
                self._context.tell_problem,
            )

    def drop(self) -> None:
        task = self._current()
        if task is None:
            return
        reasons = [say("not wanted by the customer"), say("not needed, seen at the bench"),
                   say("done with another task")]  # fmt: skip
        form = Form()
        form.add("because", say("Why it is not done"), Tapped(TextField(), reasons))
        self._open(
            say("Drop: {name}", name=task.name), form, say("Drop it"),
            lambda seat, v: order_by_hand.drop_task(seat, task.id, v["because"]),
            say("It stays off when the order is written again, and can be put back."),
        )  # fmt: skip

    def put_back(self) -> None:
        form = Form()
        field = form.add("task_id", say("Which one"),
                         ChoiceField([(task.id, task.name) for task in self._known.dropped]))  # fmt: skip
        told = Words()

        def tell() -> None:
            chosen = next((t for t in self._known.dropped if t.id == field.value()), None)
            told.setText(chosen.note if chosen else "")

        field.edited.connect(tell)
        tell()
        self._open(say("Put back on the order"), form, say("Put it back"),
                   lambda seat, v: order_by_hand.put_task_back(seat, v["task_id"]), above=[told])  # fmt: skip

    def join(self) -> None:
        """A task made by hand joins the shop's catalogue."""
        task = self._current()
        if task is None:
            return
        form = Form()
        always = [(scope, say("always, from {scope} on", scope=name)) for scope, name in scope_choices()]
        choices: list[tuple[Scope | None, str]] = [(None, say("only where somebody adds it")), *always]
        form.add("routine", say("When it is part of an order"), ChoiceField(choices))
        self._open(
            say("Keep in the catalogue: {name}", name=task.name), form, say("Keep it"),
            lambda seat, v: own_tasks.join_catalogue(seat, task.id, routine=v["routine"]),
            changes=("settings", "catalogue"),
        )  # fmt: skip

    def difference(self) -> None:
        """What writing the order again would do, for a scope; and writing it."""
        jacket = self._known_jacket
        job_id, region = jacket.job_id, self._context.region
        form = Form()
        scope = form.add("scope", say("How far the work goes"), ChoiceField(scope_choices()))
        scope.setValue(jacket.scope)
        view = DifferenceView(region)
        view.show_difference(self._known.difference)

        def ask() -> None:
            wanted: Scope = scope.value()

            def show(found: OrderDifference) -> None:
                view.show_difference(found)

            self._context.ask(lambda seat: order_difference.preview_changes(seat, job_id, wanted), show,
                              key=f"difference/{job_id}", owner=view)  # fmt: skip

        scope.edited.connect(ask)
        self._open(
            say("What writing the order again would change"), form, say("Write it so"),
            lambda seat, v: work_orders.write_order(seat, job_id, v["scope"]),
            say("Nothing ticked, clocked or written is lost."), above=[view],
        )  # fmt: skip

    def print_traveller(self) -> None:
        job_id = self._job
        self._do(
            lambda seat: reports.print_traveller(seat, job_id),
            lambda number: self._context.show_paper(
                number, say("Traveller {number}", number=number), reports.TRAVELLER
            ),
            self._context.tell_problem,
        )

    # Inside

    @property
    def _known(self) -> OrderFacts:
        assert self._facts is not None
        return self._facts

    @property
    def _known_jacket(self) -> Jacket:
        assert self._jacket is not None
        return self._jacket

    @property
    def _job(self) -> int:
        return self._known_jacket.job_id

    def _open(
        self, title: str, form: Form, button: str, save: Save, guide: str = "", *,
        above: list[QWidget] | None = None, changes: tuple[str, ...] = (),
    ) -> None:  # fmt: skip
        def keep(values: dict[str, Any]) -> None:
            self._do(lambda seat: save(seat, values), lambda _none: self._panel.leave(), refused,
                     changes=changes, form=form)  # fmt: skip

        def refused(problem: Problem) -> None:
            form.show_problem(problem)

        form.on_save(button, keep)
        self._panel.open(title, form, [*([Words(guide)] if guide else []), *(above or [])])
