"""The form that orders parts: one line each with its supplier, so that one press makes an order to each."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QLabel

from shopdesk.services.people import PartyRow
from shopdesk.services.stores import NeedRow, OrderLine
from shopdesk.ui.pages.stores.draft import LineProblem, order_lines
from shopdesk.ui.pages.stores.line_grid import Cell, Line, LineGrid
from shopdesk.ui.widgets.fields import ChoiceField, CountField, DayField, MoneyField, TextField
from shopdesk.ui.widgets.small_form import Close, SmallForm
from shopdesk.wording import Region, say, say_n, say_problem

Order = Callable[[list[tuple[int, OrderLine]], Any, str], object]


class OrderSlip(SmallForm):
    """`order` gets the lines with their suppliers, the day they are expected, and a note."""

    def __init__(
        self, needs: Sequence[NeedRow], suppliers: Sequence[PartyRow], usual: Mapping[str, int],
        region: Region, order: Order, close: Close,
    ) -> None:  # fmt: skip
        title = say_n("Order {count} part", "Order {count} parts", len(needs))
        super().__init__(title, say("Order them"), self._save, close)
        self._needs, self._order = needs, order
        choices = [(None, say("choose")), *((s.id, s.name) for s in suppliers)]
        self.form.add("expected_on", say("Expected on"), DayField(region))
        self.form.add("note", say("Note on the order"), TextField())
        self.grid = LineGrid([_line(n, choices, usual, region) for n in needs], columns=3)
        self.everyone = ChoiceField(choices)
        self.everyone.setAccessibleName(say("Order all from"))
        self.everyone.edited.connect(lambda: self._all_from(self.everyone.value()))
        self.box.insertWidget(1, self.grid)
        if len(needs) > 1:
            self.box.insertWidget(1, self.everyone)
            self.box.insertWidget(1, QLabel(say("Order all from")))
        self.ready()

    def focusFirst(self) -> None:
        first = self.everyone if len(self._needs) > 1 else self.grid.cell(self._needs[0].id, "supplier_id")
        first.setFocus()

    def _all_from(self, supplier_id: int | None) -> None:
        for need in self._needs:
            self.grid.cell(need.id, "supplier_id").setValue(supplier_id)

    def _save(self, values: dict[str, Any]) -> None:
        said = self.grid.values()
        if said is None:
            return
        try:
            lines = order_lines(self._needs, said)
        except LineProblem as problem:
            self.grid.show_problem(problem.key, problem.field, say_problem(problem))
            return
        self._order(lines, values["expected_on"], values["note"])


def _line(
    need: NeedRow, choices: Sequence[tuple[Any, str]], usual: Mapping[str, int], region: Region
) -> Line:
    supplier = ChoiceField(choices)
    supplier.setMinimumContentsLength(8)
    supplier.setValue(usual.get(need.name))
    count = CountField(1)
    count.setValue(max(1, need.short))
    cost = MoneyField(region)
    cost.setValue(need.cost_cents)
    return Line(
        need.id,
        need.name,
        say("{number}, {task}", number=need.range_number, task=need.task),
        (
            Cell("supplier_id", say("From"), supplier, 3),
            Cell("count", say("Count"), count, 1),
            Cell("cost", say("Price each"), cost, 2),
        ),
    )
