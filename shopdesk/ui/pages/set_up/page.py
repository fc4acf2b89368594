"""Set-up: the sections on the left, the chosen one beside them; each keeps what is typed in it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QStackedWidget

from shopdesk.domain.rights import Action
from shopdesk.ui.context import Context, Topics
from shopdesk.ui.look import spacing
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.set_up.backups_section import BackupsSection
from shopdesk.ui.pages.set_up.catalogue_section import FiguresSection
from shopdesk.ui.pages.set_up.checkpoints_section import CheckpointsSection
from shopdesk.ui.pages.set_up.clock_sections import ClocksSection, LettersSection, MarginSection
from shopdesk.ui.pages.set_up.hours_section import HoursSection
from shopdesk.ui.pages.set_up.look_section import LookSection
from shopdesk.ui.pages.set_up.older_books_section import OlderBooksSection
from shopdesk.ui.pages.set_up.people_section import PeopleSection
from shopdesk.ui.pages.set_up.place_section import PlaceSection
from shopdesk.ui.pages.set_up.rates_sections import RatesSection, TaxesSection
from shopdesk.ui.pages.set_up.section import SetUpSection, is_wide
from shopdesk.ui.pages.set_up.shop_sections import RegionSection, ShopSection, TermsSection, TextsSection
from shopdesk.ui.widgets.boxes import level, upright
from shopdesk.ui.widgets.fields import ChoiceField
from shopdesk.ui.widgets.headings import Heading, Note
from shopdesk.wording import say

_LOW_LINES = 30
_KEPT = "set-up/section"


@dataclass(frozen=True, slots=True)
class Known:
    """A section before it is made; `everyone` may look at the others only as owner."""

    key: str
    name: str
    make: Callable[[Page], SetUpSection]
    everyone: bool = False


def known_sections() -> tuple[Known, ...]:
    return (
        Known("shop", say("Shop"), ShopSection),
        Known("region", say("Region"), RegionSection),
        Known("people", say("People"), PeopleSection),
        Known("rates", say("Rates"), RatesSection),
        Known("taxes", say("Taxes"), TaxesSection),
        Known("terms", say("Terms"), TermsSection),
        Known("clocks", say("Letters and storage"), ClocksSection),
        Known("letters", say("Texts of letters"), LettersSection),
        Known("margin", say("Ranges you sell"), MarginSection),
        Known("texts", say("Papers"), TextsSection),
        Known("figures", say("Catalogue: figures"), FiguresSection),
        Known("checkpoints", say("Catalogue: checkpoints"), CheckpointsSection),
        Known("hours", say("Catalogue: hours"), HoursSection),
        Known("look", say("Look"), LookSection, everyone=True),
        Known("backups", say("Backups"), BackupsSection),
        Known("place", say("Where the shop lies"), PlaceSection),
        Known("older-books", say("Older books"), OlderBooksSection),
    )


class SetUpPage(Page):
    """Sections are made when first chosen; anybody but the owner finds the look only."""

    place = "set-up"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._known: dict[str, Known] = {}
        self._made: dict[str, SetUpSection] = {}
        self._wide: bool | None = None
        self.heading = Heading(say("Set-up"), "head")
        self.note = Note(say("The rest of Set-up is for the owner."))
        self.names = QListWidget()
        self.names.setAccessibleName(say("Sections of Set-up"))
        self.names.currentItemChanged.connect(lambda now, _before: self._picked(now))
        self.choice = ChoiceField()
        self.choice.setAccessibleName(say("Section of Set-up"))
        self.choice.edited.connect(lambda: self.show_section(self.choice.value()))
        self.rooms = QStackedWidget()
        row = level([self.names, self.rooms], gap="wide")
        row.setStretchFactor(self.rooms, 1)
        box = upright([self.heading, self.note, self.choice, row], margin="wide", gap="small")
        box.setStretchFactor(row, 1)
        self.setLayout(box)
        self._offer()

    def refresh(self, topics: Topics) -> None:
        if "everything" in topics:
            self._offer()
        if topics & {"everything", "settings", "catalogue", "staff"}:
            for section in self._made.values():
                section.ask()

    def focusFirst(self) -> None:
        (self.names if self.names.isVisible() else self.choice).setFocus()

    def open_on(self, **what: Any) -> None:
        """`section` by its key."""
        if what.get("section") in self._known:
            self.show_section(str(what["section"]))

    def show_section(self, key: str) -> None:
        section = self._made.get(key)
        if section is None:
            section = self._made[key] = self._known[key].make(self)
            self.rooms.addWidget(section)
            section.ask()
        self.rooms.setCurrentWidget(section)
        self.context.memory.keep(_KEPT, key)
        self.choice.setValue(key)
        place = list(self._known).index(key)
        if self.names.currentRow() != place:
            self.names.setCurrentRow(place)

    def section(self, key: str) -> SetUpSection:
        """A section, made and shown."""
        self.show_section(key)
        return self._made[key]

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and self._known:
            self._measure()
            self._arrange()

    def _arrange(self) -> None:
        """Lays the page out for its width; forms are made anew with what was typed in them."""
        wide = is_wide(self)
        self.heading.setVisible(self.height() > self.fontMetrics().height() * _LOW_LINES)
        if wide == self._wide:
            return
        self._wide = wide
        self.names.setVisible(wide)
        self.choice.setVisible(not wide)
        if self._made:
            self._drop_sections()
            self.show_section(str(self.choice.value()))

    def _drop_sections(self) -> None:
        for section in self._made.values():
            self.rooms.removeWidget(section)
            section.deleteLater()
        self._made = {}

    def _measure(self) -> None:
        """The list of sections as wide as its longest name, its rows as high as anything one presses."""
        sizes, letters = spacing(self.font()), self.fontMetrics()
        longest = max((letters.horizontalAdvance(known.name) for known in self._known.values()), default=0)
        self.names.setFixedWidth(longest + 2 * sizes.wide)
        for place in range(self.names.count()):
            self.names.item(place).setSizeHint(QSize(longest, sizes.target))

    def _offer(self) -> None:
        """The sections this person may open; sections of another person are made anew."""
        owner = self.context.may(Action.SET_UP)
        known = {entry.key: entry for entry in known_sections() if owner or entry.everyone}
        if list(known) == list(self._known):
            return
        self._known = known
        self._drop_sections()
        self.note.setVisible(not owner)
        self.names.blockSignals(True)
        self.names.clear()
        for entry in known.values():
            item = QListWidgetItem(entry.name, self.names)
            item.setData(Qt.ItemDataRole.UserRole, entry.key)
        self._measure()
        self.names.blockSignals(False)
        self.choice.setChoices([(entry.key, entry.name) for entry in known.values()])
        last = self.context.memory.text(_KEPT)
        self.show_section(last if last in known else next(iter(known)))

    def _picked(self, item: QListWidgetItem | None) -> None:
        if item is not None:
            self.show_section(str(item.data(Qt.ItemDataRole.UserRole)))
