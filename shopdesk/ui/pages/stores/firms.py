"""The firms the shop deals with: suppliers, platers, enamellers and other trades."""

from typing import Any

from shopdesk.services import firm_records, people, tables_in
from shopdesk.services.firm_records import FirmRecord
from shopdesk.services.people import PartyDraft, PartyRow
from shopdesk.services.price_lists import PriceList
from shopdesk.services.tables_in import Table
from shopdesk.ui.context import Topics
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.stores.draft import party
from shopdesk.ui.pages.stores.section import Section
from shopdesk.ui.pages.stores.standing import record_words, what_it_does
from shopdesk.ui.table_in_form import TABLES, TableInForm
from shopdesk.ui.widgets.fields import CountField, NoteField, TextField, TickField
from shopdesk.ui.widgets.list_table import ListTable
from shopdesk.ui.widgets.rows import Column
from shopdesk.ui.widgets.search_field import SearchField
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.ui.widgets.weekdays_field import WeekdaysField
from shopdesk.wording import say


class FirmsSection(Section):
    """Suppliers and outworkers in one list; a firm may be both."""

    topics: Topics = frozenset({"everything", "people"})

    def __init__(self, page: Page) -> None:
        super().__init__(page)
        self.list = ListTable(
            say("Firms"), self._columns(), key=lambda row: row.id,
            empty=say("Suppliers, platers, enamellers and other trades will stand here."),
            first=(say("Write a firm down"), self.add), memory=self.context.memory,
            remembered="stores/firms",
        )  # fmt: skip
        self.search = SearchField(say("Search firms"), self.list)
        self.search.searched.connect(lambda _words: self.refresh(self.topics))
        self.list.opened.connect(lambda _key: self.edit())
        self.edit_button, self.list_button, _ = self.add_deeds(
            [
                (say("Correct it"), "E", self.edit, "note"),
                (say("Bring its price list in"), "B", self.bring_list, "open"),
                (say("Write a firm down"), "A", self.add, "add"),
            ]
        )
        self.assemble("firms", self.search)
        self.show_current()

    def refresh(self, topics: Topics) -> None:
        words = self.search.words()

        def ask(seat: Any) -> list[PartyRow]:
            found = [*people.parties(seat, words, kind="supplier"),
                     *people.parties(seat, words, kind="outworker")]  # fmt: skip
            return sorted({row.id: row for row in found}.values(), key=lambda row: row.name.casefold())

        def show(rows: list[PartyRow]) -> None:
            nothing = say("No firm is called “{words}”.", words=words)
            first = say("Suppliers, platers, enamellers and other trades will stand here.")
            self.list.empty.setText(nothing if words else first)
            self.show_list(rows)

        self.page.ask(ask, show, key="firms")

    def show_current(self) -> None:
        firm = self.list.current()
        self.edit_button.setVisible(firm is not None)
        self.list_button.setVisible(firm is not None and firm.supplies)
        if firm is None:
            self.side.say(say("Firms"), say("Choose a firm to correct it, or write a new one down."))
            return
        facts = [what_it_does(firm), firm.phone, firm.email, firm.town]
        self.side.say(firm.name, "\n".join(fact for fact in facts if fact))
        if firm.trade:
            self.page.ask(
                firm_records.firm_records, lambda found: self._tell_record(firm, found), key="record"
            )

    def _tell_record(self, firm: PartyRow, found: list[FirmRecord]) -> None:
        """How it has done so far, once that came."""
        record = next((r for r in found if r.firm_id == firm.id), None)
        if record is not None and self.list.current() == firm:
            facts = [
                what_it_does(firm),
                firm.phone,
                firm.email,
                firm.town,
                record_words(record, self.context.region),
            ]
            self.side.say(firm.name, "\n".join(fact for fact in facts if fact))

    def bring_list(self) -> None:
        """A supplier's price list from a CSV or XLSX file."""
        firm = self.list.current()
        if firm is None or not firm.supplies:
            return
        title = say("Price list of {name}", name=firm.name)
        path = self.context.dialogs.open_file(
            say("Price list of {name}", name=firm.name), say("Tables"), TABLES
        )
        if path is None:
            return

        def show(found: tuple[Any, Table, dict[str, int]]) -> None:
            target, table, matching = found
            self.side.open_form(TableInForm(title, target, table, matching, self.context, self.close_form))

        def ask(seat: Any) -> tuple[Any, Table, dict[str, int]]:
            target, table = PriceList(seat, firm.id), tables_in.open_table(path)
            return target, table, tables_in.known_matching(seat, target, table)

        self.page.ask(ask, show, self.side.show_problem)

    def add(self) -> None:
        self._open(None, None)

    def edit(self) -> None:
        firm = self.list.current()
        if firm is not None:
            self.page.ask(
                lambda seat: people.party_draft(seat, firm.id), lambda known: self._open(firm.id, known)
            )

    def _open(self, firm_id: int | None, known: PartyDraft | None) -> None:
        def keep(values: dict[str, Any]) -> None:
            self.save(
                lambda seat: people.keep_party(seat, party(values, known), firm_id),
                say("{name} is written down.", name=values["name"]),
                changes=("people",),
            )

        title = say("Correct {name}", name=known.name) if known else say("A new firm")
        form = SmallForm(title, say("Write it down"), keep, self.close_form, columns=2)
        add = form.form.add
        add("name", say("Name"), TextField(), required=say("The firm needs a name."), wide=True)
        add("supplies", "", TickField(say("Sells parts")))
        add("trade", say("Trade for outwork"), TextField(), note=say("plater, enameller, blaster, welder …"))
        add("send_days", say("Takes pieces in on"), WeekdaysField(self.context.region.locale), wide=True,
            note=say("None ticked: any day. The plan sends pieces out on these days only."))  # fmt: skip
        add("return_days", say("Gives pieces back on"), WeekdaysField(self.context.region.locale), wide=True,
            note=say("None ticked: any day. The plan counts with pieces on these days only."))  # fmt: skip
        add("contact", say("Whom to ask for"), TextField())
        add("phone", say("Telephone"), TextField())
        add("email", say("E-mail"), TextField(), wide=True)
        add("street", say("Street"), TextField(), wide=True)
        add("town", say("Town"), TextField())
        add("postcode", say("Postcode"), TextField())
        add("region", say("State or county"), TextField())
        add("country", say("Country"), TextField())
        add("currency", say("Its prices are in"), TextField(), note=say("Empty: in our money."))
        add("our_account", say("Our number with them"), TextField())
        add("lead_days", say("Usual days to come"), CountField(0, 365))
        add("note", say("Note"), NoteField(lines=2), wide=True)
        if known is not None:
            form.form.read_from(self.context.reading)
            form.form.show_values({name: getattr(known, name) for name in PartyDraft.__dataclass_fields__})
        self.side.open_form(form.ready())

    def _columns(self) -> list[Column]:
        return [
            Column("name", say("Firm"), lambda r: r.name, width=28, strong=True, stretch=True,
                   sort=lambda r: r.name),
            Column("does", say("What it does"), what_it_does, width=18, sort=what_it_does),
            Column("phone", say("Telephone"), lambda r: r.phone, width=14),
            Column("town", say("Town"), lambda r: r.town, width=14, sort=lambda r: r.town or None),
        ]  # fmt: skip
