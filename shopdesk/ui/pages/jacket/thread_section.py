"""The thread as one sees it: findings at the left, the tasks they brought at the right, lines between.

Choosing a finding lights what it led to; choosing a task lights what it came from. A sentence says the
same in words, with the papers on which it stands.
"""

from collections.abc import Mapping
from functools import partial

from PySide6.QtCore import QByteArray, QItemSelectionModel, Qt, QTimer, Signal
from PySide6.QtGui import QPixmap, QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QWidget

from shopdesk.services.jacket import Jacket
from shopdesk.ui.context import Context
from shopdesk.ui.pages.jacket.thread import (
    finding_sentence,
    links,
    papers_of,
    shown_findings,
    shown_tasks,
    task_sentence,
)
from shopdesk.ui.pages.jacket.thread_drawing import ThreadFigure, ThreadLines, ThreadRow
from shopdesk.ui.widgets.boxes import level, upright
from shopdesk.ui.widgets.buttons import QuietButton
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.rows import Column
from shopdesk.ui.widgets.short_table import ShortTable
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

NARROW = 88  # characters; below this the two lists stand under each other


class ThreadTable(ShortTable):
    most = 6


class ThreadSection(QWidget):
    """`paperAsked` carries kind and number; `photographAsked` the key of a picture."""

    paperAsked = Signal(str, str)
    photographAsked = Signal(int)
    walkAsked = Signal()  # the first thing to do in a jacket without findings

    def __init__(self, context: Context) -> None:
        super().__init__()
        self._context = context
        self._jacket: Jacket | None = None
        self._pictures: Mapping[int, bytes] = {}
        self.findings = ThreadTable(
            say("Findings"),
            [Column("finding", say("Found"), lambda r: r.name, stretch=True, spoken=lambda r: r.spoken(),
                    tip=lambda r: r.second)],
            key=lambda r: r.key, pictures=True,
            empty=say("What a walk-round finds will stand here."),
            first=(say("Walk round it"), self.walkAsked.emit),
        )  # fmt: skip
        self.tasks = ThreadTable(
            say("Tasks"),
            [
                Column("task", say("Led to"), lambda r: r.name, stretch=True, spoken=lambda r: r.spoken(),
                       tip=lambda r: r.second),
                Column("quoted", say("Quoted"), lambda r: r.quoted, width=9, figures=True),
                Column("billed", say("Billed"), lambda r: r.billed, width=9, figures=True),
            ],
            key=lambda r: r.key, pictures=True,
            empty=say("Tasks of the work order will stand here."),
        )  # fmt: skip
        self._rows = {"finding": ThreadRow(), "task": ThreadRow()}
        self.findings.draw("finding", self._rows["finding"])
        self.tasks.draw("task", self._rows["task"])
        for figure in ("quoted", "billed"):
            self.tasks.draw(figure, ThreadFigure(self._rows["task"]))
        self.lines = ThreadLines(self.findings, self.tasks)
        self.sentence = Words(
            say("Choose a finding to see what it led to, or a task to see why it is there.")
        )
        self._sides = level([self.findings, self.lines, self.tasks], gap="hair")
        self._sides.setStretchFactor(self.findings, 4)
        self._sides.setStretchFactor(self.tasks, 6)
        for side in (self.findings, self.tasks):
            self._sides.setAlignment(side, Qt.AlignmentFlag.AlignTop)
        self._papers = WrappedRow([])
        self.setLayout(upright([Heading(say("Thread")), self.sentence, self._papers, self._sides]))
        self.findings.chosen.connect(self._finding_chosen)
        self.tasks.chosen.connect(self._task_chosen)
        self.findings.opened.connect(self._open_picture)
        self.tasks.opened.connect(lambda _key: self._open_paper())

    def show_jacket(self, jacket: Jacket) -> None:
        """Shows a jacket; what is chosen stays chosen."""
        self._jacket = jacket
        self._show_wanted_thumbnails()
        seat = self._context.seat
        self.findings.show_rows(shown_findings(seat.catalogue, jacket))
        self.tasks.show_rows(shown_tasks(seat.region, jacket))
        self.sentence.setVisible(bool(jacket.findings or jacket.tasks))
        self._light()

    def show_thumbnails(self, pictures: Mapping[int, bytes]) -> None:
        """Small pictures of the range, by their keys; those of findings stand in their rows."""
        self._pictures = pictures
        self._show_wanted_thumbnails()

    def _show_wanted_thumbnails(self) -> None:
        wanted = {p for f in self._jacket.findings for p in f.photographs} if self._jacket else set()
        shown = {}
        for key in wanted & self._pictures.keys():
            picture = QPixmap()
            picture.loadFromData(QByteArray(self._pictures[key]))
            shown[key] = picture
        self._rows["finding"].thumbnails = shown
        self.findings.view.viewport().update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        narrow = self.width() < NARROW * self.fontMetrics().averageCharWidth()
        ways = QBoxLayout.Direction
        self._sides.setDirection(ways.TopToBottom if narrow else ways.LeftToRight)
        self.lines.setVisible(not narrow)

    # Choosing

    def _finding_chosen(self, key: object) -> None:
        if key is not None:
            _let_go(self.tasks)
        self._light()

    def _task_chosen(self, key: object) -> None:
        if key is not None:
            _let_go(self.findings)
        self._light()

    def _light(self) -> None:
        """Marks what hangs together with the chosen row, and says it."""
        if self._jacket is None:
            return
        all_links = links(self._jacket)
        finding, task = self.findings.current_key(), self.tasks.current_key()
        lit = frozenset(pair for pair in all_links if pair[0] == finding or pair[1] == task)
        self._rows["finding"].lit = frozenset(f for f, _ in lit) if task is not None else frozenset()
        self._rows["task"].lit = frozenset(t for _, t in lit) if finding is not None else frozenset()
        self.lines.show_links(all_links, lit)
        for table, keys in ((self.findings, self._rows["finding"].lit), (self.tasks, self._rows["task"].lit)):
            _bring_in_sight(table, keys)
            table.view.viewport().update()
        self._say(finding, task)
        QTimer.singleShot(0, self.lines, self.lines.update)

    def _say(self, finding: object, task: object) -> None:
        jacket, region = self._jacket, self._context.region
        if jacket is None:
            return
        tasks = []
        if isinstance(finding, int):
            self.sentence.setText(finding_sentence(region, jacket, finding))
            tasks = [t for t in jacket.tasks if finding in t.findings]
        elif isinstance(task, int):
            self.sentence.setText(task_sentence(region, jacket, task))
            tasks = [t for t in jacket.tasks if t.id == task]
        else:
            self.sentence.setText(
                say("Choose a finding to see what it led to, or a task to see why it is there.")
            )
        self._show_papers(papers_of(tasks))

    def _show_papers(self, papers: list[tuple[str, str]]) -> None:
        buttons = []
        for kind, number in papers:
            name = say("Quote {number}", number=number)
            if kind == "invoice":
                name = say("Invoice {number}", number=number)
            asked = partial(self.paperAsked.emit, kind, number)
            buttons.append(QuietButton(name, asked, icon_name="note"))
        self._papers.show_parts(buttons)

    def _open_picture(self, key: object) -> None:
        found = (
            next((f for f in self._jacket.findings if f.observation_id == key), None)
            if self._jacket
            else None
        )
        if found is not None and found.photographs:
            self.photographAsked.emit(found.photographs[0])

    def _open_paper(self) -> None:
        """The newest paper a task stands on."""
        task = self.tasks.current_key()
        papers = papers_of([t for t in self._jacket.tasks if t.id == task]) if self._jacket else []
        if papers:
            self.paperAsked.emit(*papers[-1])


def _let_go(table: ShortTable) -> None:
    """Nothing is chosen there any more."""
    table.view.selectionModel().setCurrentIndex(
        table.model.index(-1, -1), QItemSelectionModel.SelectionFlag.Clear
    )


def _bring_in_sight(table: ShortTable, keys: frozenset[int]) -> None:
    places = sorted(place for key in keys if (place := table.model.place_of(key)) is not None)
    if places:
        table.view.scrollTo(table.model.index(places[0], 0), table.view.ScrollHint.PositionAtCenter)
