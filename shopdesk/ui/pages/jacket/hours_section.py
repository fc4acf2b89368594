"""Hours line by line: estimated, agreed, clocked and billed, with what each figure stands on."""

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from shopdesk.services.hours_story import HoursStory
from shopdesk.ui.context import Context
from shopdesk.ui.pages.jacket.hours import HoursRow, hours_rows, hours_sentence
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import QuietButton
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.rows import Column
from shopdesk.ui.widgets.short_table import ShortTable
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say


class HoursSection(QWidget):
    """`paperAsked` carries kind and number of a paper a row stands on."""

    paperAsked = Signal(str, str)

    def __init__(self, context: Context) -> None:
        super().__init__()
        self._context = context
        self._story = HoursStory(())
        self.rows = ShortTable(
            say("Hours of this job"),
            [
                Column("task", say("Task"), lambda r: r.name, stretch=True, spoken=HoursRow.spoken,
                       tip=lambda r: r.name),
                Column("estimated", say("Estimated"), lambda r: r.estimated, width=16, figures=True),
                Column("agreed", say("Agreed"), lambda r: r.agreed, width=10, figures=True),
                Column("clocked", say("Clocked"), lambda r: r.clocked, width=10, figures=True),
                Column("billed", say("Billed"), lambda r: r.billed, width=10, figures=True),
            ],
            key=lambda r: r.key,
            empty=say("Hours of the work order will stand here, line by line."),
        )  # fmt: skip
        self.sentence = Words()
        self._papers = WrappedRow([])
        self.setLayout(upright([Heading(say("Hours")), self.rows, self.sentence, self._papers]))
        self.rows.chosen.connect(lambda _key: self._say())
        self._say()

    def show_story(self, story: HoursStory) -> None:
        self._story = story
        self.rows.show_rows(hours_rows(self._context.region, story))
        self._say()

    def _say(self) -> None:
        key = self.rows.current_key()
        self.sentence.setText(hours_sentence(self._context.region, self._story, key))
        self.sentence.setVisible(bool(self._story.rows))
        row = next((row for row in self._story.rows if row.task_id == key), None)
        papers = [("quote", number) for number in row.agreed_on] if row else []
        papers += [("invoice", bill.invoice) for bill in row.billed_on] if row else []
        self._papers.show_parts(
            [QuietButton(number, partial(self.paperAsked.emit, kind, number), icon_name="note")
             for kind, number in dict.fromkeys(papers)]
        )  # fmt: skip
