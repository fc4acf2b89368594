"""A customer's account: what they owe, what is held, statements, payments over several bills."""

import datetime as dt
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import accounts, erasing, party_merging, statements
from shopdesk.services.accounts import Account
from shopdesk.ui.pages.counter.draft import methods
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.boxes import emptied, upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import ChoiceField, DayField, MoneyField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Words
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import Region, say

_STATEMENT_DAYS = 90  # a statement goes back so far unless another day is written; common practice, no source
_TOPICS = ("people", "jobs", "money", "papers")


class AccountPanel(QWidget):
    """Shown for one customer; `gone` says that the record is no longer in the lists."""

    gone = Signal()

    def __init__(self, page: Page) -> None:
        super().__init__()
        self._page = page
        self._party: int | None = None
        self._account: Account | None = None
        self._busy = False
        self.form: Form | None = None
        self.standing = Words()
        self.open = StripList(say("Open invoices"), empty=say("Nothing is open."), most=4)
        self.pay_button = Button(say("Take a payment"), self.begin_payment, icon_name="coin")
        self.back_button = Button(say("Give back what is kept"), self.begin_back)
        self.statement_button = Button(say("Statement"), self.begin_statement, icon_name="note")
        self.merge_button = Button(say("Make one of two records"), self.begin_merge)
        self.erase_button = Button(say("Erase this customer"), self.erase)
        row = WrappedRow(
            [self.pay_button, self.back_button, self.statement_button, self.merge_button, self.erase_button]
        )
        self._form_box = upright()
        holder = QWidget()
        holder.setLayout(self._form_box)
        self.setLayout(upright([self.standing, self.open, row, holder], gap="small"))

    def show_party(self, party_id: int | None) -> None:
        """The account of this customer; nobody hides it."""
        if party_id != self._party:
            self._close()
        self._party = party_id
        self.setVisible(party_id is not None)
        if party_id is not None:
            self._page.ask(lambda seat: accounts.account(seat, party_id), self._show, key="account")

    def begin_payment(self) -> None:
        """One payment for several bills, the oldest first; what is over is kept."""
        if self._account is None or self._party is None:
            return
        party_id, form = self._party, self._money_form(self._account.owed_cents)

        def save(values: dict[str, Any]) -> None:
            self._do(
                lambda seat: accounts.pay(
                    seat, party_id, values["amount"], values["method"], reference=values["reference"],
                    on=values["on"],
                ),
                self._receipt,
            )  # fmt: skip

        form.add("on", say("Da&y"), DayField(self._region)).setValue(self._page.context.seat.today)
        form.on_save(say("&Take it"), save, icon_name="coin")
        self._open(form)

    def begin_back(self) -> None:
        """Gives back what is kept for the customer beside their jobs."""
        if self._account is None or self._party is None:
            return
        party_id, form = self._party, self._money_form(self._account.held_cents)
        form.on_save(
            say("&Give it back"),
            lambda values: self._do(
                lambda seat: accounts.give_back(
                    seat, party_id, values["amount"], values["method"], reference=values["reference"]
                ),
                self._receipt,
            ),
        )
        self._open(form)

    def begin_statement(self) -> None:
        """The days of a statement; seen before it is kept."""
        if self._party is None:
            return
        party_id, today, form = self._party, self._page.context.seat.today, Form(columns=2)
        form.add("from_day", say("F&rom"), DayField(self._region), required=say("Write the day."))
        form.add("to_day", say("T&o"), DayField(self._region), required=say("Write the day."))
        form.show_values({"from_day": today - dt.timedelta(days=_STATEMENT_DAYS), "to_day": today})
        form.on_save(
            say("&Print the statement"),
            lambda values: self._do(
                lambda seat: statements.print_statement(seat, party_id, values["from_day"], values["to_day"]),
                lambda number: self._page.context.show_paper(
                    number, say("Statement {number}", number=number), "statement"
                ),
            ),
        )
        self._open(form)

    def begin_merge(self) -> None:
        """Another record of the same customer is made one with this."""
        if self._party is None:
            return
        party_id = self._party
        self._page.ask(lambda seat: party_merging.alike(seat, party_id), self._offer_alike, key="alike")

    def erase(self) -> None:
        """Empties the texts after a question; papers stay."""
        party_id = self._party
        if party_id is not None and self._page.context.dialogs.confirm(
            say("Erase this customer"),
            say(
                "Empty name, address, telephone and every other text of this customer, in notes and in the "
                "journal too? Issued papers, bills and payments stay, as the duty to keep books asks. Copies "
                "of the shop made before today still hold the texts. This cannot be taken back."
            ),
            say("Erase"),
        ):
            self._do(lambda seat: erasing.erase(seat, party_id), lambda _none: self.gone.emit())

    def _offer_alike(self, found: list[tuple[int, str]]) -> None:
        party_id = self._party
        if party_id is None:
            return
        if not found:
            self._page.context.tell(
                say("No other record has this name, telephone or e-mail. Write one of them alike first.")
            )
            return
        form = Form()
        form.add("other", say("The &other record"), ChoiceField(found),
                 note=say("Its jobs, ranges and open money come here; its issued papers stay."))  # fmt: skip
        form.on_save(
            say("&Make them one"),
            lambda values: self._do(
                lambda seat: party_merging.merge(seat, party_id, values["other"]),
                lambda _none: self._page.context.tell(say("The two records are one.")),
            ),
        )
        self._open(form)

    @property
    def _region(self) -> Region:
        return self._page.context.region

    def _money_form(self, cents: int) -> Form:
        form = Form(columns=2)
        amount = form.add(
            "amount", say("Amount"), MoneyField(self._region), required=say("Write the amount.")
        )
        amount.setValue(cents or None)
        form.add("method", say("How"), ChoiceField(methods(), "card"))
        form.add("reference", say("Reference"), TextField())
        return form

    def _show(self, account: Account) -> None:
        if account.party_id != self._party:
            return
        self._account = account
        region, may, today = self._region, self._page.context.may, self._page.context.seat.today
        self.standing.setText(account_words(region, account))
        self.open.show_rows([_open_strip(region, today, bill) for bill in account.open])
        self.open.setVisible(bool(account.open))
        self.pay_button.setVisible(may(Action.TAKE_PAYMENT))
        self.back_button.setVisible(may(Action.TAKE_PAYMENT) and account.held_cents > 0)
        self.statement_button.setVisible(may(Action.WRITE_LETTER))
        self.merge_button.setVisible(may(Action.KEEP_PEOPLE))
        self.erase_button.setVisible(may(Action.ERASE))

    def _do(self, action: Any, then: Any) -> None:
        form = self.form
        if self._busy:
            return
        self._busy = True

        def done(result: Any) -> None:
            self._busy = False
            self._close()
            then(result)
            self.show_party(self._party)

        def refused(problem: Problem) -> None:
            self._busy = False
            if form is not None:
                form.show_problem(problem)
            else:
                self._page.context.tell_problem(problem)

        self._page.do(action, done, refused, changes=_TOPICS)

    def _receipt(self, number: str) -> None:
        self._page.context.tell(
            say("{number} is written down.", number=number), say("Show the receipt"),
            lambda: self._page.context.show_paper(
                number, say("Payment receipt {number}", number=number), "payment receipt"
            ),
        )  # fmt: skip

    def _open(self, form: Form) -> None:
        self._close()
        self.form = form
        form.add_button(Button(say("Leave it"), self._close))
        self._form_box.addWidget(form)
        form.focusFirst()

    def _close(self) -> None:
        self.form = None
        emptied(self._form_box)


def account_words(region: Region, account: Account) -> str:
    owed = (
        say("Owes {amount}.", amount=region.money(account.owed_cents))
        if account.owed_cents
        else say("Owes nothing.")
    )
    if not account.held_cents:
        return owed
    return owed + " " + say("{amount} is held for them.", amount=region.money(account.held_cents))


def _open_strip(region: Region, today: dt.date, bill: accounts.OpenInvoice) -> Strip:
    late = (today - bill.due_on).days if bill.due_on else 0
    due = say("due {day}", day=region.day_short(bill.due_on, today)) if bill.due_on else ""
    return Strip(bill.id, bill.number, due, region.money(bill.open_cents),
                 say("past due") if late > 0 else "", "problem" if late > 0 else "muted")  # fmt: skip
