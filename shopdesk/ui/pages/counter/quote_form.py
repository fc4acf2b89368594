"""A quote before it is written: the scopes with their prices, the lines of the chosen one, the terms."""

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from shopdesk.domain.adjust import Change
from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import offers
from shopdesk.services.offers import Offer
from shopdesk.services.seat import Seat
from shopdesk.ui.pages.counter import draft
from shopdesk.ui.pages.counter.changes_form import Changes
from shopdesk.ui.pages.counter.draft import QuoteWish, scopes, steps
from shopdesk.ui.pages.counter.lines_view import LinesView
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import ChoiceField, MoneyField, NoteField, TickField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Note, ProblemText
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.ui.widgets.wrapped_row import WrappedRow
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
        self.changes = Changes(self._region, self.ask)
        self.change_button = Button(say("Discount or surcharge"), self._begin_change)
        self.plain_button = Button(say("Take them off"), self.changes.clear)
        self.beside_button = Button(say("Show them side by side"), self._show_beside, icon_name="print")
        row = WrappedRow([self.change_button, self.plain_button, self.beside_button])
        parts = [self.scopes, self.standing, self.problem, self.lines, row, self.changes]
        self.setLayout(upright(parts, gap="small"))
        self.form = self._make_form()
        self.ask()

    def scope(self) -> Scope:
        """The chosen one."""
        key = self.scopes.current_key()
        return key if isinstance(key, Scope) else self._wanted

    def ask(self) -> None:
        """Prices every scope anew."""
        step, delivery = self.form["step"].value(), self.form["delivery"].value()
        changes = tuple(self.changes.given)
        self.plain_button.setVisible(bool(changes))
        self._page.ask(
            lambda seat: _offers(seat, self._job_id, step, delivery, changes), self._show, key="offers"
        )

    def _begin_change(self) -> None:
        offer = self._offers.get(self.scope())
        self.changes.begin(offer.lines if offer is not None else ())
        self.priced.emit()

    def _show_beside(self) -> None:
        delivery = self.form["delivery"].value()
        self._page.ask(
            lambda seat: offers.choices_pdf(seat, self._job_id, delivery=delivery),
            lambda pdf: self._page.context.show_paper(pdf, say("Your choices")),
            self.form.show_problem, key="choices",
        )  # fmt: skip

    def wish(self, deposit_cents: int | None, milestones: str = "") -> QuoteWish:
        scope = self.scope()
        offer = self._offers.get(scope)
        return QuoteWish(self._job_id, self.form["step"].value(), scope, self.form["delivery"].value(),
                         deposit_cents, offer is None or offer.as_ordered, tuple(self.changes.given),
                         tuple(draft.read_milestones(milestones)))  # fmt: skip

    def preview(self) -> None:
        """The paper as it would be, in its window."""
        values = self.form.values()
        if values is None:
            return
        wish = self.wish(values["deposit"])

        def drawn(seat: Seat) -> bytes:
            return offers.offer_pdf(seat, wish.job_id, wish.scope, wish.step, delivery=wish.delivery,
                                    deposit_cents=wish.deposit_cents, changes=wish.changes)  # fmt: skip

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
        form.add("milestones", say("What is &billed when"), NoteField(lines=2), wide=True,
                 note=say("One a line: the share and what is reached, such as 30 teardown done. Empty: "
                          "billed as the work is done."))  # fmt: skip
        form.on_save(say("&Write the quote"), self._submit, icon_name="note")
        form.add_button(Button(say("&Preview"), self.preview))
        form.remember(self._page.context.drafts, f"counter/quote/{self._job_id}")
        return form

    def _submit(self, values: dict[str, Any]) -> None:
        try:
            wish = self.wish(values["deposit"], values["milestones"])
        except Problem as problem:
            self.form.show_problem(problem)
            return
        self._save(wish)

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
        if offer.contingency_cents:
            after.append((say("Contingency, for the hours"), region.money(offer.contingency_cents), False))
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


def _offers(seat: Seat, job_id: int, step: str, delivery: bool, changes: Sequence[Change]) -> Answer:
    """Every scope that can be priced; one on which a change does not fit says so."""
    found: list[Offer] = []
    problem: Problem | None = None
    for scope in Scope:
        try:
            found.append(offers.offer(seat, job_id, scope, step, delivery=delivery, changes=changes))
        except Problem as refusal:
            problem = refusal
    return found, problem if changes or not found else None
