"""A quote before it is written: the scopes with their prices, the lines of the chosen one, the terms."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import offers
from shopdesk.services.offers import Offer
from shopdesk.services.seat import Seat
from shopdesk.ui.pages.counter.draft import QuoteWish, scopes, steps
from shopdesk.ui.pages.counter.lines_view import LinesView
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import ChoiceField, MoneyField, TickField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Note, ProblemText
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.wording import say, say_problem

Answer = tuple[list[Offer], Problem | None]


class QuotePricing(QWidget):
    """What would be written, by scope; nothing is written here. `form` holds the terms."""

    priced = Signal()

    def __init__(self, page: Page, job_id: int, scope: Scope, save: Callable[[QuoteWish], object]) -> None:
        super().__init__()
        self._page, self._job_id, self._save = page, job_id, save
        self._region = page.context.region
        self._offers: dict[Scope, Offer] = {}
        self._wanted = scope
        self.scopes = StripList(say("Scopes and their prices"), empty=say("Pricing…"), most=3)
        self.scopes.chosen.connect(self._show_chosen)
        self.standing = Note()
        self.problem = ProblemText()
        self.lines = LinesView(say("Lines of the new quote"))
        self.lines.hide()
        self.setLayout(upright([self.scopes, self.standing, self.problem, self.lines], gap="small"))
        self.form = self._make_form()
        self.ask()

    def scope(self) -> Scope:
        """The chosen one."""
        key = self.scopes.current_key()
        return key if isinstance(key, Scope) else self._wanted

    def ask(self) -> None:
        """Prices every scope anew."""
        step, delivery = self.form["step"].value(), self.form["delivery"].value()
        self._page.ask(lambda seat: _offers(seat, self._job_id, step, delivery), self._show, key="offers")

    def wish(self, deposit_cents: int | None) -> QuoteWish:
        scope = self.scope()
        offer = self._offers.get(scope)
        return QuoteWish(self._job_id, self.form["step"].value(), scope, self.form["delivery"].value(),
                         deposit_cents, offer is None or offer.as_ordered)  # fmt: skip

    def preview(self) -> None:
        """The paper as it would be, in its window."""
        values = self.form.values()
        if values is None:
            return
        wish = self.wish(values["deposit"])

        def drawn(seat: Seat) -> bytes:
            return offers.offer_pdf(seat, wish.job_id, wish.scope, wish.step, delivery=wish.delivery,
                                    deposit_cents=wish.deposit_cents)  # fmt: skip

        self._page.ask(
            drawn, lambda pdf: self._page.context.show_paper(pdf, say("Quote, not written yet")),
            self.form.show_problem, key="offer paper",
        )  # fmt: skip

    def _make_form(self) -> Form:
        form = Form(columns=2)
        form.add("step", say("&For"), ChoiceField(steps(), "job")).edited.connect(self.ask)
        form.add("deposit", say("&Deposit asked"), MoneyField(self._region),
                 note=say("Left empty, it follows the shop’s terms."))  # fmt: skip
        form.add("delivery", "", TickField(say("With deli&very and placing"), True)).edited.connect(self.ask)
        form.on_save(say("&Write the quote"), self._submit, icon_name="note")
        form.add_button(Button(say("&Preview"), self.preview))
        form.remember(self._page.context.drafts, f"counter/quote/{self._job_id}")
        return form

    def _submit(self, values: dict[str, Any]) -> None:
        self._save(self.wish(values["deposit"]))

    def _show(self, answer: Answer) -> None:
        found, problem = answer
        self._offers = {offer.scope: offer for offer in found}
        self.problem.show_text(say_problem(problem) if problem else "")
        self.scopes.setVisible(bool(found))
        self.scopes.show_rows([self._strip(offer) for offer in found])
        if found and self.scopes.current_key() is None:
            self.scopes.select(self._wanted)
        self._show_chosen()
        self.priced.emit()

    def _strip(self, offer: Offer) -> Strip:
        second = say("as the work order stands") if offer.as_ordered else say("as it would be ordered")
        amount = self._region.money(offer.totals.with_tax)
        return Strip(offer.scope, dict(scopes())[offer.scope], second, amount, say("with tax"))

    def _show_chosen(self, _key: object = None) -> None:
        offer = self._offers.get(self.scope())
        self.lines.setVisible(offer is not None)
        standing = self._standing(offer) if offer is not None else ""
        self.standing.setText(standing)
        self.standing.setVisible(bool(standing))
        if offer is None:
            return
        region = self._region
        after = []
        if offer.deposit_cents:
            after.append((say("Deposit asked"), region.money(offer.deposit_cents), False))
        after.append((say("Not above, without tax"), region.money(offer.ceiling_cents), False))
        if offer.valid_until is not None:
            after.append((say("Valid until"), region.day(offer.valid_until), False))
        self.lines.show_lines(region, offer.lines, offer.totals, after, offer.adjustments)

    def _standing(self, offer: Offer) -> str:
        if offer.as_ordered:
            return ""
        if self._page.context.may(Action.PLAN_WORK):
            return say("Writing this quote also brings the work order to this scope.")
        return say(
            "The work order stands otherwise. The owner or a technician brings it to this scope first."
        )


def _offers(seat: Seat, job_id: int, step: str, delivery: bool) -> Answer:
    found: list[Offer] = []
    problem: Problem | None = None
    for scope in Scope:
        try:
            found.append(offers.offer(seat, job_id, scope, step, delivery=delivery))
        except Problem as refusal:
            problem = refusal
    return found, None if found else problem
