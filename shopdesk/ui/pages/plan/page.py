"""The Plan: the drawn calendar, promises, what if, appointments, hours and leave. Assembles its sections."""

from typing import Any, ClassVar

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QStackedWidget

from shopdesk.ui.context import Context, Topics
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.plan.appointments_section import AppointmentsSection
from shopdesk.ui.pages.plan.calendar_section import CalendarSection
from shopdesk.ui.pages.plan.hours_section import HoursSection
from shopdesk.ui.pages.plan.promises_section import PromisesSection
from shopdesk.ui.pages.plan.what_if_section import WhatIfSection
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.headings import Heading
from shopdesk.ui.widgets.section_tabs import SectionTabs
from shopdesk.wording import say

PlanSection = CalendarSection | PromisesSection | WhatIfSection | AppointmentsSection | HoursSection
REMEMBERED = "plan/section"


class PlanPage(Page):
    """Ctrl+Page Up and Down go from section to section."""

    place: ClassVar[str] = "plan"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.calendar, self.promises = CalendarSection(self), PromisesSection(self)
        self.what_if = WhatIfSection(self)
        self.appointments, self.hours = AppointmentsSection(self), HoursSection(self)
        self._sections: dict[str, tuple[PlanSection, str]] = {
            "calendar": (self.calendar, say("Calendar")),
            "promises": (self.promises, say("Promises")),
            "what-if": (self.what_if, say("What if")),
            "appointments": (self.appointments, say("Appointments")),
            "hours": (self.hours, say("Hours and leave")),
        }
        self.tabs = SectionTabs(say("Sections of the Plan"))
        self.room = QStackedWidget()
        for section, title in self._sections.values():
            self.tabs.addTab(title)
            self.room.addWidget(section)
        self.tabs.currentChanged.connect(self._show)
        head = level([Heading(say("Plan"), "head"), self.tabs, STRETCH], gap="wide")
        body = upright([head, self.room], margin="gap")
        body.setStretchFactor(self.room, 1)
        self.setLayout(body)
        for keys, step in (("Ctrl+PgDown", 1), ("Ctrl+PgUp", -1)):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(lambda step=step: self._step(step))
        self._stale: set[str] = set()
        self.go_to(context.memory.text(REMEMBERED, "calendar"))

    @property
    def section(self) -> Any:
        """The section that is shown."""
        return self.room.currentWidget()

    def refresh(self, topics: Topics) -> None:
        """The open section at once; the others when they are opened, because odds take a while."""
        for name, (section, _) in self._sections.items():
            if topics & section.topics:
                if section is self.section:
                    section.refresh(topics)
                else:
                    self._stale.add(name)

    def focusFirst(self) -> None:
        self.section.focusFirst()

    def open_on(self, **what: Any) -> None:
        """`section` shows one of calendar, promises, what-if, appointments, hours; `job_id` a promise."""
        if "job_id" in what:
            self.promises.put_on(int(what["job_id"]))
        self.go_to(what.get("section", "promises" if "job_id" in what else ""))

    def keep_draft(self) -> None:
        self.calendar.leave()
        self.promises.leave()

    def go_to(self, name: str) -> None:
        """Shows a section by its name; an unknown one changes nothing."""
        if name in self._sections:
            self.tabs.setCurrentIndex(list(self._sections).index(name))

    def _step(self, by: int) -> None:
        self.tabs.setCurrentIndex((self.tabs.currentIndex() + by) % self.tabs.count())
        self.focusFirst()

    def _show(self, place: int) -> None:
        name = list(self._sections)[place]
        self.room.setCurrentIndex(place)
        self.context.memory.keep(REMEMBERED, name)
        if name in self._stale:
            self._stale.discard(name)
            self._sections[name][0].refresh(Page.everything)
