"""Small pages for the tests of the window."""

from typing import Any

from PySide6.QtWidgets import QLabel, QLineEdit

from shopdesk.domain.rights import Role
from shopdesk.services.shops import StaffDraft, StaffRow, keep_staff, staff
from shopdesk.ui.context import Context, Topics
from shopdesk.ui.pages.page import Page
from shopdesk.ui.places import Place
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.fields import TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading
from shopdesk.ui.widgets.list_table import ListTable
from shopdesk.ui.widgets.rows import Column


class PeoplePage(Page):
    """A list of those who work here and a form for one more: a page as page writers write it."""

    place = "people"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.refreshed: list[Topics] = []
        self.opened_on: list[dict[str, Any]] = []
        self.drafts_kept = 0
        columns = [Column("name", "Name", lambda row: row.name, stretch=True)]
        self.list = ListTable("People", columns, _key, empty="Nobody works here yet.", memory=context.memory)
        self.form = Form()
        self.form.add("name", "&Name", TextField())
        self.form.on_save("&Keep", self._keep)
        self.setLayout(upright([Heading("People", "head"), self.list, self.form]))

    def refresh(self, topics: Topics) -> None:
        self.refreshed.append(topics)
        if topics & {"everything", "staff"}:
            self.ask(staff, self.list.show_rows, key="rows")

    def focusFirst(self) -> None:  # noqa: N802 - a page says so
        self.form.focusFirst()

    def open_on(self, **what: Any) -> None:
        self.opened_on.append(what)

    def keep_draft(self) -> None:
        self.drafts_kept += 1
        self.context.drafts.keep("people", {"name": self.form["name"].typed()})

    def _keep(self, values: dict[str, Any]) -> None:
        draft = StaffDraft(values["name"], Role.TECHNICIAN)
        self.do(
            lambda seat: keep_staff(seat, draft),
            lambda _key: self.form.saved(),
            failed=self.form.show_problem,
            changes=["staff"],
        )


def _key(row: StaffRow) -> int:
    return row.id


class PlainPage(Page):
    """One field, nothing to ask."""

    place = "plain"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.refreshed: list[Topics] = []
        self.field = QLineEdit()
        self.field.setAccessibleName("Field")
        self.setLayout(upright([QLabel("Plain"), self.field]))

    def refresh(self, topics: Topics) -> None:
        self.refreshed.append(topics)

    def focusFirst(self) -> None:  # noqa: N802 - a page says so
        self.field.setFocus()


def few_places() -> tuple[Place, ...]:
    return (
        Place("people", "&People", "floor", "few_pages", "PeoplePage"),
        Place("plain", "P&lain", "bench", "few_pages", "PlainPage"),
        Place("third", "&Third", "stores", "few_pages", "PlainPage"),
        Place("jacket", "Jacket", "jacket", "few_pages", "PeoplePage", hidden=True),
    )
