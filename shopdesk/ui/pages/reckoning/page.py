"""Reckoning: what came of the work. The owner sees all of it, the desk what is owed and promised."""

from typing import Any

from PySide6.QtWidgets import QTabWidget

from shopdesk.domain.catalogue.model import Purpose
from shopdesk.domain.rights import Action, may
from shopdesk.domain.stage import Stage
from shopdesk.services.papers.words import purpose_name
from shopdesk.services.reckoning.chosen import Chosen, years
from shopdesk.ui.context import Context, Topics
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.reckoning.figures_view import FiguresView
from shopdesk.ui.pages.reckoning.ranges_part import CashPart, RangesPart
from shopdesk.ui.pages.reckoning.standing_parts import OwedPart, PromisesPart, StoresPart
from shopdesk.ui.pages.reckoning.work_parts import FindingsPart, HoursPart
from shopdesk.ui.pages.reckoning.year_part import YearPart
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.empty_state import EmptyState
from shopdesk.ui.widgets.fields import ChoiceField
from shopdesk.ui.widgets.headings import Heading
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

_SHOWN = frozenset(
    {"everything", "jobs", "ranges", "money", "papers", "stores", "settings", "catalogue", "plan"}
)
Part = RangesPart | CashPart | HoursPart | FindingsPart | OwedPart | StoresPart | PromisesPart | YearPart


class ReckoningPage(Page):
    """A tab for each question; what they are over is chosen once, above them."""

    place = "reckoning"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.parts: dict[str, Part] = {}
        self._stale: set[str] = set()
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        self.tabs.tabBar().setAccessibleName(say("Questions of the reckoning"))
        self.tabs.currentChanged.connect(self._turned)
        self.year = self._choice(say("Which ranges"), [])
        self.stage = self._choice(
            say("Stage"), [("", say("any stage")), *((s.value, say(s.value)) for s in Stage)]
        )
        self.purpose = self._choice(
            say("Purpose"), [("", say("any purpose")), *((p.value, purpose_name(p)) for p in Purpose)]
        )
        self.nothing = EmptyState(
            say("Reckoning is for the owner; the desk sees what is owed and promised here.")
        )
        self.print_button = Button(say("&Print the year"), self._print_year, icon_name="print")
        over = WrappedRow([self.year, self.stage, self.purpose, self.print_button])
        box = upright(
            [Heading(say("Reckoning"), "head"), over, self.tabs, self.nothing], margin="wide", gap="small"
        )
        box.setStretchFactor(self.tabs, 1)
        self.setLayout(box)

    def refresh(self, topics: Topics) -> None:
        if not topics & _SHOWN:
            return
        if "everything" in topics:
            self._lay_tabs()
            self.ask(years, self._show_years, key="years")
        self._stale = set(self.parts)
        self._bring_up_to_date()

    def focusFirst(self) -> None:
        part = self.tabs.currentWidget()
        if isinstance(part, FiguresView):
            part.focusFirst()

    def open_on(self, **what: Any) -> None:
        """`part` names a tab: ranges, findings, hours, year, owed, cash, stores or promises."""
        part = self.parts.get(str(what.get("part", "")))
        if part is not None:
            self.tabs.setCurrentWidget(part)

    def chosen(self) -> Chosen:
        year = self.year.value() if self.year.count() else self.context.seat.today.year
        return Chosen(year, self.stage.value() or "", self.purpose.value() or "")

    # Inside

    def _turned(self, _place: int) -> None:
        """Another tab: its figures, and the keyboard in its list unless it walks the tabs."""
        self._bring_up_to_date()
        if not self.tabs.tabBar().hasFocus():
            self.focusFirst()

    def _lay_tabs(self) -> None:
        """The tabs of whoever acts now; made anew only where these are others."""
        allowed = self._allowed()
        if [key for key, *_ in allowed] == list(self.parts):
            return
        self.tabs.clear()
        for part in self.parts.values():
            part.deleteLater()
        self.parts = {}
        for key, title, make in allowed:
            self.parts[key] = make(self)
            self.tabs.addTab(self.parts[key], title)
        self.nothing.setVisible(not allowed)
        self.tabs.setVisible(bool(allowed))

    def _print_year(self) -> None:
        part = self.parts.get("year")
        if isinstance(part, YearPart):
            part.show_paper()

    def _allowed(self) -> list[tuple[str, str, type[Part]]]:
        """The tabs this person may see, the owner's day in their order."""
        role = self.context.seat.acting.role  # to look, which a shop open to look at allows as well
        owner, office = may(role, Action.SEE_COSTS), may(role, Action.INVOICE)
        found: list[tuple[str, str, type[Part]]] = []
        if owner:
            found += [
                ("ranges", say("Ran&ges"), RangesPart),
                ("findings", say("Made and &lost"), FindingsPart),
                ("hours", say("&Hours"), HoursPart),
                ("year", say("&Year"), YearPart),
            ]
        if office:
            found.append(("owed", say("&Owed"), OwedPart))
        if owner:
            found += [
                ("cash", say("Cash &in ranges"), CashPart),
                ("stores", say("Stores’ wor&th"), StoresPart),
            ]
        if office:
            found.append(("promises", say("Pro&mises"), PromisesPart))
        return found

    def _choice(self, name: str, choices: list[tuple[Any, str]]) -> ChoiceField:
        field = ChoiceField(choices)
        field.setAccessibleName(name)
        field.setToolTip(name)
        field.edited.connect(self._choose)
        return field

    def _choose(self) -> None:
        self._stale = set(self.parts)
        self._bring_up_to_date()

    def _show_years(self, found: list[int]) -> None:
        kept = self.year.value() if self.year.count() else None
        self.year.setChoices([*((year, str(year)) for year in found), (0, say("still here"))])
        self.year.setValue(kept if kept is not None else found[0])

    def _bring_up_to_date(self) -> None:
        key = next((key for key, part in self.parts.items() if part is self.tabs.currentWidget()), "")
        self.stage.setVisible(key in ("ranges", "findings"))
        self.purpose.setVisible(key in ("ranges", "findings"))
        self.year.setVisible(key in ("ranges", "findings", "hours", "year", "promises"))
        self.print_button.setVisible(key == "year")
        if key in self._stale:
            self._stale.discard(key)
            self.parts[key].ask(self.chosen())
