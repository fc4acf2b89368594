"""Orders: what was asked of suppliers, what came of it, and what is late."""

from typing import Any

from shopdesk.domain.problem import Problem
from shopdesk.services import goods_in, purchasing
from shopdesk.services.goods_in import Arrived
from shopdesk.services.purchasing import OrderLineRow, OrderRow
from shopdesk.ui.context import Topics
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.stores.delivery import Delivery
from shopdesk.ui.pages.stores.goods_in import GoodsIn
from shopdesk.ui.pages.stores.order_ways import OrderWays
from shopdesk.ui.pages.stores.section import Section
from shopdesk.ui.pages.stores.standing import Standing, count_in, of_order, order_story
from shopdesk.ui.pages.stores.standing_drawing import StandingDrawing, standing_column
from shopdesk.ui.widgets.list_table import ListTable
from shopdesk.ui.widgets.rows import Column
from shopdesk.wording import say, say_n


class OrdersSection(Section):
    """The lines of the current order stand beside the list; goods in are counted by line or all at once."""

    def __init__(self, page: Page) -> None:
        super().__init__(page)
        self.late = 0
        self.ways = OrderWays(self)
        self._wanted: int | None = None
        self.list = ListTable(
            say("Orders"), self._columns(), key=lambda row: row.id,
            empty=say("Orders to suppliers will stand here. Choose what is short under Needs and order it."),
            memory=self.context.memory, remembered="stores/orders",
        )  # fmt: skip
        self.list.draw("standing", StandingDrawing(lambda row: self._standing(row).pressing))
        self.lines = ListTable(
            say("Lines of the order"), self._line_columns(), key=lambda row: row.id,
            empty=say("The order has no lines."), memory=self.context.memory,
            remembered="stores/order-lines",
        )  # fmt: skip
        self.lines.opened.connect(lambda _key: self.goods_in())
        self.list.opened.connect(lambda _key: self.lines.focusFirst())
        self.buttons = self.add_deeds(
            [
                (say("Goods in for this line"), "G", self.goods_in, "box"),
                (say("Delivery"), "D", self.delivery, "truck"),
                (say("All of it came"), "A", self.all_in, "tick"),
                (say("Paper of the order"), "P", self.show_paper, "print"),
                (say("Cancel the order"), "X", self.cancel, "close"),
                (say("It was sent"), "S", self.ways.sent, "mail"),
                (say("Acknowledged"), "K", self.ways.acknowledged, "tick"),
                (say("Asked after"), "C", self.ways.chased, "note"),
                (say("Send goods back"), "B", self.ways.send_back, "back"),
                (say("Rest is not coming"), "L", self.ways.call_off, "remove"),
            ]
        )
        self.side.buttons.insertWidget(0, self.lines)
        self.assemble("orders")
        self.show_current()

    def refresh(self, topics: Topics) -> None:
        def show(rows: list[OrderRow]) -> None:
            self.late = sum(1 for row in rows if row.standing == "late")
            rank = {"late": 0, "part received": 1, "open": 1, "received": 2, "cancelled": 2}
            self.show_list(sorted(rows, key=lambda row: rank[row.standing]))
            if self._wanted is not None:
                self.list.select(self._wanted)
                self._wanted = None

        self.page.ask(purchasing.orders, show, key="orders")

    def put_on(self, order_id: int) -> None:
        """Puts the keyboard on an order when its rows come."""
        self._wanted = order_id

    def show_current(self) -> None:
        order = self.list.current()
        self.lines.setVisible(order is not None)
        for button in self.buttons:
            button.setVisible(order is not None)
        if order is None:
            self.side.say(say("Orders"), say("Choose an order to count its goods in or see its paper."))
            return
        self.lines.show_rows(order.lines)
        self._fit_lines(len(order.lines))
        title = say("{number}, {supplier}", number=order.number, supplier=order.supplier)
        self.side.say(title, self._story(order))
        open_, came = order.standing in purchasing.OPEN, any(x.received or x.wrong for x in order.lines)
        shown = {
            0: open_, 1: open_, 2: open_, 4: open_ and not came, 5: open_ and order.sent_on is None,
            6: open_ and order.acknowledged_on is None, 7: order.standing == "late", 8: came,
            9: open_ and came,
        }  # fmt: skip
        for place, visible in shown.items():
            self.buttons[place].setVisible(visible)

    # Deeds

    def goods_in(self) -> None:
        order = self.list.current()
        line = self.lines.current() or _first_open(order)
        if order is None or line is None:
            return
        if order.standing == "cancelled":
            self.side.show_problem(Problem("{number} is cancelled.", number=order.number))
            return

        def keep(values: dict[str, Any]) -> None:
            self.save(
                lambda seat: goods_in.take_delivery(
                    seat,
                    [Arrived(line_id=line.id, quantity=values["count"], unit_cost_cents=values["cost"],
                             condition=values["condition"], lies_at=values["lies_at"],
                             wrong_as=values["wrong_as"])],
                    on=values["on"],
                ),
                say("{number}: {count} of {name} came in.", number=order.number, count=values["count"],
                    name=line.name),
            )  # fmt: skip

        form = GoodsIn(line, self.context.region, self.context.seat.today, keep, self.close_form)
        self.side.open_form(form)

    def delivery(self) -> None:
        """All lines of an order that came together, with the freight over them."""
        order = self.list.current()
        if order is None or order.standing not in purchasing.OPEN:
            return

        def take(came: list[Arrived], values: dict[str, Any]) -> None:
            pieces = sum(one.quantity for one in came)
            self.save(
                lambda seat: goods_in.take_delivery(
                    seat, came, on=values["on"], freight_cents=values["freight"] or 0, rate=values["rate"]
                ),
                say_n("{number}: {count} piece came in.", "{number}: {count} pieces came in.", pieces,
                      number=order.number),
            )  # fmt: skip

        form = Delivery(order, self.context.region, self.context.seat.today, take, self.close_form)
        self.side.open_form(form)

    def all_in(self) -> None:
        order = self.list.current()
        if order is None:
            return
        left = [line for line in order.lines if line.left]
        if not left:
            self.side.show_problem(Problem("All of {number} came in already.", number=order.number))
            return

        def act(seat: Any) -> None:
            goods_in.take_delivery(seat, [Arrived(line_id=line.id, quantity=line.left) for line in left])

        pieces = sum(line.left for line in left)
        self.save(act, say_n("{number}: {count} piece came in.", "{number}: {count} pieces came in.", pieces,
                             number=order.number))  # fmt: skip

    def show_paper(self) -> None:
        order = self.list.current()
        if order is not None:
            title = say("Order {number}", number=order.number)
            self.context.show_paper(order.number, title, "purchase order")

    def cancel(self) -> None:
        order = self.list.current()
        if order is None:
            return
        sure = self.context.dialogs.confirm(
            say("Cancel {number}", number=order.number),
            say("Cancel {number} to {supplier}? What it was for is short again. Tell the supplier yourself.",
                number=order.number, supplier=order.supplier),
            say("Cancel the order"),
        )  # fmt: skip
        if sure:
            self.save(lambda seat: purchasing.cancel_order(seat, order.id),
                      say("{number} is cancelled.", number=order.number))  # fmt: skip

    # Words

    def _standing(self, row: OrderRow) -> Standing:
        return of_order(row, self.context.seat.today)

    def _story(self, order: OrderRow) -> str:
        region, today = self.context.region, self.context.seat.today
        parts = [
            say("{standing}.", standing=self._standing(order).words.capitalize()),
            say("Ordered {day}.", day=region.day_short(order.ordered_on, today)),
        ]
        if order.expected_on is not None:
            parts.append(say("Expected {day}.", day=region.day_short(order.expected_on, today)))
        parts.append(say("{came} pieces in.", came=count_in(order)))
        parts += order_story(order, region, today)
        return " ".join(parts)

    def _currency(self) -> str:
        order = self.list.current()
        return order.currency if order is not None else self.context.region.currency

    def _fit_lines(self, count: int) -> None:
        """As high as its lines, up to eight."""
        rows = self.lines.view.verticalHeader().defaultSectionSize()
        header = self.lines.view.horizontalHeader().sizeHint().height()
        self.lines.setFixedHeight(header + rows * min(8, max(2, count)) + 6)

    def _expected(self, row: OrderRow) -> str:
        day = row.expected_on
        return self.context.region.day_short(day, self.context.seat.today) if day else ""

    def _columns(self) -> list[Column]:
        region = self.context.region
        return [
            standing_column(self._standing, width=15),
            Column("number", say("Number"), lambda r: r.number, width=8, strong=True,
                   sort=lambda r: r.number),
            Column("supplier", say("Supplier"), lambda r: r.supplier, width=24, stretch=True,
                   sort=lambda r: r.supplier),
            Column("expected", say("Expected"), self._expected, width=9,
                   sort=lambda r: r.expected_on),
            Column("in", say("Came in"), count_in, width=8, figures=True),
            Column("total", say("Total"), lambda r: region.money(r.total_cents, r.currency), width=11,
                   figures=True, sort=lambda r: r.total_cents),
        ]  # fmt: skip

    def _line_columns(self) -> list[Column]:
        region = self.context.region
        return [
            Column("name", say("Part"), lambda r: r.name, width=18, stretch=True),
            Column("in", say("In"), lambda r: say("{came} of {wanted}", came=r.received, wanted=r.quantity),
                   width=7, figures=True),
            Column("range", say("For"), lambda r: r.range_number or say("shelf"), width=7),
            Column("each", say("Each"), lambda r: region.money(r.unit_cost_cents, self._currency()),
                   width=9, figures=True),
        ]  # fmt: skip


def _first_open(order: OrderRow | None) -> OrderLineRow | None:
    """The first line of which something is still to come, else the first."""
    if order is None or not order.lines:
        return None
    return next((line for line in order.lines if line.left), order.lines[0])
