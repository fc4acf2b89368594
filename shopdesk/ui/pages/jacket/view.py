"""One range's jacket: its sections one under the other, with the thread in sight, and quick ways between."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from typing import TypeVar

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QMenu, QWidget

from shopdesk.domain.problem import Problem
from shopdesk.services.hours_story import HoursStory, hours_story
from shopdesk.services.jacket import Jacket, jacket
from shopdesk.services.papers.keeping import PaperRow
from shopdesk.services.photographs import PhotographRow, photographs_of
from shopdesk.services.seat import Seat
from shopdesk.ui.context import Context
from shopdesk.ui.pages.jacket.deeds import Deeds
from shopdesk.ui.pages.jacket.head import Head
from shopdesk.ui.pages.jacket.history import told
from shopdesk.ui.pages.jacket.hours_section import HoursSection
from shopdesk.ui.pages.jacket.money import money_lines
from shopdesk.ui.pages.jacket.order import OrderFacts, ask_order
from shopdesk.ui.pages.jacket.order_section import OrderSection
from shopdesk.ui.pages.jacket.photographs import PhotographsSection
from shopdesk.ui.pages.jacket.proofs_section import ProofsSection, Proving, read_proving
from shopdesk.ui.pages.jacket.thread_section import ThreadSection
from shopdesk.ui.pages.jacket.view_tables import history_table, money_table, papers_table, under
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button, QuietButton
from shopdesk.ui.widgets.deed_panel import DeedPanel
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.list_table import ListTable
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Whole:
    """What a jacket asks of the shop at once."""

    jacket: Jacket
    proving: Proving
    order: OrderFacts
    hours: HoursStory


class JacketView(QWidget):
    """`named` says what to call it on its tab."""

    named = Signal(str)

    def __init__(self, context: Context, range_id: int) -> None:
        super().__init__()
        self.context = context
        self.range_id = range_id
        self.job_id: int | None = None
        self.jacket: Jacket | None = None
        self._wants_keyboard = False
        self._wanted_section = ""
        self.head = Head(context)
        self.panel = DeedPanel()
        self.deeds = Deeds(context, self.panel, self.do)
        self.thread_section = ThreadSection(context)
        self.order = OrderSection(context, self.do)
        self.hours = HoursSection(context)
        self.proofs = ProofsSection(context, self.do)
        self.photographs = PhotographsSection(context, self.do, range_id)
        self.papers = papers_table(context)
        self.money = money_table()
        self.history = history_table()
        self.more = Button(say("&More"), self._show_more, icon_name="jacket")
        self._menu = QMenu(self)
        self._sections = self._make_sections()
        self._scroll = PageScroll(upright([self.head, self._buttons(), self.panel, *self._sections.values()],
                                          gap="wide", margin="wide"))  # fmt: skip
        self.setLayout(upright([self._scroll]))
        self.setAcceptDrops(True)
        self._connect()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """A photograph may be let go anywhere on the jacket."""
        if self.photographs.strip.takes(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        self.photographs.strip.take(event.mimeData())
        event.acceptProposedAction()

    # Asking and doing, for this jacket only

    def ask(self, question: Callable[[Seat], T], then: Callable[[T], None], key: str = "") -> None:
        self.context.ask(question, then, key=f"jacket/{id(self)}/{key}", owner=self)

    def do(
        self, action: Callable[[Seat], T], then: Callable[[T], None] | None = None,
        failed: Callable[[Problem], None] | None = None, *, changes: Iterable[str] = (),
        form: Form | None = None,
    ) -> None:  # fmt: skip
        """A change of this range and its job; whoever shows them is told."""
        topics = [f"range {self.range_id}", "ranges", f"job {self.job_id}", "jobs", "papers", *changes]
        self.context.do(action, then, failed, changes=topics, owner=self, form=form)

    def refresh(self) -> None:
        """Asks for everything anew; what is chosen, typed and scrolled to stays."""
        range_id, job_id = self.range_id, self.job_id

        def question(seat: Seat) -> Whole:
            found = jacket(seat, range_id, job_id)
            job = found.job_id
            return Whole(
                found, read_proving(seat, job), ask_order(seat, job, found.walk_id is not None),
                hours_story(seat, job),
            )  # fmt: skip

        self.ask(question, self._show, key="whole")
        self.ask(lambda seat: photographs_of(seat, range_id), self._show_photographs, key="photographs")

    def show_job(self, job_id: int) -> None:
        """Another job of the same range."""
        self.job_id = job_id
        self.panel.leave()
        self.refresh()

    def focusFirst(self) -> None:
        """The keyboard in the thread, as soon as it is there."""
        self._wants_keyboard = self.jacket is None
        table = self.thread_section.findings
        (table if table.model.rowCount() else self.thread_section.tasks).focusFirst()

    def want_order(self, task_id: int | None) -> None:
        """Opens on the work order, with the keyboard on a task of it."""
        self._wanted_section = say("Work order")
        if task_id is not None:
            self.order.want(task_id)

    def go_to(self, section: str) -> None:
        """Scrolls to a section and puts the keyboard in it."""
        widget = self._sections[section]
        self._scroll.verticalScrollBar().setValue(widget.y() - 8)
        table = widget.findChild(ListTable)
        if table is not None:
            table.focusFirst()
            return
        first = next((w for w in widget.findChildren(QWidget)
                      if w.focusPolicy() & Qt.FocusPolicy.TabFocus and w.isVisible()), None)  # fmt: skip
        if first is not None:
            first.setFocus(Qt.FocusReason.OtherFocusReason)

    # Inside

    def _make_sections(self) -> dict[str, QWidget]:
        return {
            say("Thread"): self.thread_section,
            say("Work order"): self.order,
            say("Hours"): self.hours,
            say("Proofs"): self.proofs,
            say("Photographs"): self.photographs,
            say("Papers"): under(say("Papers"), self.papers),
            say("Money"): under(say("Money"), self.money),
            say("History"): under(say("History"), self.history),
        }

    def _buttons(self) -> QWidget:
        places = (
            (say("&Walk-round"), "walk-round", "walk-round"),
            (say("&Bench"), "bench", "bench"),
            (say("&Counter"), "counter", "counter"),
        )
        deeds = [
            Button(name, partial(self._go, place), icon_name=icon_name) for name, place, icon_name in places
        ]
        deeds.append(
            Button(
                say("&Gas bench"),
                lambda: self.context.go("gas-bench", range_id=self.range_id),
                icon_name="gas",
            )
        )
        ways = [QuietButton(name, partial(self.go_to, name)) for name in self._sections]
        bar = QWidget()
        bar.setLayout(upright([WrappedRow([*deeds, self.more]), WrappedRow(ways)], gap="small"))
        return bar

    def _go(self, place: str) -> None:
        """The same job at another place."""
        self.context.go(place, job_id=self.job_id)

    def _connect(self) -> None:
        self.head.promiseAsked.connect(self.deeds.promise)
        self.head.jobAsked.connect(self.show_job)
        self.panel.opened.connect(lambda: self._bring(self.panel))
        self.proofs.panel.opened.connect(lambda: self._bring(self.proofs.panel))
        self.order.panel.opened.connect(lambda: self._bring(self.order.panel))
        self.hours.paperAsked.connect(self._show_paper)
        self.thread_section.walkAsked.connect(partial(self._go, "walk-round"))
        self.thread_section.paperAsked.connect(self._show_paper)
        self.thread_section.photographAsked.connect(self.photographs.open)
        self.papers.opened.connect(lambda _key: self._open_paper())

    def _bring(self, panel: QWidget) -> None:
        """An opened form comes into sight whole, if it can, once it has found its height."""
        QTimer.singleShot(0, panel, lambda: self._scroll.ensureWidgetVisible(panel, 0, 24))

    def _show(self, whole: Whole) -> None:
        found = whole.jacket
        self.jacket = self.deeds.jacket = found
        self.deeds.read = self.context.reading
        self.job_id = found.job_id
        region = self.context.region
        self.head.show_jacket(found)
        self.thread_section.show_jacket(found)
        self.order.show_order(found, whole.order)
        self.hours.show_story(whole.hours)
        self.proofs.show_jacket(found, whole.proving)
        self.papers.show_rows(tuple(reversed(found.papers)))
        self.money.show_rows(money_lines(region, found.money))
        self.history.show_rows(told(region, found.history))
        self.named.emit(found.number)
        if self._wants_keyboard:
            self.focusFirst()
        if self._wanted_section:
            # The lists above have found their height by then.
            QTimer.singleShot(0, self, self._go_to_wanted)

    def _go_to_wanted(self) -> None:
        section, self._wanted_section = self._wanted_section, ""
        if section:
            self.go_to(section)

    def _show_photographs(self, rows: list[PhotographRow]) -> None:
        self.photographs.show_rows(rows)
        self.thread_section.show_thumbnails({row.id: row.thumbnail for row in rows})

    def _show_more(self) -> None:
        self.deeds.fill(self._menu)
        self._menu.popup(self.more.mapToGlobal(self.more.rect().bottomLeft()))

    def _open_paper(self) -> None:
        row: PaperRow | None = self.papers.current()
        if row is not None:
            self.context.show_paper(row.number, row.title, row.kind)

    def _show_paper(self, kind: str, number: str) -> None:
        """The paper of a thread: a quote may be a change order's, an invoice has its own series."""
        rows = self.jacket.papers if self.jacket else ()
        row = next((r for r in rows if r.number == number), None)
        if row is not None:
            self.context.show_paper(row.number, row.title, row.kind)
        else:
            self.context.tell_problem(say("{number} was not printed yet.", number=number))
