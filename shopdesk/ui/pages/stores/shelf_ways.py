"""What is done with parts on the shelf beside moving them: corrected, sold, labelled, counted."""

import datetime as dt
from typing import TYPE_CHECKING, Any

from shopdesk.domain.problem import Problem
from shopdesk.services import part_cards, people, price_lists, reordering, stock, stock_takes, storeroom
from shopdesk.services.papers import labels
from shopdesk.services.part_cards import PartCard
from shopdesk.services.price_lists import Proposal
from shopdesk.services.purchasing import OrderLine
from shopdesk.services.reordering import LowRow
from shopdesk.services.stock import PartRow
from shopdesk.services.stock_takes import Counted, Difference
from shopdesk.ui.pages.stores.count_slip import CountSlip
from shopdesk.ui.pages.stores.draft import wish_of_low
from shopdesk.ui.pages.stores.order_slip import OrderSlip
from shopdesk.ui.pages.stores.part_form import PartForm, part_draft
from shopdesk.ui.widgets.fields import ChoiceField, CountField, DayField, MoneyField, TextField
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.wording import Region, say, say_n

if TYPE_CHECKING:
    from shopdesk.ui.pages.stores.shelf import ShelfSection


class ShelfWays:
    """The forms of these ways, opened beside the shelf for its current part."""

    def __init__(self, section: "ShelfSection") -> None:
        self._section = section

    @property
    def _region(self) -> Region:
        return self._section.context.region

    def _form(self, title: str, deed: str, keep: Any) -> SmallForm:
        return SmallForm(title, deed, keep, self._section.close_form, columns=2)

    def correct(self) -> None:
        part = self._section.current()
        if part is not None:
            self._section.page.ask(lambda seat: part_cards.part_card(seat, part.id), self._correct)

    def _correct(self, card: PartCard) -> None:
        def keep(values: dict[str, Any]) -> None:
            try:
                draft = part_draft(values)
            except Problem as problem:
                form.form.show_problem(problem)
                return
            self._section.save(lambda seat: part_cards.change_part(seat, card.row.id, draft),
                               say("{name} is written down.", name=draft.name))  # fmt: skip

        form = PartForm(card, self._region, keep, self._section.close_form)
        form.form.read_from(self._section.context.reading)
        self._section.side.open_form(form)

    def sell(self) -> None:
        part = self._section.current()
        if part is None:
            return

        def keep(values: dict[str, Any]) -> None:
            self._section.save(
                lambda seat: stock.sell_part(
                    seat, part.id, values["quantity"], values["price"] or 0, values["to"]
                ),
                say("{count} of {name} sold.", count=values["quantity"], name=part.name),
            )

        form = self._form(say("Sell {name}", name=part.name), say("It is sold"), keep)
        form.form.add("quantity", say("How many"), CountField(1))
        price = form.form.add("price", say("For, all of it"), MoneyField(self._region))
        price.setValue(part.price_out_cents)
        form.form.add("to", say("To whom"), TextField(), required=say("Write who bought it."), wide=True)
        self._section.side.open_form(form.ready())

    def print_labels(self) -> None:
        """Of the chosen parts, or of their bins."""
        chosen: list[PartRow] = self._section.list.selected()
        if not chosen:
            return
        keys, bins = [p.id for p in chosen], list(dict.fromkeys(p.lies_at for p in chosen if p.lies_at))

        def keep(values: dict[str, Any]) -> None:
            size, first = values["size"], values["first"]

            def make(seat: Any) -> bytes:
                if values["of"] == "bins":
                    return labels.bin_labels(seat, bins, size, first=first)
                return labels.part_labels(seat, keys, size, first=first)

            self._section.page.ask(make, show, self._section.side.show_problem)

        def show(pdf: bytes) -> None:
            self._section.close_form()
            self._section.context.show_paper(pdf, say("Labels"))

        form = self._form(say("Print labels"), say("Show them"), keep)
        of = [("parts", say_n("{count} part", "{count} parts", len(keys)))]
        if bins:
            of.append(("bins", say("bins: {names}", names=", ".join(bins))))
        form.form.add("of", say("For"), ChoiceField(of), wide=True)
        size = form.form.add("size", say("On"), ChoiceField([(name, say(name)) for name in labels.sizes()]))
        size.setValue(labels.usual_size(self._section.context.seat))
        form.form.add("first", say("First free place"), CountField(1))
        self._section.side.open_form(form.ready())

    def count(self, bin_name: str | None = None) -> None:
        """Counts the bin of the current part, or one that is named."""
        part = self._section.current()
        name = bin_name if bin_name is not None else part.lies_at if part is not None else None
        if name is not None:
            self._section.page.ask(
                lambda seat: stock_takes.sheet(seat, name), lambda rows: self._count(name, rows)
            )

    def _count(self, name: str, rows: list[PartRow]) -> None:
        if not rows:
            nothing = Problem("Nothing is written down as lying in {bin}.", bin=name)
            self._section.side.show_problem(nothing)
            return

        def book(counts: list[Counted]) -> None:
            self._section.page.do(
                lambda seat: stock_takes.book(seat, name, counts),
                done,
                form.show_problem,
                changes=("stores",),
            )

        def done(found: list[Difference]) -> None:
            self._section.form_saved()
            cents = self._region.money(sum(d.cost_cents for d in found))
            where = name or say("no place")
            differs = say_n("{bin} is counted: {count} difference, {money}.",
                            "{bin} is counted: {count} differences, {money}.", len(found), bin=where,
                            money=cents)  # fmt: skip
            same = say("{bin} is counted: it is as the ledger says.", bin=where)
            self._section.context.tell(differs if found else same)

        form = CountSlip(name, rows, book, self._section.close_form)
        self._section.side.open_form(form)

    def value(self) -> None:
        """What lies here is worth on a day, at cost."""

        def keep(values: dict[str, Any]) -> None:
            day: dt.date = values["on"]
            self._section.page.ask(lambda seat: stock_takes.value_on(seat, day), show)

        def show(value: stock_takes.Value) -> None:
            self._section.close_form()
            region = self._region
            self._section.context.tell(
                say("At the end of {day} the shelf had cost {shelf}, what was set aside {aside}.",
                    day=region.day(value.on), shelf=region.money(value.shelf_cents),
                    aside=region.money(value.aside_cents))
            )  # fmt: skip

        form = self._form(say("Value on a day"), say("Tell it"), keep)
        day = form.form.add("on", say("At the end of"), DayField(self._region), required=say("Write a day."))
        day.setValue(self._section.context.seat.today)
        self._section.side.open_form(form.ready())

    def low(self) -> None:
        """Consumables that run low, as lines to be ordered."""

        def ask(seat: Any) -> tuple[list[LowRow], list[people.PartyRow], dict[str, Proposal]]:
            rows = [row for row in reordering.low(seat) if row.suggested]
            return (
                rows,
                people.parties(seat, kind="supplier"),
                price_lists.proposals(seat, [r.name for r in rows]),
            )

        self._section.page.ask(ask, lambda answer: self._low(*answer))

    def _low(self, rows: list[LowRow], suppliers: list[people.PartyRow], known: dict[str, Proposal]) -> None:
        if not rows or not suppliers:
            self._section.side.show_problem(
                Problem("No consumable runs low. What is a consumable is said where a part is corrected.")
                if suppliers else Problem("There is no supplier yet. Write one down under Firms first.")
            )  # fmt: skip
            return

        def order(lines: list[tuple[int, OrderLine]], expected_on: Any, note: str) -> None:
            self._section.save(
                lambda seat: storeroom.order_from_several(seat, lines, expected_on=expected_on, note=note),
                lambda made: say_n("{count} order was made.", "{count} orders were made.", len(made)),
                changes=("stores", "papers"),
            )

        wishes = [wish_of_low(row) for row in rows]
        self._section.side.open_form(
            OrderSlip(wishes, suppliers, known, self._region, order, self._section.close_form)
        )
