"""The form that takes a delivery in: the lines of an order with their counts, the freight over all."""

from collections.abc import Callable
from decimal import Decimal
from typing import Any

from shopdesk.domain.problem import Problem
from shopdesk.services.goods_in import Arrived
from shopdesk.services.purchasing import OrderLineRow, OrderRow
from shopdesk.ui.pages.stores.draft import arrived
from shopdesk.ui.pages.stores.line_grid import Cell, Line, LineGrid
from shopdesk.ui.widgets.fields import CountField, DayField, MoneyField, NumberField, TextField
from shopdesk.ui.widgets.headings import Note
from shopdesk.ui.widgets.small_form import Close, SmallForm
from shopdesk.wording import Region, say

Take = Callable[[list[Arrived], dict[str, Any]], object]


class Delivery(SmallForm):
    """Filled in as if all of it came; what did not come is counted down, at once told as short or over.

    `take` gets what arrived and `on`, `freight` (our money) and `rate`.
    """

    def __init__(self, order: OrderRow, region: Region, today: Any, take: Take, close: Close) -> None:
        title = say("Delivery of {number}", number=order.number)
        super().__init__(title, say("Take it in"), self._save, close, columns=2)
        self._order, self._take = order, take
        self._foreign = order.currency != region.currency
        self.form.add("on", say("On"), DayField(region)).setValue(today)
        self.form.add("freight", say("Freight, in our money"), MoneyField(region))
        if self._foreign:
            rate = self.form.add(
                "rate", say("1 {currency} is, in {ours}", currency=order.currency, ours=region.currency),
                NumberField(region),
            )  # fmt: skip
            rate.setValue(order.rate)
        self.grid = LineGrid([_line(line, region, order.currency) for line in order.lines], columns=3)
        self.against = Note()
        self.box.insertWidget(1, self.grid)
        self.box.insertWidget(2, self.against)
        self.grid.edited.connect(self._compare)
        self._compare()
        self.grid.lead_to(self.form)
        self.ready()

    def focusFirst(self) -> None:
        self.grid.cell(self._order.lines[0].id, "count").setFocus()

    def _compare(self) -> None:
        said = []
        for line in self._order.lines:
            off = self.grid.cell(line.id, "count").value() - line.left
            if off < 0:
                said.append(say("{name}: {count} short.", count=-off, name=line.name))
            elif off > 0:
                said.append(say("{name}: {count} too many.", count=off, name=line.name))
        self.against.setText(" ".join(said))

    def _save(self, values: dict[str, Any]) -> None:
        said = self.grid.values()
        if said is None:
            return
        try:
            came = arrived(self._order.lines, said)
        except Problem as problem:
            self.form.show_problem(problem)
            return
        self._take(came, {**values, "rate": _decimal(values.get("rate"))})


def _decimal(value: Any) -> Decimal | None:
    return None if value is None else Decimal(str(value))


def _line(line: OrderLineRow, region: Region, currency: str) -> Line:
    count = CountField(0)
    count.setValue(line.left)
    cost = MoneyField(region)
    cost.setValue(line.unit_cost_cents)
    whom = say("for {number}", number=line.range_number) if line.range_number else say("for the shelf")
    each = (
        say("Price each") if currency == region.currency else say("Price each, {currency}", currency=currency)
    )
    return Line(
        line.id,
        line.name,
        say("{wanted} ordered, {came} in so far, {whom}", wanted=line.quantity, came=line.received,
            whom=whom),
        (Cell("count", say("Came"), count, 1), Cell("cost", each, cost, 2),
         Cell("lies_at", say("Where it lies"), TextField(), 2)),
    )  # fmt: skip
