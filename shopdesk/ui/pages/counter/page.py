"""The Counter: jobs with everything the desk does with them, what waits over all jobs, and customers."""

from typing import Any

from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QStackedWidget, QTabWidget, QWidget

from shopdesk.domain.sides import Side
from shopdesk.services.counter import JobAtCounter, at_counter
from shopdesk.ui.context import Context, Topics
from shopdesk.ui.pages.counter.books_panel import BooksPanel
from shopdesk.ui.pages.counter.customers import Customers
from shopdesk.ui.pages.counter.folding import FoldingBeside
from shopdesk.ui.pages.counter.job_list import JobList
from shopdesk.ui.pages.counter.job_sheet import JobSheet
from shopdesk.ui.pages.counter.waiting_lists import WaitingLists
from shopdesk.ui.pages.page import Page
from shopdesk.ui.today_list import TodayList
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.empty_state import EmptyState
from shopdesk.ui.widgets.headings import Heading
from shopdesk.wording import say

_SHOWN = frozenset(
    {"everything", "jobs", "ranges", "money", "papers", "people", "settings", "catalogue", "stores"}
)
_LOW_LINES = 36  # in a lower window the heading gives its room to the work


class CounterPage(Page):
    """Four tabs; the search has the keyboard, because somebody is on the telephone."""

    place = "counter"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._job_id: int | None = None
        self._section = ""  # of the job that was asked for, to go to once it is here
        self.jobs = JobList(self)
        self.sheet = JobSheet(self)
        self.nothing = EmptyState(say("Find a job on the left: its quotes, payments and papers stand here."))
        self.waiting = WaitingLists(self)
        self.customers = Customers(self)
        self.books = BooksPanel(self)
        self._right = QStackedWidget()
        for widget in (self.nothing, self.sheet):
            self._right.addWidget(widget)
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        self.tabs.tabBar().setAccessibleName(say("Parts of the counter"))
        self.tabs.addTab(self._jobs_tab(), say("&Jobs"))
        self.tabs.addTab(self.waiting, say("&What waits"))
        self.tabs.addTab(self.customers, say("Cus&tomers"))
        self.tabs.addTab(self.books, say("B&ooks"))
        self.tabs.currentChanged.connect(lambda _place: self.focusFirst())
        self.heading = Heading(say("Counter"), "head")
        self.day = TodayList(self, Side.DESK)
        box = upright([self.heading, self.day, self.tabs], margin="wide", gap="small")
        box.setStretchFactor(self.tabs, 1)
        self.setLayout(box)
        self.jobs.chosen.connect(self._choose)
        self.jobs.list.opened.connect(lambda _key: self._go_to_sheet())
        self.waiting.jobAsked.connect(self.show_job)
        self.waiting.customerAsked.connect(lambda key: self.open_on(customer_id=key))
        self.customers.jobAsked.connect(self.show_job)
        find = QShortcut(QKeySequence(QKeySequence.StandardKey.Find), self)
        find.activated.connect(self._find)

    def refresh(self, topics: Topics) -> None:
        if not topics & _SHOWN:
            return
        self.day.refresh(topics)
        self.jobs.ask()
        self.waiting.ask()
        self.customers.ask()
        if self._job_id is not None:
            self._ask_job(self._job_id)

    def focusFirst(self) -> None:
        shown = self.tabs.currentWidget()
        if shown is self.waiting:
            self.waiting.focusFirst()
        elif shown is self.customers:
            self.customers.focusFirst()
        elif shown is self.books:
            self.books.focusFirst()
        else:
            self.jobs.search.setFocus()

    def open_on(self, **what: Any) -> None:
        """`job_id` with or without `section`, `words` to search for, or `customer_id`."""
        if "job_id" in what:
            self.show_job(int(what["job_id"]), str(what.get("section", "")))
        elif "words" in what:
            self.tabs.setCurrentIndex(0)
            self.jobs.search.setText(str(what["words"]))
        elif "customer_id" in what:
            self.tabs.setCurrentWidget(self.customers)
            self.customers.choose(int(what["customer_id"]))

    def show_job(self, job_id: int, section: str = "") -> None:
        """One job in the first tab, at a section of it."""
        self._section = section
        self.tabs.setCurrentIndex(0)
        if self._job_id == job_id and self.jobs.current() == job_id:
            self._ask_job(job_id)
        else:
            self.jobs.choose(job_id)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.heading.setVisible(self.height() > self.fontMetrics().height() * _LOW_LINES)

    def _go_to_sheet(self) -> None:
        self._right.show()
        if self._right.currentWidget() is self.sheet:
            self.sheet.focusFirst()

    def _jobs_tab(self) -> QWidget:
        return FoldingBeside(
            self.jobs, self.jobs.list, self._right, self.context.memory, "counter/jobs", shares=(2, 5)
        )

    def _find(self) -> None:
        if self.tabs.currentWidget() is not self.customers:
            self.tabs.setCurrentIndex(0)
        self.focusFirst()

    def _choose(self, job_id: Any) -> None:
        self._job_id = job_id
        if job_id is None:
            self._right.setCurrentWidget(self.nothing)
        else:
            self._ask_job(int(job_id))

    def _ask_job(self, job_id: int) -> None:
        self.ask(lambda seat: at_counter(seat, job_id), self._show_job, key="job")

    def _show_job(self, job: JobAtCounter) -> None:
        if job.head.found.job_id != self._job_id:
            return
        self.sheet.show_job(job)
        self._right.setCurrentWidget(self.sheet)
        section, self._section = self._section, ""
        if section:
            self.sheet.go_to(section)
