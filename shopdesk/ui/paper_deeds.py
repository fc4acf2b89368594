"""What can be done with an issued paper beside looking at it: a mail draft, a duplicate, its XML.

Asks services in a worker; knows files and the mail program through the dialogs object.
"""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from shopdesk.domain.problem import Problem
from shopdesk.ui.context import Context
from shopdesk.ui.dialogs import PDF, XML
from shopdesk.ui.mail_drafts import mail_of_paper, open_draft
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.headings import ProblemText
from shopdesk.ui.widgets.paper_viewer import as_file_name
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say, say_problem

if TYPE_CHECKING:
    from shopdesk.services.papers.keeping import PaperRow
    from shopdesk.services.seat import Seat

_BILLS = ("invoice", "credit")


class PaperDeeds(WrappedRow):
    """Hidden until the bytes shown turn out to be an issued paper."""

    def __init__(self, context: Context, problem: ProblemText, parent: QWidget | None = None) -> None:
        self.mail_button = Button(say("&Mail draft"), self.draft_mail, icon_name="note")
        self.duplicate_button = Button(say("Save a &duplicate"), self.save_duplicate, icon_name="save-pdf")
        self.xml_button = Button(say("Save as &XML"), self.save_xml, icon_name="save-pdf")
        self.mail_button.setToolTip(say("Hands the paper to the mail program as a draft; you send it."))
        self.xml_button.setToolTip(say("The bill for programs: UBL 2.1 after EN 16931."))
        super().__init__([self.mail_button, self.duplicate_button, self.xml_button])
        if parent is not None:
            self.setParent(parent)
        self._context, self._problem = context, problem
        self.row: PaperRow | None = None
        self.hide()

    def about(self, pdf: bytes, file_name: str) -> None:
        """Looks whether these are the bytes of an issued paper; its number ends the file's name."""
        words = file_name.split()
        if words:
            self._context.ask(lambda seat: _issued(seat, words[-1], pdf), self._show, owner=self)

    def _show(self, row: "PaperRow | None") -> None:
        self.row = row
        self.setVisible(row is not None)
        self.xml_button.setVisible(row is not None and row.kind in _BILLS)

    def draft_mail(self) -> None:
        """Writes the draft into a folder that is this person's alone and opens it."""
        row = self.row
        if row is not None:
            self._fetch(
                lambda seat: mail_of_paper(seat, row.number), lambda content: self._open(row.number, content)
            )

    def save_duplicate(self) -> None:
        row = self.row
        if row is not None:
            name = say("{title}, duplicate", title=row.title)
            self._save(lambda seat: _duplicate(seat, row.number), name, say("PDF"), PDF)

    def save_xml(self) -> None:
        row = self.row
        if row is not None:
            self._save(lambda seat: _xml(seat, row.number), row.title, say("XML"), XML)

    def _fetch(self, question: "Callable[[Seat], bytes]", then: Callable[[bytes], None]) -> None:
        self._problem.show_text("")
        self._context.ask(question, then, self._refuse, owner=self)

    def _refuse(self, problem: Problem) -> None:
        self._problem.show_text(say_problem(problem))

    def _save(self, question: "Callable[[Seat], bytes]", title: str, kind: str, pattern: str) -> None:
        suffix = pattern.removeprefix("*")
        suggested = Path.home() / f"{as_file_name(title)}{suffix}"
        place = self._context.dialogs.save_file(say("Save {title}", title=title), suggested, kind, pattern)
        if place is not None:
            file = place if place.suffix else place.with_suffix(suffix)
            self._fetch(question, lambda content: self._keep(file, content))

    def _keep(self, file: Path, content: bytes) -> None:
        try:
            file.write_bytes(content)
        except OSError as error:
            self._problem.show_text(
                say("{file} was not written ({why}). Choose another folder.", file=file.name,
                    why=error.strerror or str(error))
            )  # fmt: skip

    def _open(self, number: str, content: bytes) -> None:
        self._problem.show_text(open_draft(self._context.dialogs, number, content))


def _issued(seat: "Seat", number: str, pdf: bytes) -> "PaperRow | None":
    from shopdesk.services.papers.keeping import issued_paper

    return issued_paper(seat, number, pdf)


def _duplicate(seat: "Seat", number: str) -> bytes:
    from shopdesk.services.papers.duplicates import duplicate_bytes

    return duplicate_bytes(seat, number)


def _xml(seat: "Seat", number: str) -> bytes:
    from shopdesk.services.papers.electronic import invoice_xml

    return invoice_xml(seat, number)
