"""A period's papers and money for the bookkeeper: two days, and where to keep the file.

The form offers the last whole month; anything that cannot be is said beside the field.
"""

import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtWidgets import QWidget

from shopdesk.domain.problem import Problem
from shopdesk.ui.dialogs import WORKBOOK
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.boxes import STRETCH, upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import DayField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.wording import say, say_n

if TYPE_CHECKING:
    from shopdesk.services.books import BooksWritten
    from shopdesk.services.seat import Seat


_WIDE = 90  # letters; two days need no more


def last_month(today: dt.date) -> tuple[dt.date, dt.date]:
    """The first and the last day of the month before this one."""
    last = today.replace(day=1) - dt.timedelta(days=1)
    return last.replace(day=1), last


class BooksPanel(QWidget):
    """Saves a workbook or, by the second button, a folder of CSV files."""

    def __init__(self, page: Page) -> None:
        super().__init__()
        self._page = page
        region = page.context.region
        first, last = last_month(page.context.seat.today)
        self.form = Form(columns=2)
        needed = say("Name the first and the last day of the period.")
        self.since = self.form.add("since", say("F&rom"), DayField(region), required=needed)
        self.until = self.form.add("until", say("Unti&l"), DayField(region), required=needed)
        self.since.setValue(first)
        self.until.setValue(last)
        self.form.on_save(say("Save as a wor&kbook"), self.save_workbook)
        self.folder_button = Button(say("Save as CS&V files"), self.save_folder, icon_name="save-pdf")
        self.form.add_button(self.folder_button)
        self.told = Words("", "body", "muted")
        self.told.hide()
        about = Words(
            say("Invoices, credits, taxes and payments of a period, with their sums."), "body", "muted"
        )
        box = upright([Heading(say("For the bookkeeper")), about, self.form, self.told, STRETCH], gap="small",
                      margin="gap")  # fmt: skip
        self.setLayout(box)
        self.setMaximumWidth(self.fontMetrics().averageCharWidth() * _WIDE)

    def focusFirst(self) -> None:
        self.form.focusFirst()

    def save_workbook(self, values: dict[str, Any]) -> None:
        period = self._period(values)
        if period is None:
            return
        name = say("Books {since} to {until}", since=period[0].isoformat(), until=period[1].isoformat())
        place = self._page.context.dialogs.save_file(
            say("Save the books"), Path.home() / f"{name}.xlsx", say("Workbook"), WORKBOOK
        )
        if place is not None:
            self._write(*period, place if place.suffix else place.with_suffix(".xlsx"))

    def save_folder(self) -> None:
        period = self._period(self.form.values())
        if period is None:
            return
        folder = self._page.context.dialogs.open_folder(say("A folder for the CSV files"))
        if folder is not None:
            self._write(*period, folder)

    def _period(self, values: dict[str, Any] | None) -> tuple[dt.date, dt.date] | None:
        """The two days; None when they cannot be, which is then said beside the field."""
        if values is None:
            return None
        since, until = values["since"], values["until"]
        if since <= until:
            return since, until
        self.form.show_problem(
            Problem("The period ends before it begins. Turn the days round.", field="until")
        )
        return None

    def _write(self, since: dt.date, until: dt.date, place: Path) -> None:
        self.told.hide()
        self._page.ask(lambda seat: _written(seat, since, until, place), self._tell,
                       failed=self.form.show_problem)  # fmt: skip

    def _tell(self, written: "BooksWritten") -> None:
        self.form.saved()
        place = written.files[0] if len(written.files) == 1 else written.files[0].parent
        self.told.setText(
            say("{papers} and {payments} are kept in {path}.",
                papers=say_n("{count} invoice or credit", "{count} invoices and credits", written.papers),
                payments=say_n("{count} payment", "{count} payments", written.payments), path=str(place))
        )  # fmt: skip
        self.told.show()


def _written(seat: "Seat", since: dt.date, until: dt.date, place: Path) -> "BooksWritten":
    from shopdesk.services.books import write_books

    return write_books(seat, since, until, place)
