"""The shelf: parts with how many there are and where they lie; in and out only with a reason."""

from collections.abc import Callable
from typing import Any

from shopdesk.services import part_cards, stock
from shopdesk.services.part_cards import PartCard
from shopdesk.services.stock import CONDITIONS, PartRow
from shopdesk.ui.context import Topics
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.stores.draft import fits_text
from shopdesk.ui.pages.stores.section import Section
from shopdesk.ui.pages.stores.shelf_ways import ShelfWays
from shopdesk.ui.widgets.fields import ChoiceField, CountField, MoneyField, TextField
from shopdesk.ui.widgets.list_table import ListTable
from shopdesk.ui.widgets.photo_strip import Brought, Photo, PhotoStrip
from shopdesk.ui.widgets.rows import Column
from shopdesk.ui.widgets.search_field import SearchField
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.wording import say


class ShelfSection(Section):
    """Search above the list; adding, counting and moving beside it."""

    def __init__(self, page: Page) -> None:
        super().__init__(page)
        self.ways = ShelfWays(self)
        self._wanted: int | None = None
        self.list = ListTable(
            say("Parts on the shelf"), self._columns(), key=lambda row: row.id,
            empty=say("Parts of the shop will stand here: bought for the shelf, or taken from donors."),
            first=(say("Add a part"), self.add), memory=self.context.memory, remembered="stores/shelf",
            several=True,
        )  # fmt: skip
        self.search = SearchField(say("Search the shelf"), self.list)
        self.search.searched.connect(lambda _words: self.refresh(self.topics))
        self.list.opened.connect(lambda _key: self.move_part())
        self.buttons = self.add_deeds(
            [
                (say("Move in or out"), "M", self.move_part, "box"),
                (say("Lay it elsewhere"), "L", self.lay_part, "pin"),
                (say("Correct it"), "E", self.ways.correct, "note"),
                (say("Sell it"), "S", self.ways.sell, "coin"),
                (say("Labels"), "P", self.ways.print_labels, "tag"),
                (say("Count its bin"), "C", self.ways.count, "tick"),
                (say("Add a part"), "A", self.add, "add"),
                (say("What runs low"), "R", self.ways.low, "truck"),
                (say("Value on a day"), "V", self.ways.value, "reckoning"),
            ]
        )
        self.moved = ListTable(
            say("What moved"), self._moved_columns(), key=lambda row: row.at.isoformat() + str(row.count),
            empty=say("Nothing moved yet."), memory=self.context.memory, remembered="stores/moved",
        )  # fmt: skip
        self.moved.setMinimumHeight(8 * self.fontMetrics().height())
        self.photos = PhotoStrip(self.context.dialogs)
        self.photos.brought.connect(self._keep_pictures)
        self.side.more.addWidget(self.moved)
        self.side.more.addWidget(self.photos)
        self.assemble("shelf", self.search, shares=(3, 2))
        self.show_current()

    def refresh(self, topics: Topics) -> None:
        words = self.search.words()

        def show(rows: list[PartRow]) -> None:
            nothing = say("Nothing on the shelf is called “{words}”.", words=words)
            first = say("Parts of the shop will stand here: bought for the shelf, or taken from donors.")
            self.list.empty.setText(nothing if words else first)
            self.show_list(rows)
            if self._wanted is not None:
                self.list.select(self._wanted)
                self._wanted = None

        self.page.ask(lambda seat: stock.parts(seat, words), show, key="parts")

    def current(self) -> PartRow | None:
        """The part the keyboard is on."""
        part: PartRow | None = self.list.current()
        return part

    def put_on(self, part_id: int) -> None:
        """Puts the keyboard on a part when its row comes."""
        self._wanted = part_id
        self.search.clear()

    def show_bin(self, name: str) -> None:
        """Only what lies in a bin."""
        self.search.setText(name)

    def show_current(self) -> None:
        part = self.list.current()
        for button in self.buttons[:6]:
            button.setVisible(part is not None)
        self.moved.setVisible(part is not None)
        self.photos.setVisible(part is not None)
        if part is None:
            self.side.say(say("Shelf"), say("Choose a part to move some in or out, or add one."))
            return
        where = part.lies_at or say("a place not written down")
        story = say("{number}, {condition}. {count} at {where}.", number=part.number,
                    condition=say(part.condition), count=part.in_stock, where=where)  # fmt: skip
        self.side.say(part.name, story)
        self.page.ask(_card(part.id), lambda found: self._show_card(*found), key="part card")

    def _show_card(self, card: PartCard, photos: list[Photo]) -> None:
        """What the ledger and the card say of the part, once it came."""
        self.moved.show_rows(card.moved)
        self.photos.show_photos(photos)
        row, region = card.row, self.context.region
        where = row.lies_at or say("a place not written down")
        parts = [
            say("{number}, {condition}. {count} at {where}.", number=row.number, condition=say(row.condition),
                count=row.in_stock, where=where),
        ]  # fmt: skip
        if row.state:
            parts.append(say("Condition: {state}.", state=row.state))
        if card.set_aside:
            parts.append(say("{count} set aside for tasks.", count=card.set_aside))
        sure = "; ".join(line for line in fits_text(card.draft.fits).splitlines() if not line.endswith("?"))
        maybe = "; ".join(
            line.rstrip(" ?") for line in fits_text(card.draft.fits).splitlines() if line.endswith("?")
        )
        if sure:
            parts.append(say("Fits: {ranges}.", ranges=sure))
        if maybe:
            parts.append(say("May fit: {ranges}.", ranges=maybe))
        if card.from_range:
            parts.append(say("Off donor {number}.", number=card.from_range))
        if row.in_stock:
            parts.append(say("It cost {money} as it lies there.", money=region.money(row.value_cents)))
        self.side.say(row.name, " ".join(parts))

    def _keep_pictures(self, pictures: list[Brought]) -> None:
        part = self.current()
        if part is None:
            return

        def keep(seat: Any) -> None:
            for picture in pictures:
                part_cards.photograph_part(seat, part.id, picture.read(), picture.name)

        self.page.do(keep, lambda _none: self.show_current(), self.side.show_problem, changes=("stores",))

    def add(self) -> None:
        region = self.context.region

        def keep(values: dict[str, Any]) -> None:
            self.save(
                lambda seat: stock.keep_part(
                    seat, values["name"], condition=values["condition"], lies_at=values["lies_at"],
                    price_in_cents=values["price_in"] or 0, price_out_cents=values["price_out"] or 0,
                    count=values["count"], reason=values["reason"],
                ),
                say("{name} is on the shelf.", name=values["name"]),
            )  # fmt: skip

        form = SmallForm(say("Add a part"), say("Put it on the shelf"), keep, self.close_form, columns=2)
        form.form.add("name", say("Part"), TextField(), required=say("A part needs a name."), wide=True)
        form.form.add("condition", say("Source"), ChoiceField([(c, say(c)) for c in CONDITIONS]))
        form.form.add("count", say("How many"), CountField(0))
        form.form.add("lies_at", say("Where it lies"), TextField())
        form.form.add("reason", say("Where it comes from"), TextField())
        form.form.add("price_in", say("Cost each"), MoneyField(region))
        form.form.add("price_out", say("Charged each"), MoneyField(region))
        self.side.open_form(form.ready())

    def move_part(self) -> None:
        part = self.list.current()
        if part is None:
            return

        def keep(values: dict[str, Any]) -> None:
            count = values["count"] * values["way"]
            text = (
                say("{count} of {name} put in.", count=count, name=part.name)
                if count > 0
                else say("{count} of {name} taken out.", count=-count, name=part.name)
            )
            self.save(lambda seat: stock.move_part(seat, part.id, count, values["reason"]), text)

        form = SmallForm(say("Move {name}", name=part.name), say("Move it"), keep, self.close_form, columns=2)
        form.form.add("way", say("Which way"), ChoiceField([(-1, say("out")), (1, say("in"))]))
        form.form.add("count", say("How many"), CountField(1))
        form.form.add("reason", say("Why"), TextField(), required=say("Say why it moves."), wide=True)
        self.side.open_form(form.ready())

    def lay_part(self) -> None:
        part = self.list.current()
        if part is None:
            return

        def keep(values: dict[str, Any]) -> None:
            self.save(lambda seat: part_cards.lay_part(seat, part.id, values["lies_at"]),
                      say("{name} lies at {where} now.",
                          name=part.name, where=values["lies_at"]))  # fmt: skip

        form = SmallForm(say("Where {name} lies", name=part.name), say("Lay it there"), keep, self.close_form)
        field = form.form.add("lies_at", say("Shelf, bin or bay"), TextField(),
                              required=say("Write where it lies."))  # fmt: skip
        field.setValue(part.lies_at)
        self.side.open_form(form.ready())

    def focusFirst(self) -> None:
        if self.list.model.rowCount() or not self.search.words():
            self.list.focusFirst()
        else:
            self.search.setFocus()

    def _moved_columns(self) -> list[Column]:
        region = self.context.region
        return [
            Column("at", say("When"), lambda r: region.day_short(region.local(r.at).date(),
                   self.context.seat.today), width=8),
            Column("quantity", say("Moved"), lambda r: f"{r.quantity:+d}", width=6, figures=True),
            Column("count", say("Then"), lambda r: str(r.count), width=5, figures=True),
            Column("reason", say("Why"), lambda r: r.reason, width=22, stretch=True),
            Column("cost", say("Cost"), lambda r: region.money(r.cost_cents), width=10, figures=True),
        ]  # fmt: skip

    def _columns(self) -> list[Column]:
        region = self.context.region
        return [
            Column("name", say("Part"), lambda r: r.name, width=28, strong=True, stretch=True,
                   sort=lambda r: r.name),
            Column("count", say("There"), lambda r: str(r.in_stock) if r.in_stock else say("none"), width=5,
                   figures=True, sort=lambda r: r.in_stock),
            Column("where", say("Where"), lambda r: r.lies_at, width=10, sort=lambda r: r.lies_at or None),
            Column("condition", say("Source"), lambda r: say(r.condition), width=8,
                   sort=lambda r: r.condition),
            Column("price", say("Charged each"), lambda r: region.money(r.price_out_cents), width=12,
                   figures=True, sort=lambda r: r.price_out_cents),
            Column("number", say("Number"), lambda r: r.number, width=7, sort=lambda r: r.number),
        ]  # fmt: skip


def _card(part_id: int) -> Callable[[Any], tuple[PartCard, list[Photo]]]:
    def ask(seat: Any) -> tuple[PartCard, list[Photo]]:
        pictures = [Photo(*found) for found in part_cards.part_pictures(seat, part_id)]
        return part_cards.part_card(seat, part_id), pictures

    return ask
