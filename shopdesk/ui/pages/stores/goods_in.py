"""The form that counts goods in: how many came, in what condition, where they lie, what one cost."""

import datetime as dt

from shopdesk.services.purchasing import OrderLineRow
from shopdesk.services.stock import CONDITIONS
from shopdesk.ui.pages.stores.standing import over_or_under
from shopdesk.ui.widgets.fields import ChoiceField, CountField, DayField, MoneyField, TextField
from shopdesk.ui.widgets.headings import Note
from shopdesk.ui.widgets.small_form import Close, Save, SmallForm
from shopdesk.wording import Region, say


class GoodsIn(SmallForm):
    """Says at once whether the count is over or under what was ordered."""

    def __init__(self, line: OrderLineRow, region: Region, today: dt.date, save: Save, close: Close) -> None:
        super().__init__(say("Goods in: {name}", name=line.name), say("Take it in"), save, close, columns=2)
        self._line = line
        self.count = self.form.add("count", say("How many came"), CountField(1))
        self.count.setValue(max(1, line.quantity - line.received))
        self.form.add("on", say("On"), DayField(region)).setValue(today)
        self.form.add("condition", say("Condition"), ChoiceField([(c, say(c)) for c in CONDITIONS]))
        self.form.add(
            "wrong_as", say("Came instead, if it is the wrong part"), TextField(),
            note=say("Empty when it is what was ordered."),
        )  # fmt: skip
        self.form.add("lies_at", say("Where it lies"), TextField())
        self.form.add("cost", say("Price each"), MoneyField(region)).setValue(line.unit_cost_cents)
        self.against = Note()
        self.box.insertWidget(1, self.against)
        self.count.edited.connect(self._compare)
        self._compare()
        self.ready()

    def _compare(self) -> None:
        ordered = say(
            "Ordered {count}, in so far {came}.", count=self._line.quantity, came=self._line.received
        )
        rest = over_or_under(self._line.quantity, self._line.received, self.count.value())
        self.against.setText(f"{ordered} {rest}".strip())
