"""Between shop and supplier after an order: sent, acknowledged, asked after, sent back, given up."""

from typing import TYPE_CHECKING, Any

from shopdesk.domain.problem import Problem
from shopdesk.services import goods_in, purchasing
from shopdesk.services.goods_in import GoodsRow
from shopdesk.services.purchasing import OrderRow
from shopdesk.ui.widgets.fields import ChoiceField, CountField, DayField, MoneyField, NoteField, TextField
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.wording import Region, say

if TYPE_CHECKING:
    from shopdesk.ui.pages.stores.orders import OrdersSection


class OrderWays:
    """The forms of these ways, opened beside the list of orders for its current row."""

    def __init__(self, section: "OrdersSection") -> None:
        self._section = section

    def sent(self) -> None:
        order = self._order()
        if order is None:
            return

        def keep(values: dict[str, Any]) -> None:
            self._section.save(
                lambda seat: purchasing.note_sent(seat, order.id, values["how"], values["on"]),
                say("{number} went to {supplier}.", number=order.number, supplier=order.supplier),
            )

        form = self._form(say("How {number} was sent", number=order.number), say("It was sent"), keep)
        ways = [(way, way) for way in (say("by mail"), say("by post"), say("by telephone"), say("in person"))]
        form.form.add("how", say("How"), ChoiceField(ways))
        form.form.add("on", say("On"), DayField(self._region)).setValue(self._today())
        self._section.side.open_form(form.ready())

    def acknowledged(self) -> None:
        order = self._order()
        if order is None:
            return

        def keep(values: dict[str, Any]) -> None:
            self._section.save(
                lambda seat: purchasing.acknowledge(
                    seat, order.id, their_number=values["their_number"], expected_on=values["expected_on"],
                    on=values["on"],
                ),
                say("{supplier} has {number}.", number=order.number, supplier=order.supplier),
            )  # fmt: skip

        form = self._form(say("{number} acknowledged", number=order.number), say("Write it down"), keep)
        region = self._region
        form.form.read_from(self._section.read)
        form.form.add("their_number", say("Their number for it"), TextField())
        form.form.add("expected_on", say("Goods come on"), DayField(region)).setValue(order.expected_on)
        form.form.add("on", say("On"), DayField(region)).setValue(self._today())
        self._section.side.open_form(form.ready())

    def chased(self) -> None:
        order = self._order()
        if order is None:
            return

        def keep(values: dict[str, Any]) -> None:
            self._section.save(
                lambda seat: purchasing.note_chased(seat, order.id, values["answer"], values["expected_on"]),
                say("{number} was asked after.", number=order.number),
            )

        form = self._form(say("{number} asked after", number=order.number), say("Write it down"), keep)
        form.form.add("answer", say("What they said"), NoteField(lines=2),
                      required=say("Write what the supplier said, or that nobody answered."))  # fmt: skip
        form.form.add("expected_on", say("Goods come on, if they said"), DayField(self._region))
        self._section.side.open_form(form.ready())

    def call_off(self) -> None:
        order = self._order()
        line = self._section.lines.current() if order is not None else None
        if order is not None and (line is None or not line.left):
            line = next((x for x in order.lines if x.left), None)
        if order is None or line is None:
            return

        def keep(values: dict[str, Any]) -> None:
            self._section.save(
                lambda seat: purchasing.call_line_off(seat, line.id, values["because"]),
                say("{number}: the rest of {name} is not waited for.", number=order.number, name=line.name),
            )

        form = self._form(say("The rest of {name} is not coming", name=line.name), say("Give it up"), keep)
        form.form.add("because", say("Why"), TextField(), required=say("Say why it is not coming."))
        self._section.side.open_form(form.ready())

    def send_back(self) -> None:
        order = self._order()
        if order is not None:
            self._section.page.ask(
                lambda seat: goods_in.goods_of(seat, order.id), lambda rows: self._choose(order, rows)
            )

    def _choose(self, order: OrderRow, rows: list[GoodsRow]) -> None:
        here = sorted((row for row in rows if row.here), key=lambda row: not row.wrong)
        if not here:
            self._section.side.show_problem(
                Problem("Nothing that came of {number} is here.", number=order.number)
            )
            return

        def keep(values: dict[str, Any]) -> None:
            self._section.save(
                lambda seat: goods_in.send_back(
                    seat, values["goods"], values["count"], values["because"],
                    credit_cents=values["credit"] or 0,
                ),
                say("{number}: {count} sent back.", number=order.number, count=values["count"]),
            )  # fmt: skip

        form = self._form(say("Send goods of {number} back", number=order.number), say("Send it back"), keep)
        goods = form.form.add(
            "goods", say("Which"), ChoiceField([(row.id, self._words(row)) for row in here])
        )
        count = form.form.add("count", say("How many"), CountField(1))
        count.setValue(here[0].here)
        by_key = {row.id: row for row in here}
        goods.edited.connect(lambda: count.setValue(by_key[goods.value()].here))
        because = form.form.add("because", say("Why"), TextField(), required=say("Say why it goes back."))
        because.setValue(say("wrong part") if here[0].wrong else "")
        form.form.add("credit", say("What they give back for it"), MoneyField(self._region))
        self._section.side.open_form(form.ready())

    def _words(self, row: GoodsRow) -> str:
        day = self._region.day_short(row.on_day, self._today())
        words = say("{count} × {name}, came {day}", count=row.here, name=row.name, day=day)
        return say("{words}, wrong part", words=words) if row.wrong else words

    def _order(self) -> OrderRow | None:
        order: OrderRow | None = self._section.list.current()
        return order

    @property
    def _region(self) -> Region:
        return self._section.context.region

    def _today(self) -> Any:
        return self._section.context.seat.today

    def _form(self, title: str, deed: str, keep: Any) -> SmallForm:
        return SmallForm(title, deed, keep, self._section.close_form)
