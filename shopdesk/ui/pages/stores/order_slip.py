"""The form that orders parts: one line each with its supplier, so that one press makes an order to each."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QLabel

from shopdesk.services.people import PartyRow
from shopdesk.services.price_lists import Proposal
from shopdesk.services.purchasing import OrderLine
from shopdesk.ui.pages.stores.draft import LineProblem, Wish, order_lines
from shopdesk.ui.pages.stores.line_grid import Cell, Line, LineGrid
from shopdesk.ui.widgets.fields import ChoiceField, CountField, DayField, MoneyField, TextField
from shopdesk.ui.widgets.small_form import Close, SmallForm
from shopdesk.wording import Region, say, say_n, say_problem

Order = Callable[[list[tuple[int, OrderLine]], Any, str], object]


class OrderSlip(SmallForm):
    """`order` gets the lines with their suppliers, the day they are expected, and a note."""

    def __init__(
        self, wishes: Sequence[Wish], suppliers: Sequence[PartyRow], proposals: Mapping[str, Proposal],
        region: Region, order: Order, close: Close,
    ) -> None:  # fmt: skip
        title = say_n("Order {count} part", "Order {count} parts", len(wishes))
        super().__init__(title, say("Order them"), self._save, close)
        self._wishes, self._order, self._proposals = wishes, order, proposals
        choices = [(None, say("choose")), *((s.id, s.name) for s in suppliers)]
        self.form.add("expected_on", say("Expected on"), DayField(region),
                      note=say("Empty: as long as each supplier usually takes."))  # fmt: skip
        self.form.add("note", say("Note on the order"), TextField())
        self.grid = LineGrid([_line(w, choices, proposals, region) for w in wishes], columns=3)
        self.everyone = ChoiceField(choices)
        self.everyone.setAccessibleName(say("Order all from"))
        self.everyone.edited.connect(lambda: self._all_from(self.everyone.value()))
        self.box.insertWidget(1, self.grid)
        if len(wishes) > 1:
            self.box.insertWidget(1, self.everyone)
            self.box.insertWidget(1, QLabel(say("Order all from")))
        self.grid.lead_to(self.form)
        self.ready()

    def focusFirst(self) -> None:
        """Where a supplier is missing; else on the first line, ready to be pressed through."""
        lacking = [w for w in self._wishes if self.grid.cell(w.id, "supplier_id").value() is None]
        if len(lacking) > 1:
            self.everyone.setFocus()
        else:
            self.grid.cell((lacking or self._wishes)[0].id, "supplier_id").setFocus()

    def _all_from(self, supplier_id: int | None) -> None:
        for wish in self._wishes:
            self.grid.cell(wish.id, "supplier_id").setValue(supplier_id)

    def _save(self, values: dict[str, Any]) -> None:
        said = self.grid.values()
        if said is None:
            return
        try:
            lines = order_lines(self._wishes, said, self._proposals)
        except LineProblem as problem:
            self.grid.show_problem(problem.key, problem.field, say_problem(problem))
            return
        self._order(lines, values["expected_on"], values["note"])


def _line(
    wish: Wish, choices: Sequence[tuple[Any, str]], proposals: Mapping[str, Proposal], region: Region
) -> Line:
    known = proposals.get(wish.name)
    supplier = ChoiceField(choices)
    supplier.setMinimumContentsLength(8)
    supplier.setValue(known.supplier_id if known else None)
    count = CountField(1)
    count.setValue(wish.count)
    cost = MoneyField(region)
    price = known.price_cents if known else None
    cost.setValue(wish.cost_cents if price is None else price)
    foreign = known.currency if known and known.currency != region.currency else ""
    each = say("Price each, {currency}", currency=foreign) if foreign else say("Price each")
    return Line(
        wish.id,
        wish.name,
        wish.note,
        (
            Cell("supplier_id", say("From"), supplier, 3),
            Cell("count", say("Count"), count, 1),
            Cell("cost", each, cost, 2),
        ),
    )
