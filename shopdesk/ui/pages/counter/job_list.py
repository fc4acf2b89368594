"""Jobs found while one types any scrap: number, name, telephone, the number of a paper."""

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from shopdesk.services.counter import FoundJob, find_jobs
from shopdesk.ui.pages.counter.shown import job_strip
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.headings import Note
from shopdesk.ui.widgets.search_field import SearchField
from shopdesk.ui.widgets.strip_list import StripList
from shopdesk.wording import say

MOST = 100


class JobList(QWidget):
    """`chosen` follows the keyboard; the first found is chosen by itself."""

    chosen = Signal(object)  # job_id or None

    def __init__(self, page: Page) -> None:
        super().__init__()
        self._page = page
        self._wanted: int | None = None
        self.list = StripList(say("Jobs found"), empty=say("Jobs will stand here once a range is booked in."),
                              first=(say("Go to the Floor"), lambda: page.context.go("floor")),
                              lines=3)  # fmt: skip
        self.search = SearchField(say("Number, name or telephone"), self.list)
        self.search.searched.connect(lambda _words: self.ask())
        self.note = Note()
        self.note.hide()
        self.list.chosen.connect(self.chosen)
        body = upright([self.search, self.list, self.note], gap="small", margin="gap")
        body.setStretchFactor(self.list, 1)
        self.setLayout(body)

    def ask(self) -> None:
        words = self.search.words()
        self._page.ask(lambda seat: find_jobs(seat, words, limit=MOST), self._show, key="jobs")

    def choose(self, job_id: int) -> None:
        """Shows this job; it is searched out if the list does not hold it."""
        self._wanted = job_id
        if not self.list.select(job_id):
            self.search.clear()
            self.ask()
        else:
            self._wanted = None

    def current(self) -> int | None:
        key: Any = self.list.current_key()
        return key

    def _show(self, jobs: list[FoundJob]) -> None:
        self.list.empty.setText(
            say("No job is like that. Try less of it, or another scrap.")
            if self.search.words()
            else say("Jobs will stand here once a range is booked in.")
        )
        self.list.show_rows([job_strip(job) for job in jobs])
        self.note.setVisible(len(jobs) == MOST)
        self.note.setText(say("The first {count} are shown. Type more to narrow them.", count=MOST))
        if self._wanted is not None and self.list.select(self._wanted):
            self._wanted = None
        elif jobs and self.list.current_key() is None:
            self.list.select(jobs[0].job_id)
