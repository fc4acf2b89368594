"""A range leaves: handed over on its release, or disconnected and red-tagged; and the papers of the job."""

from typing import Any

from shopdesk.domain.rights import Action
from shopdesk.domain.stage import Stage
from shopdesk.services import handovers
from shopdesk.services.counter import JobAtCounter
from shopdesk.ui.pages.counter.section import Section
from shopdesk.ui.pages.counter.shown import paper_strip
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import DayField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Words
from shopdesk.ui.widgets.strip_list import StripList
from shopdesk.wording import say

_MOST_PROOFS = 4  # names that anyone reads in one sentence
_NOT_HERE = (Stage.LOOKED_AT, Stage.DONOR, Stage.NOT_TAKEN)


class HandOverSection(Section):
    """Says whether the release stands and what is missing; without it only red-tagged."""

    key = "hand-over"

    def __init__(self, page: Page) -> None:
        super().__init__(page, say("Hand over"))
        self.standing = Words()
        self.hand_button = Button(say("&Hand it over"), self.begin_hand_over, icon_name="truck")
        self.tag_button = Button(say("Hand it over red-ta&gged"), self.begin_red_tagged, icon_name="tag")
        self.body.addWidget(self.standing)
        self.body.addWidget(self.deeds([self.hand_button, self.tag_button]))

    def show_job(self, job: JobAtCounter) -> None:
        super().show_job(job)
        head = job.head
        self.setVisible(head.found.stage not in _NOT_HERE)
        self.standing.setText(self._words(job))
        here = head.gone_on is None and self.context.may(Action.HAND_OVER)
        self.hand_button.setVisible(here and head.released)
        self.tag_button.setVisible(here and not head.released)

    def focusFirst(self) -> None:
        for button in (self.hand_button, self.tag_button):
            if button.isVisible():
                button.setFocus()
                return

    def begin_hand_over(self) -> None:
        self._begin(say("Hand it over"), red_tagged=False)

    def begin_red_tagged(self) -> None:
        self._begin(say("Hand it over disconnected and red-tagged"), red_tagged=True)

    def _begin(self, title: str, *, red_tagged: bool) -> None:
        form = Form(columns=2)
        form.add("on", say("&Day it leaves"), DayField(self.context.region),
                 required=say("Write the day it leaves.")).setValue(self.context.seat.today)  # fmt: skip
        form.on_save(say("&Write the hand-over sheet"), lambda values: self._save(values, red_tagged))
        text = (
            say("It leaves disconnected, with a red tag, and its papers say that it must not be lit.")
            if red_tagged
            else say("Connection at the house is for a licensed fitter; local codes decide.")
        )
        self.open_form(title, form, [Words(text)])

    def _save(self, values: dict[str, Any], red_tagged: bool) -> None:
        job_id = self.job_id
        self.act(
            lambda seat: handovers.hand_over(seat, job_id, on=values["on"], red_tagged=red_tagged),
            self._gone, changes=["ranges"],
        )  # fmt: skip

    def _gone(self, number: str) -> None:
        self.context.tell(say("{number} is written; the range has left.", number=number))
        self.show_paper(number, say("Hand-over sheet {number}", number=number), "hand-over sheet")

    def _words(self, job: JobAtCounter) -> str:
        head = job.head
        if head.gone_on is not None:
            day = self.context.region.day(head.gone_on)
            if head.red_tagged:
                return say("It left on {day}, disconnected and red-tagged.", day=day)
            return say("It left on {day}.", day=day)
        if head.released:
            return say("The release stands.")
        if head.proofs_missing:
            missing = ", ".join(head.proofs_missing[:_MOST_PROOFS])
            more = len(head.proofs_missing) - _MOST_PROOFS
            if more > 0:
                missing = say("{names}, and {count} more", names=missing, count=more)
            return say("It is not released. Proofs still missing: {names}.", names=missing)
        return say("It is not released. Without a release it leaves only disconnected and red-tagged.")


class PapersSection(Section):
    """Every issued paper of the job, newest first; Return shows one."""

    key = "papers"

    def __init__(self, page: Page) -> None:
        super().__init__(page, say("Papers"))
        self.list = StripList(
            say("Papers of this job"), empty=say("Issued papers of this job will stand here."), most=6
        )
        self.list.opened.connect(lambda _key: self.show_chosen())
        self.list.chosen.connect(lambda _key: self._show_button())
        self.button = Button(say("Show the paper"), self.show_chosen, icon_name="print")
        self.body.addWidget(self.list)
        self.body.addWidget(self.deeds([self.button]))

    def show_job(self, job: JobAtCounter) -> None:
        super().show_job(job)
        self.list.show_rows([paper_strip(self.context.region, row) for row in job.papers])
        self._show_button()

    def focusFirst(self) -> None:
        self.list.focusFirst()

    def show_chosen(self) -> None:
        key = self.list.current_key()
        for row in self.job.papers if self.job else ():
            if row.id == key:
                self.show_paper(row.number, row.title, row.kind)

    def _show_button(self) -> None:
        self.button.setVisible(self.list.current() is not None)
