"""Payments of a job: deposits, payments, money given back, each with its receipt."""

from typing import Any

from shopdesk.domain.access import Passage
from shopdesk.domain.rights import Action
from shopdesk.services import accounts
from shopdesk.services.counter import JobAtCounter
from shopdesk.services.invoices import InvoiceRow
from shopdesk.services.payments import PaymentRow
from shopdesk.ui.access_words import access_words
from shopdesk.ui.pages.counter import draft
from shopdesk.ui.pages.counter.draft import Money, methods
from shopdesk.ui.pages.counter.next_steps import deposit_open, money_sentence
from shopdesk.ui.pages.counter.section import Section
from shopdesk.ui.pages.counter.shown import payment_strip
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import ChoiceField, DayField, MoneyField, TextField, TickField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Words
from shopdesk.ui.widgets.strip_list import StripList
from shopdesk.wording import say


class PaymentsSection(Section):
    """The amount is filled in with what is open; the receipt shows when it is taken."""

    key = "payments"

    def __init__(self, page: Page) -> None:
        super().__init__(page, say("Payments"))
        self.standing = Words()
        self.list = StripList(
            say("Payments of this job"), empty=say("Deposits and payments will stand here."), most=5
        )
        self.list.opened.connect(lambda _key: self.show_receipt())
        self.list.chosen.connect(lambda _key: self._show_chosen())
        self.take_button = Button(say("&Take a payment"), self.begin_payment, icon_name="coin")
        self.back_button = Button(say("Give money &back"), self.begin_refund)
        self.credit_button = Button(say("Use what is kept for them"), self.use_credit)
        self.paper_button = Button(say("Show the receipt"), self.show_receipt, icon_name="print")
        row = self.deeds([self.take_button, self.credit_button, self.back_button, self.paper_button])
        for widget in (self.standing, self.list, row):
            self.body.addWidget(widget)

    def show_job(self, job: JobAtCounter) -> None:
        super().show_job(job)
        region, today = self.context.region, self.context.seat.today
        self.standing.setText(money_sentence(region, job))
        self.list.show_rows([payment_strip(region, today, row) for row in reversed(job.payments)])
        may = self.context.may(Action.TAKE_PAYMENT)
        payer = job.head.customer_id is not None or bool(job.invoices)
        self.take_button.setVisible(may and payer)
        self.back_button.setVisible(may and job.head.money.held_cents > 0)
        held = job.head.money.held_cents + job.life.held_elsewhere_cents
        self.credit_button.setVisible(may and held > 0 and self._open_bill() is not None)
        self._show_chosen()

    def focusFirst(self) -> None:
        if self.take_button.isVisible():
            self.take_button.setFocus()
        else:
            self.list.focusFirst()

    def begin_payment(self) -> None:
        """The form of money coming in."""
        assert self.job is not None
        asked, balance = deposit_open(self.job), self.job.head.money.balance_cents
        deposit = asked > 0 and balance <= 0
        form = self._form(asked if deposit else max(0, balance))
        if deposit and self.job.life.access.passage is not Passage.THROUGH:
            form.add_words(Words(access_words(self.job.life.access, self.context.region), "body", "hold"))
        form.add("deposit", "", TickField(say("A &deposit, held for an invoice"), deposit),
                 wide=True)  # fmt: skip
        form.on_save(say("&Take it"), lambda values: self._save(values, "take"), icon_name="coin")
        form.remember(self.context.drafts, f"counter/payment/{self.job_id}")
        self.open_form(say("Money that comes in"), form)

    def begin_refund(self) -> None:
        """The form of money going back."""
        assert self.job is not None
        form = self._form(self.job.head.money.held_cents, day=False)
        form.on_save(say("&Give it back"), lambda values: self._save(values, "back"))
        self.open_form(say("Money that goes back"), form)

    def use_credit(self) -> None:
        """Sets money that is kept for the customer against the oldest open bill of this job."""
        bill = self._open_bill()
        if bill is None:
            return
        self.act(
            lambda seat: accounts.use_credit(seat, bill.id),
            lambda cents: self.context.tell(
                say("{amount} is set against {number}.", amount=self.context.region.money(cents),
                    number=bill.number)
            ),
        )  # fmt: skip

    def _open_bill(self) -> InvoiceRow | None:
        views = self.job.invoices if self.job else ()
        return next((view.row for view in views if view.row.open_cents > 0), None)

    def chosen(self) -> PaymentRow | None:
        key = self.list.current_key()
        return next((row for row in (self.job.payments if self.job else ()) if row.id == key), None)

    def show_receipt(self) -> None:
        row = self.chosen()
        if row is not None:
            self._show(row.number)

    def _form(self, cents: int, *, day: bool = True) -> Form:
        region = self.context.region
        form = Form(columns=2)
        amount = form.add("amount", say("Amount"), MoneyField(region), required=say("Write the amount."))
        amount.setValue(cents or None)
        form.add("method", say("&How"), ChoiceField(methods(), "card"))
        form.add("reference", say("&Reference"), TextField(),
                 note=say("Such as the slip or the check number."))  # fmt: skip
        if day:
            form.add("on", say("Da&y"), DayField(region)).setValue(self.context.seat.today)
        return form

    def _save(self, values: dict[str, Any], way: str) -> None:
        money = Money(
            self.job_id, values["amount"], values["method"], values["reference"],
            values.get("deposit", False), values.get("on"),
        )  # fmt: skip
        do = draft.take if way == "take" else draft.give_back
        self.act(lambda seat: do(seat, money), self._taken)

    def _taken(self, number: str) -> None:
        self.context.tell(
            say("{number} is written down.", number=number), say("Show the receipt"),
            lambda: self._show(number),
        )  # fmt: skip

    def _show(self, number: str) -> None:
        self.show_paper(number, say("Payment receipt {number}", number=number), "payment receipt")

    def _show_chosen(self) -> None:
        self.paper_button.setVisible(self.chosen() is not None)
