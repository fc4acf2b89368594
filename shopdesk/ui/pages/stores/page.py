"""The Stores: seven sections in one page, switched by tabs or keys. Assembles; the sections do the work."""

from typing import Any, ClassVar

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QStackedWidget

from shopdesk.ui.context import Context, Topics
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.stores.donors import DonorsSection
from shopdesk.ui.pages.stores.firms import FirmsSection
from shopdesk.ui.pages.stores.needs import NeedsSection
from shopdesk.ui.pages.stores.orders import OrdersSection
from shopdesk.ui.pages.stores.outwork import OutworkSection
from shopdesk.ui.pages.stores.section import Section
from shopdesk.ui.pages.stores.shelf import ShelfSection
from shopdesk.ui.pages.stores.wants import WantsSection
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.headings import Heading
from shopdesk.ui.widgets.section_tabs import SectionTabs
from shopdesk.wording import say

REMEMBERED = "stores/section"


class StoresPage(Page):
    """Alt and a letter, or Ctrl+Page Up and Down, go from section to section."""

    place: ClassVar[str] = "stores"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.needs, self.orders = NeedsSection(self), OrdersSection(self)
        self.shelf, self.outwork, self.firms = ShelfSection(self), OutworkSection(self), FirmsSection(self)
        self.donors, self.wants = DonorsSection(self), WantsSection(self)
        self._sections: dict[str, Section] = {
            "needs": self.needs, "orders": self.orders, "shelf": self.shelf, "donors": self.donors,
            "wants": self.wants, "outwork": self.outwork, "firms": self.firms,
        }  # fmt: skip
        self.tabs = SectionTabs(say("Sections of the Stores"))
        self.room = QStackedWidget()
        for section in self._sections.values():
            self.tabs.addTab("")
            section.rowsCame.connect(self._name_tabs)
            self.room.addWidget(section)
        self._name_tabs()
        self.tabs.currentChanged.connect(self._show)
        head = level([Heading(say("Stores"), "head"), self.tabs, STRETCH], gap="wide")
        body = upright([head, self.room], margin="gap")
        body.setStretchFactor(self.room, 1)
        self.setLayout(body)
        for keys, step in (("Ctrl+PgDown", 1), ("Ctrl+PgUp", -1)):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(lambda step=step: self._step(step))
        self.go_to(context.memory.text(REMEMBERED, "needs"))

    @property
    def section(self) -> Section:
        """The section that is shown."""
        return list(self._sections.values())[self.tabs.currentIndex()]

    def refresh(self, topics: Topics) -> None:
        for section in self._sections.values():
            if topics & section.topics:
                section.refresh(topics)

    def focusFirst(self) -> None:
        self.section.focusFirst()

    def open_on(self, **what: Any) -> None:
        """`section` shows a section by its name; `order_id`, `part_id`, `bin_name` and `consignment_id`
        show one of these.
        """
        if "order_id" in what:
            self.orders.put_on(what["order_id"])
            self.orders.refresh(Page.everything)
        if "part_id" in what:
            self.shelf.put_on(what["part_id"])
            self.shelf.refresh(Page.everything)
        if "bin_name" in what:
            self.shelf.show_bin(what["bin_name"])
        if "consignment_id" in what:
            self.outwork.put_on(what["consignment_id"])
            self.outwork.refresh(Page.everything)
        homes = {"order_id": "orders", "part_id": "shelf", "bin_name": "shelf", "consignment_id": "outwork"}
        self.go_to(next((home for key, home in homes.items() if key in what), what.get("section", "")))

    def go_to(self, name: str) -> None:
        """Shows a section by its name; an unknown one changes nothing."""
        if name in self._sections:
            self.tabs.setCurrentIndex(list(self._sections).index(name))

    def _name_tabs(self) -> None:
        """The titles, with how many are short or late."""
        titles = {
            "needs": _with(say("&Needs"), say("{count} short", count=self.needs.short), self.needs.short),
            "orders": _with(say("&Orders"), say("{count} late", count=self.orders.late), self.orders.late),
            "shelf": say("S&helf"),
            "donors": say("&Donors"),
            "wants": say("Wan&ts"),
            "outwork": _with(
                say("Outwor&k"), say("{count} late", count=self.outwork.late), self.outwork.late
            ),
            "firms": say("Fir&ms"),
        }
        for place, title in enumerate(titles[name] for name in self._sections):
            self.tabs.setTabText(place, title)

    def _step(self, by: int) -> None:
        self.tabs.setCurrentIndex((self.tabs.currentIndex() + by) % self.tabs.count())
        self.focusFirst()

    def _show(self, place: int) -> None:
        self.room.setCurrentIndex(place)
        self.context.memory.keep(REMEMBERED, list(self._sections)[place])
        if self.isVisible() and not self.tabs.hasFocus():
            self.section.focusFirst()  # else the keyboard would be left in what is hidden now


def _with(title: str, count: str, number: int) -> str:
    return f"{title}, {count}" if number else title
