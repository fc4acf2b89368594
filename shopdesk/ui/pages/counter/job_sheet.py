"""One job at the counter on one page: who is calling about what, what waits, then every section in order."""

from functools import partial

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QWidget

from shopdesk.services.counter import JobAtCounter
from shopdesk.ui.pages.counter.changes_section import ChangesSection
from shopdesk.ui.pages.counter.finishes_section import FinishesSection
from shopdesk.ui.pages.counter.invoices_section import InvoicesSection
from shopdesk.ui.pages.counter.leaving_section import HandOverSection, PapersSection
from shopdesk.ui.pages.counter.life_section import LifeSection
from shopdesk.ui.pages.counter.next_steps import money_sentence, next_steps
from shopdesk.ui.pages.counter.own_range_section import OwnRangeSection
from shopdesk.ui.pages.counter.payments_section import PaymentsSection
from shopdesk.ui.pages.counter.quotes_section import AgreementsSection, QuotesSection
from shopdesk.ui.pages.counter.section import Section
from shopdesk.ui.pages.page import Page
from shopdesk.ui.range_words import held_words, name_of, owner_of
from shopdesk.ui.widgets.boxes import STRETCH, emptied, level, upright
from shopdesk.ui.widgets.buttons import Button, QuietButton
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.stage_strip import StageShown, StageStrip
from shopdesk.wording import say

_STEPS = 4  # sentences of what waits; more would be a wall


class JobSheet(PageScroll):
    """Shows a `JobAtCounter`; a refresh of the same job keeps what is open, chosen and typed."""

    def __init__(self, page: Page) -> None:
        self._page = page
        self.job: JobAtCounter | None = None
        self.name = Heading("", "head")
        self.name.setWordWrap(True)
        self.customer = Words()
        self.customer.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.strip = StageStrip()
        self.held = Words("", "body", "hold")
        self.money = Words()
        self.jacket_button = Button(say("Open the &jacket"), self._open_jacket, icon_name="jacket")
        self.stands_button = Button(say("Where it sta&nds"), self._where_it_stands, icon_name="mail")
        self.sections: tuple[Section, ...] = (
            QuotesSection(page), FinishesSection(page), AgreementsSection(page), ChangesSection(page),
            InvoicesSection(page), PaymentsSection(page), OwnRangeSection(page), HandOverSection(page),
            LifeSection(page), PapersSection(page),
        )  # fmt: skip
        self._steps_box = upright(gap="hair")
        self.steps = QWidget()
        self.steps.setLayout(self._steps_box)
        head = upright(
            [self.name, self.customer, self.strip, self.held, self.money,
             level([self.jacket_button, self.stands_button, STRETCH]), self.steps], gap="small",
        )  # fmt: skip
        super().__init__(upright([head, *self.sections, STRETCH], gap="wide", margin="gap"))
        for section in self.sections:
            section.grown.connect(self._bring_into_sight)

    def show_job(self, job: JobAtCounter) -> None:
        other = self.job is None or self.job.head.found.job_id != job.head.found.job_id
        self.job = job
        self._show_head(job)
        self._show_steps(job)
        for section in self.sections:
            section.show_job(job)
        if other:
            self.verticalScrollBar().setValue(0)

    def focusFirst(self) -> None:
        """The keyboard on the first thing that waits, else on the jacket's button."""
        first = self._steps_box.itemAt(0)
        widget = first.widget() if first is not None else None
        (widget or self.jacket_button).setFocus()

    def section(self, key: str) -> Section:
        return next(section for section in self.sections if section.key == key)

    def go_to(self, key: str) -> None:
        """Brings a section into sight and puts the keyboard in it."""
        section = self.section(key)
        self.verticalScrollBar().setValue(section.y())
        section.focusFirst()

    def _show_head(self, job: JobAtCounter) -> None:
        seat, found = self._page.context.seat, job.head.found
        self.name.setText(f"{found.number}  {name_of(found.name, '', found.colour)}")
        words = (owner_of(found.customer), found.phone, job.head.email)
        self.customer.setText(", ".join(word for word in words if word))
        self.strip.setShown(StageShown(found.stage.value, "", found.owned))
        held = [
            held_words(seat.catalogue, seat.region, seat.today, held.hold.value, held.what, held.since)
            for held in job.head.held[:3]
        ]
        self.held.setText("\n".join(held))
        self.held.setVisible(bool(held))
        money = money_sentence(seat.region, job)
        if job.head.promised_on is not None and job.head.gone_on is None:
            promised = say("Promised for {day}.", day=seat.region.day(job.head.promised_on))
            money = f"{money} {promised}"
        self.money.setText(money)

    def _show_steps(self, job: JobAtCounter) -> None:
        seat = self._page.context.seat
        emptied(self._steps_box)
        steps = next_steps(seat.region, seat.today, job)[:_STEPS]
        for step in steps:
            button = QuietButton(step.text, partial(self.go_to, step.section), icon_name="next")
            self._steps_box.addWidget(button)
        self.steps.setVisible(bool(steps))

    def _open_jacket(self) -> None:
        if self.job is not None:
            self._page.context.go(
                "jacket", range_id=self.job.head.found.range_id, job_id=self.job.head.found.job_id
            )

    def _where_it_stands(self) -> None:
        if self.job is not None:
            self._page.context.go("standing", range_id=self.job.head.found.range_id)

    def _bring_into_sight(self, widget: QWidget) -> None:
        """After the layout has made room for it."""
        QTimer.singleShot(0, self, lambda: self._scroll_to(widget))

    def _scroll_to(self, widget: QWidget) -> None:
        top = widget.mapTo(self.body, widget.rect().topLeft()).y()
        bottom = top + widget.height()
        bar, high = self.verticalScrollBar(), self.viewport().height()
        if bottom > bar.value() + high or top < bar.value():
            bar.setValue(min(top - high // 8, max(0, bottom - high) if widget.height() < high else top))
