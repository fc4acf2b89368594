"""Customers: found while one types, written down, corrected, and what each has or had here."""

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import people
from shopdesk.services.people import HasHere, PartyDraft, PartyRow
from shopdesk.services.seat import Seat
from shopdesk.ui.pages.counter.account_panel import AccountPanel
from shopdesk.ui.pages.counter.customer_form import customer_form
from shopdesk.ui.pages.counter.folding import FoldingBeside
from shopdesk.ui.pages.counter.shown import here_strip, party_strip
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.boxes import STRETCH, Part, emptied, upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.search_field import SearchField
from shopdesk.ui.widgets.strip_list import StripList
from shopdesk.wording import say

NOBODY = PartyDraft(name="")


class Customers(QWidget):
    """`jobAsked` names a job of a customer that is to be shown."""

    jobAsked = Signal(int, str)

    def __init__(self, page: Page) -> None:
        super().__init__()
        self._page = page
        self._shown: int | None = None
        self._busy = False
        self._wanted: int | None = None
        self.form: Form | None = None
        self.list = StripList(say("Customers"), empty=say("Customers you write down will stand here."),
                              first=(say("Write one down"), self.begin_new))  # fmt: skip
        self.search = SearchField(say("Name, telephone or town"), self.list)
        self.search.searched.connect(lambda _words: self.ask())
        self.list.chosen.connect(self._choose)
        self.list.opened.connect(lambda _key: self._go_to_form())
        self.new_button = Button(say("New &customer"), self.begin_new, icon_name="add")
        self.heading = Heading("")
        self.heading.setWordWrap(True)
        self._form_box = upright()
        holder = QWidget()
        holder.setLayout(self._form_box)
        self.here_heading = Heading(say("Has here"))
        self.here = StripList(say("Jobs of this customer"), empty=say("Their ranges will stand here."),
                              lines=3, most=5)  # fmt: skip
        self.here.opened.connect(lambda key: self.jobAsked.emit(int(key), ""))
        self.account = AccountPanel(page)
        self.account.gone.connect(self.begin_new)
        parts: list[Part] = [self.heading, self.account, holder, self.here_heading, self.here, STRETCH]
        self.sheet = PageScroll(upright(parts, gap="gap", margin="gap"))
        left = upright([self.search, self.new_button, self.list], gap="small", margin="gap")
        left.setStretchFactor(self.list, 1)
        found = QWidget()
        found.setLayout(left)
        memory = page.context.memory
        beside = FoldingBeside(found, self.list, self.sheet, memory, "counter/customers", shares=(2, 3))
        self.setLayout(upright([beside]))
        self._show_form(None, NOBODY)

    def ask(self) -> None:
        """The list anew, and what the shown customer has here."""
        words = self.search.words()
        self.new_button.setVisible(self._page.context.may(Action.KEEP_PEOPLE))
        self._page.ask(
            lambda seat: people.parties(seat, words, kind="customer"), self._show_found, key="customers"
        )
        if self._shown is not None:
            self._ask_here(self._shown)
            self.account.show_party(self._shown)

    def focusFirst(self) -> None:
        self.search.setFocus()

    def begin_new(self) -> None:
        """An empty form; what was typed in it before is still there."""
        self.list.view.clearSelection()
        self.list.view.setCurrentIndex(self.list.model.index(-1, -1))
        self._show_form(None, NOBODY)
        self._go_to_form()

    def choose(self, party_id: int) -> None:
        """Shows this customer."""
        self._wanted = party_id
        if self.search.words():
            self.search.clear()
        self.ask()

    def _go_to_form(self) -> None:
        self.sheet.show()
        if self.form is not None:
            self.form.focusFirst()

    def _show_found(self, rows: list[PartyRow]) -> None:
        self.list.empty.setText(
            say("Nobody is like that. Try less of the name, or write them down.")
            if self.search.words()
            else say("Customers you write down will stand here.")
        )
        self.list.show_rows([party_strip(row) for row in rows])
        if self._wanted is not None and self.list.select(self._wanted):
            self._wanted = None

    def _choose(self, key: Any) -> None:
        if key is None or key == self._shown:
            return
        party_id = int(key)
        self._page.ask(
            lambda seat: people.party_draft(seat, party_id),
            lambda kept: self._show_form(party_id, kept), key="customer",
        )  # fmt: skip
        self._ask_here(party_id)

    def _ask_here(self, party_id: int) -> None:
        self._page.ask(lambda seat: people.jobs_of(seat, party_id), self._show_here, key="here")

    def _show_here(self, rows: list[HasHere]) -> None:
        region, today = self._page.context.region, self._page.context.seat.today
        self.here.show_rows([here_strip(region, today, row) for row in rows])

    def _show_form(self, party_id: int | None, kept: PartyDraft) -> None:
        self._shown = party_id
        emptied(self._form_box)
        name = f"counter/customer/{party_id or 'new'}"
        self.form = customer_form(self._page.context, kept, name, self._save)
        self.form.read_from(self._page.context.reading)
        self._form_box.addWidget(self.form)
        self.heading.setText(kept.name if party_id else say("New customer"))
        self.account.show_party(party_id)
        self.here_heading.setVisible(party_id is not None)
        self.here.setVisible(party_id is not None)

    def _save(self, draft: PartyDraft) -> None:
        form, party_id = self.form, self._shown
        if form is None or self._busy:
            return
        self._busy = True

        def kept(key: int) -> None:
            self._busy = False
            form.saved()
            self._page.context.tell(say("{name} is written down.", name=draft.name))
            if form.seen is None:  # a new one: what is corrected in it now was read now
                self._page.ask(lambda _seat: None, lambda _none: form.read_from(self._page.context.reading))
            if self._shown == party_id:
                self._shown = key
                self.heading.setText(draft.name)
                self.here_heading.show()
                self.here.show()
            self.choose(key)

        def refused(problem: Problem) -> None:
            self._busy = False
            form.show_problem(problem)

        def keep(seat: Seat) -> int:
            return people.keep_party(seat, draft, party_id)

        self._page.do(keep, kept, refused, changes=["people", "jobs"], form=form)
