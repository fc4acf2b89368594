"""Beside the walk: what the range is wanted for, what is asked for it, and what it comes to so far."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from shopdesk.domain.access import Passage
from shopdesk.domain.catalogue.model import Catalogue, Purpose
from shopdesk.domain.problem import Problem
from shopdesk.services.inspection import Worth
from shopdesk.ui.access_words import access_words
from shopdesk.ui.pages.walk_round import worth_words as words
from shopdesk.ui.pages.walk_round.span_bars import SpanBars
from shopdesk.ui.pages.walk_round.tornado import Tornado
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.fields import ChoiceField, MoneyField
from shopdesk.ui.widgets.headings import Heading, Note, ProblemText, Words
from shopdesk.wording import Region, say, say_problem


def purposes() -> list[tuple[Purpose, str]]:
    """What a range may be wanted for."""
    return [
        (Purpose.COOK, say("cook on it now")),
        (Purpose.FULL, say("full restoration")),
        (Purpose.RESALE, say("restoration for resale")),
        (Purpose.DONOR, say("donor")),
    ]


class VerdictPanel(QWidget):
    """`purposeChosen` and `askingWritten` tell what the person changed (asking price in minor units)."""

    purposeChosen = Signal(object)
    originAsked = Signal(int)  # place of a route or scope as it stands in the list
    checkpointAsked = Signal(str)
    askingWritten = Signal(object)  # int, or None when it was emptied

    def __init__(self, catalogue: Catalogue, region: Region, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._catalogue, self._region = catalogue, region
        self.purpose = ChoiceField(purposes())
        self.purpose.edited.connect(lambda: self.purposeChosen.emit(self.purpose.value()))
        self.asking = MoneyField(region)
        self.asking.editingFinished.connect(self._tell_asking)
        self.asking_problem = ProblemText()
        self.verdict = Words(say("Nothing is answered yet."), "title")
        self.offer = Words("", "strong")
        self.figures = Words()
        self.behind = Note("\u00a0")
        self.reasons, self.change, self.cooking = Words(), Words(), Words()
        self.routes = SpanBars(say("The routes side by side"))
        self.routes.opened.connect(self.originAsked)
        self.drivers = Tornado(say("What the cost hangs on"))
        self.drivers.opened.connect(self._open_driver)
        self.access, self.sales = Words(), Words()
        self._routes_title = Heading(say("Routes side by side"), "strong")
        self._routes_note = Note(
            say(
                "Hollow: what goes out. Filled: what it brings. The tick: most likely. 10 to 90 of 100 cases."
            )
        )
        self._drivers_note = Note(
            say("The line: what everything is expected to cost. Left, hollow: when this goes well. Right, "
                "filled: when it goes badly.")
        )  # fmt: skip
        self._change_title = Heading(say("What would change it"), "strong")
        self._cooking_title = Heading(say("Against cooking on it as it stands"), "strong")
        self._after = [
            self.access, self.sales, Heading(say("Why"), "strong"), self.reasons,
            self._routes_title, self._routes_note, self.routes,
            self._change_title, self.change,
            Heading(say("What the cost hangs on"), "strong"),
            self._drivers_note, self.drivers,
            self._cooking_title, self.cooking,
        ]  # fmt: skip
        self.setLayout(self._laid_out())
        self.clear()

    def show_terms(self, purpose: Purpose, asking_cents: int | None, *, may_change: bool) -> None:
        """Purpose and asking price as they are kept; a price being typed is left alone."""
        self.purpose.setValue(purpose)
        if not self.asking.hasFocus():
            self.asking.setValue(asking_cents)
        self.purpose.setEnabled(may_change)
        self.asking.setEnabled(may_change)

    def clear(self) -> None:
        """Before anything was judged."""
        self.verdict.setText(say("Nothing is answered yet."))
        for widget in (self.offer, self.figures, *self._after):
            widget.hide()

    def show_behind(self, behind: bool) -> None:
        """Whether a newer verdict is on its way."""
        self.behind.setText(
            say("Reckoning…") if behind else "\u00a0"
        )  # keeps its line, so that nothing jumps

    def show_worth(self, worth: Worth, not_seen: int) -> None:
        """Everything a walk-round comes to."""
        region, verdict = self._region, worth.verdict
        theirs = bool(worth.charges)
        self.verdict.setText(say("The customer’s own range") if theirs else words.verdict_words(verdict))
        self.offer.setText(words.capital(words.offer_words(region, verdict)))
        self.figures.setText("\n".join(words.figures(region, worth, not_seen)))
        why = (
            words.scope_reasons(self._catalogue, region, worth) if theirs else words.reasons(region, verdict)
        )
        self.reasons.setText(_listed(why))
        self.change.setText(_listed(words.would_change(region, verdict)))
        self.cooking.setText(_listed(words.against_cooking(region, verdict)))
        self._routes_title.setText(say("The three scopes") if theirs else say("Routes side by side"))
        rows = words.charge_rows(region, worth.charges) if theirs else words.route_rows(region, verdict)
        self.routes.show_rows(rows)
        self.drivers.show_rows(words.driver_rows(self._catalogue, region, verdict))
        for widget in (self.figures, *self._after):
            widget.show()
        self.sales.setText("" if theirs else words.sales_words(worth.own, verdict))
        self.sales.setVisible(bool(self.sales.text()))
        known = worth.access.passage is not Passage.NOT_MEASURED
        self.access.setText(access_words(worth.access, region))
        self.access.setVisible(theirs or known)
        for widget in (self.offer, self._change_title, self.change):
            widget.setVisible(not theirs)
        for widget in self._asked:
            widget.setVisible(not theirs and verdict.spent_cents is None)
        for widget in (self._cooking_title, self.cooking):
            widget.setVisible(verdict.readiness is not None)

    def show_problem(self, problem: Problem) -> None:
        """A refusal of the asking price beside it."""
        self.asking_problem.show_text(say_problem(problem))

    def focus_figures(self) -> None:
        """The keyboard on the routes; Enter there opens where the figures come from."""
        if self.routes.isVisible():
            self.routes.setFocus(Qt.FocusReason.ShortcutFocusReason)

    # Inside

    def _open_driver(self, place: int) -> None:
        code = self.drivers.rows[place].code
        if code:
            self.checkpointAsked.emit(code)

    def _tell_asking(self) -> None:
        self.asking_problem.show_text("")
        if not self.asking.isModified():
            return
        try:
            cents = self.asking.value()
        except Problem as problem:
            self.show_problem(problem)
            return
        self.asking.setValue(cents)
        self.askingWritten.emit(cents)

    def _laid_out(self) -> QVBoxLayout:
        purpose, asking = QLabel(say("Wanted for")), QLabel(say("Asking price"))
        purpose.setBuddy(self.purpose)
        asking.setBuddy(self.asking)
        self._asked = (asking, self.asking)  # nobody asks a price for a customer's range, or for the shop's
        self.purpose.setAccessibleName(purpose.text())
        self.asking.setAccessibleName(asking.text())
        terms = upright([purpose, self.purpose, asking, self.asking, self.asking_problem], gap="hair")
        box = upright(
            [terms, self.verdict, self.offer, self.behind, self.figures, *self._after],
            gap="small", margin="small",
        )  # fmt: skip
        box.addStretch(1)
        return box


def _listed(sentences: Sequence[str]) -> str:
    return "\n".join(f"– {sentence}" for sentence in sentences)
