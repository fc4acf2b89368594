"""What open jobs need: short first, with the range, task and promise that wait for it."""

from typing import Any

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import needs, people, price_lists, stock, storeroom
from shopdesk.services.needs import NeedRow
from shopdesk.services.price_lists import Proposal
from shopdesk.services.purchasing import OrderLine
from shopdesk.services.stock import PartRow
from shopdesk.ui.context import Topics
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.stores.draft import wish_of_need
from shopdesk.ui.pages.stores.need_ways import NeedWays
from shopdesk.ui.pages.stores.order_slip import OrderSlip
from shopdesk.ui.pages.stores.section import Section
from shopdesk.ui.pages.stores.standing import Standing, needs_in_order, of_need
from shopdesk.ui.pages.stores.standing_drawing import StandingDrawing, standing_column
from shopdesk.ui.range_words import days_words
from shopdesk.ui.widgets.fields import ChoiceField, NoteField
from shopdesk.ui.widgets.list_table import ListTable
from shopdesk.ui.widgets.rows import Column
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.wording import say, say_n


class NeedsSection(Section):
    """Several may be chosen; ordering makes one order to each supplier."""

    def __init__(self, page: Page) -> None:
        super().__init__(page)
        self.ways = NeedWays(self)
        self.short = 0
        self.list = ListTable(
            say("What tasks need"), self._columns(), key=lambda row: row.id,
            empty=say("Parts that agreed work needs will stand here, what is short first."),
            memory=self.context.memory, remembered="stores/needs", several=True,
        )  # fmt: skip
        self.list.draw("standing", StandingDrawing(lambda row: self._standing(row).pressing))
        self.list.draw("promise", StandingDrawing(self._promise_late))
        self.list.view.selectionModel().selectionChanged.connect(lambda _on, _off: self.show_current())
        self.list.opened.connect(lambda _key: self.order())
        (
            self.order_button,
            self.all_button,
            self.take_button,
            self.donor_button,
            self.make_button,
            self.made_button,
            self.want_button,
            self.back_button,
            self.off_button,
            self.jacket_button,
        ) = self.add_deeds(
            [
                (say("Order from…"), "O", self.order, "truck"),
                (say("Order all that is short"), "A", self.order_all, "truck"),
                (say("Take from the shelf"), "T", self.take, "box"),
                (say("Take off a donor"), "D", self.ways.from_donor, "hand"),
                (say("Make it here"), "M", self.ways.make, "bench"),
                (say("It is made"), "E", self.ways.made, "tick"),
                (say("Look for it"), "W", self.ways.look_for, "search"),
                (say("Put back on the shelf"), "B", self.ways.put_back, "undo"),
                (say("Call off"), "X", self.call_off, "close"),
                (say("Jacket of the range"), "J", self.open_jacket, "jacket"),
            ]
        )
        self.assemble("needs")
        self.show_current()

    def refresh(self, topics: Topics) -> None:
        seat = self.context.seat

        def show(rows: list[NeedRow]) -> None:
            self.short = sum(1 for row in rows if row.short)
            self.show_list(needs_in_order(rows, seat.region, seat.today))

        self.page.ask(needs.needs, show, key="needs")

    def show_current(self) -> None:
        rows = self.list.selected()
        one = rows[0] if len(rows) == 1 else None
        self.order_button.setVisible(any(row.short for row in rows))
        self.all_button.setVisible(self.short > 0)
        self.donor_button.setVisible(one is not None and one.short > 0)
        self.make_button.setVisible(one is not None and one.short > 0)
        self.want_button.setVisible(one is not None and one.short > 0)
        self.made_button.setVisible(one is not None and bool(one.making))
        self.back_button.setVisible(one is not None and one.covered > 0)
        self.off_button.setVisible(any(row.covered < row.quantity for row in rows))
        self.take_button.setVisible(len(rows) == 1 and rows[0].covered < rows[0].quantity)
        self.jacket_button.setVisible(len(rows) == 1)
        if not rows:
            self.side.say(
                say("Needs"), say("Choose a part to order it, take it from the shelf or call it off.")
            )
        elif len(rows) == 1:
            row = rows[0]
            self.side.say(row.name, self._story(row))
        else:
            count = say_n("{count} part chosen", "{count} parts chosen", len(rows))
            self.side.say(count, say("Ordering makes one order to each supplier."))

    # Deeds

    def order(self) -> None:
        rows = [row for row in self.list.selected() if row.short]
        if not rows:
            self.side.show_problem(Problem("Nothing of it is short: it is here, on its way or called off."))
            return
        self._order(rows)

    def order_all(self) -> None:
        """One press for all that is short: each part with whom it is had from, an order to each supplier."""
        rows = [row for row in self.list.rows() if row.short]
        if rows:
            self._order(rows)

    def _order(self, rows: list[NeedRow]) -> None:
        if not self.context.may(Action.ORDER):
            self.side.show_problem(Problem("Ordering is for the owner and the desk. Tell them it is short."))
            return
        names = [row.name for row in rows]

        def ask(seat: Any) -> tuple[list[people.PartyRow], dict[str, Proposal]]:
            return people.parties(seat, kind="supplier"), price_lists.proposals(seat, names)

        def show(answer: tuple[list[people.PartyRow], dict[str, Proposal]]) -> None:
            suppliers, known = answer
            if not suppliers:
                self.side.show_problem(Problem("There is no supplier yet. Write one down under Firms first."))
                return
            wishes = [wish_of_need(row) for row in rows]
            slip = OrderSlip(wishes, suppliers, known, self.context.region, self._send, self.close_form)
            self.side.open_form(slip)

        self.page.ask(ask, show, key="order slip")

    def _send(self, lines: list[tuple[int, OrderLine]], expected_on: Any, note: str) -> None:
        self.save(
            lambda seat: storeroom.order_from_several(seat, lines, expected_on=expected_on, note=note),
            lambda made: say_n("{count} order was made. Its paper is under Orders.",
                               "{count} orders were made. Their papers are under Orders.", len(made)),
            changes=("stores", "jobs", "papers"),
        )  # fmt: skip

    def take(self) -> None:
        row = self.list.current()
        if row is None:
            return
        self.page.ask(stock.parts, lambda parts: self._take_from(row, parts), key="shelf")

    def _take_from(self, need: NeedRow, parts: list[PartRow]) -> None:
        here = [p for p in parts if p.in_stock > 0]
        same = [p for p in here if p.name == need.name]
        if not here:
            self.side.show_problem(
                Problem("There is nothing on the shelf to take for {name}.", name=need.name)
            )
            return

        def keep(values: dict[str, Any]) -> None:
            part_id = values["part_id"]
            self.save(
                lambda seat: needs.cover_from_stock(seat, need.id, part_id),
                lambda taken: say("{number}: {count} of {name} taken from the shelf.",
                                  number=need.range_number, count=taken, name=need.name),
            )  # fmt: skip

        form = SmallForm(
            say("Take from the shelf for {name}", name=need.name), say("Take it"), keep, self.close_form
        )
        ordered = [*same, *(p for p in here if p not in same)]
        choices = [(p.id, _on_shelf(p)) for p in ordered]
        form.form.add("part_id", say("Which part"), ChoiceField(choices))
        self.side.open_form(form.ready())

    def call_off(self) -> None:
        rows = [r for r in self.list.selected() if r.covered < r.quantity]
        if not rows:
            return

        def keep(values: dict[str, Any]) -> None:
            def act(seat: Any) -> None:
                for row in rows:
                    needs.call_off(seat, row.id, values["why"])

            self.save(act, say_n("{count} part was called off.", "{count} parts were called off.", len(rows)))

        form = SmallForm(say("Call off"), say("Call it off"), keep, self.close_form)
        names = ", ".join(row.name for row in rows)
        form.form.add("why", say("Why it is not needed"), NoteField(lines=2), note=names,
                      required=say("Say why it is not needed."))  # fmt: skip
        self.side.open_form(form.ready())

    def open_jacket(self) -> None:
        row = self.list.current()
        if row is not None:
            number = row.range_number
            self.page.ask(lambda seat: storeroom.range_of(seat, number), self._jacket)

    def _jacket(self, range_id: int | None) -> None:
        if range_id is not None:
            self.context.open_jacket(range_id)

    # Words

    def _standing(self, row: NeedRow) -> Standing:
        return of_need(row, self.context.region, self.context.seat.today)

    def _story(self, row: NeedRow) -> str:
        parts = [
            say("For {number}: {task}.", number=row.range_number, task=row.task),
            say("{covered} of {quantity} here.", covered=row.covered, quantity=row.quantity),
        ]
        if row.on_order:
            parts.append(say("{count} on order.", count=row.on_order))
        if row.from_donor:
            parts.append(say("To be taken off donor {number}.", number=row.from_donor))
        if row.making:
            parts.append(say("Being made here."))
        if row.in_stock:
            parts.append(say("{count} of that name on the shelf.", count=row.in_stock))
        return " ".join(parts)

    def _promise(self, row: NeedRow) -> str:
        if row.promised_on is None:
            return ""
        today = self.context.seat.today
        day = self.context.region.day_short(row.promised_on, today)
        return say("{day}, {off}", day=day, off=days_words(row.promised_on, today))

    def _promise_late(self, row: NeedRow) -> bool:
        return row.promised_on is not None and row.promised_on < self.context.seat.today

    def _columns(self) -> list[Column]:
        return [
            standing_column(self._standing),
            Column("part", say("Part"), _part_words, width=22, strong=True, sort=lambda r: r.name),
            Column("range", say("Range"), lambda r: r.range_number, width=7, sort=lambda r: r.range_number),
            Column("promise", say("Promised"), self._promise, width=19, sort=lambda r: r.promised_on),
            Column("task", say("Task"), lambda r: r.task, width=30, stretch=True, sort=lambda r: r.task),
        ]


def _part_words(need: NeedRow) -> str:
    """`screws for the top`, and how many where it is more than one."""
    return say("{name}, {count}", name=need.name, count=need.quantity) if need.quantity > 1 else need.name


def _on_shelf(part: PartRow) -> str:
    where = part.lies_at or say("place not written down")
    return say("{name}, {condition}: {count} at {where}", name=part.name, condition=say(part.condition),
               count=part.in_stock, where=where)  # fmt: skip
