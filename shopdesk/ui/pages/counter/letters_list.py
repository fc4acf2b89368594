"""Letters whose day has come, each seen before it is written and kept."""

from PySide6.QtWidgets import QWidget

from shopdesk.domain.letters import Course
from shopdesk.domain.rights import Action
from shopdesk.services import letters
from shopdesk.services.letter_texts import subject
from shopdesk.services.letters import DueLetter
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import Region, say

_TOPICS = ("money", "papers", "jobs")


class LettersList(QWidget):
    """Ready notices and reminders in their order; none while the customer questions the job."""

    def __init__(self, page: Page) -> None:
        super().__init__()
        self._page = page
        self._rows: dict[object, DueLetter] = {}
        self._busy = False
        self.list = StripList(say("Letters that are due"), empty=say("No letter is due."), most=6)
        self.list.chosen.connect(lambda _key: self._show_buttons())
        self.list.opened.connect(lambda _key: self.preview())
        self.preview_button = Button(say("Look at it first"), self.preview, icon_name="print")
        self.write_button = Button(say("Write the letter"), self.write, icon_name="note")
        self.setLayout(
            upright([self.list, WrappedRow([self.write_button, self.preview_button])], gap="small")
        )

    def show_due(self, rows: list[DueLetter]) -> None:
        region = self._page.context.region
        self._rows = {letter_key(row): row for row in rows}
        self.list.show_rows([letter_strip(region, row) for row in rows])
        if rows and self.list.current_key() is None:
            self.list.select(letter_key(rows[0]))
        self._show_buttons()

    def chosen(self) -> DueLetter | None:
        return self._rows.get(self.list.current_key())

    def preview(self) -> None:
        due = self.chosen()
        if due is not None:
            title = subject(due.course, due.step, last=due.last)
            self._page.ask(
                lambda seat: letters.preview_letter(seat, due),
                lambda pdf: self._page.context.show_paper(pdf, title),
                key="letter",
            )

    def write(self) -> None:
        due = self.chosen()
        if due is None or self._busy:
            return
        self._busy = True

        def written(number: str) -> None:
            self._busy = False
            title = say("Letter {number}", number=number)
            self._page.context.tell(
                say("{number} is written.", number=number), say("Show the letter"),
                lambda: self._page.context.show_paper(number, title, "letter"),
            )  # fmt: skip

        def refused(problem: object) -> None:
            self._busy = False
            self._page.context.tell_problem(problem)  # type: ignore[arg-type]  # a Problem

        self._page.do(lambda seat: letters.write_letter(seat, due), written, refused, changes=_TOPICS)

    def _show_buttons(self) -> None:
        there = self.chosen() is not None
        self.preview_button.setVisible(there)
        self.write_button.setVisible(there and self._page.context.may(Action.WRITE_LETTER))


def letter_key(row: DueLetter) -> object:
    return (row.course.value, row.job_id, row.invoice_id)


def letter_strip(region: Region, row: DueLetter) -> Strip:
    title = f"{row.customer}  {row.range_number}"
    about = subject(row.course, row.step, last=row.last)
    if row.course is Course.REMINDER:
        about = say("{subject}, {number}", subject=about, number=row.number)
    since = (
        say("ready since {day}", day=region.day(row.since))
        if row.course is Course.READY
        else say("was due {day}", day=region.day(row.since))
    )
    amount = region.money(row.open_cents) if row.open_cents > 0 else ""
    return Strip(letter_key(row), title, about, amount, since, "hold")
