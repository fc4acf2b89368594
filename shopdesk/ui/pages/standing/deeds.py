"""The papers that keep a customer informed, each begun by one key: a form that can be changed, then kept."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from PySide6.QtGui import QTextCursor

from shopdesk.services.before_and_after import Pair, best_pair, preview_pair, print_pair
from shopdesk.services.log_books import print_log_book
from shopdesk.services.progress_letters import (
    ProgressDraft,
    draft_progress,
    preview_progress,
    write_progress,
)
from shopdesk.services.seat import Seat
from shopdesk.services.work_pictures import WorkPicture
from shopdesk.ui.mail_drafts import mail_of_paper, open_draft
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.deed_panel import DeedPanel
from shopdesk.ui.widgets.fields import NoteField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Words
from shopdesk.ui.widgets.photo_choice import PhotoChoice
from shopdesk.ui.widgets.photo_strip import Photo
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.ui.pages.standing.page import StandingPage

_LINES = 14  # of a letter


class StandingDeeds:
    """Opens its forms in the page's panel."""

    def __init__(self, page: "StandingPage", panel: DeedPanel) -> None:
        self._page, self._panel = page, panel

    def letter(self) -> None:
        """The letter as the thread tells it, to be changed; one press keeps it and opens the mail draft."""
        shown = self._page.shown
        if shown is not None:
            job_id = shown.standing.job_id
            self._page.ask(lambda seat: draft_progress(seat, job_id), self._show_letter, key="deed")

    def pair(self) -> None:
        """Two pictures and a line of words, to be chosen; then the page to frame."""
        shown = self._page.shown
        if shown is not None:
            range_id = shown.standing.range_id
            self._page.ask(lambda seat: best_pair(seat, range_id), self._show_pair, key="deed")

    def log_book(self) -> None:
        """The range's log book as it stands today, kept and shown."""
        shown = self._page.shown
        if shown is not None:
            range_id = shown.standing.range_id
            self._page.do(
                lambda seat: print_log_book(seat, range_id),
                lambda number: self._show_paper(number, say("Log book {number}", number=number), "log book"),
                changes=self._topics(),
            )

    # Inside

    def _show_letter(self, draft: ProgressDraft) -> None:
        form = Form()
        text = form.add(
            "text", say("&Letter"), NoteField(lines=_LINES), wide=True,
            required=say("Write what the customer should know."),
            note=say("A blank line parts paragraphs; a line that begins with - is an entry."),
        )  # fmt: skip
        text.setValue(draft.text)
        if draft.pictures:
            pictures = PhotoChoice(self._photos(draft.pictures))
            form.add("pictures", say("&Pictures of the work since the last letter"), pictures, wide=True)
            pictures.setValue(draft.chosen)
        job_id = draft.job_id

        def save(values: dict[str, Any]) -> None:
            self._page.do(
                lambda seat: _write_and_draft(seat, job_id, values["text"], values.get("pictures", ())),
                self._written, form.show_problem, changes=self._topics(),
            )  # fmt: skip

        def look() -> None:
            values = form.values()
            if values is not None:
                self._page.ask(
                    lambda seat: preview_progress(seat, job_id, values["text"], values.get("pictures", ())),
                    lambda pdf: self._page.context.show_paper(pdf, draft.subject), form.show_problem,
                    key="look",
                )  # fmt: skip

        form.on_save(say("&Keep it and open the mail draft"), save, icon_name="mail")
        form.add_button(Button(say("Look at it &first"), look, icon_name="print"))
        self._panel.open(say("Progress letter for {number}", number=draft.number), form)
        text.moveCursor(QTextCursor.MoveOperation.Start)  # one key must not take the whole letter

    def _written(self, kept: tuple[str, bytes]) -> None:
        number, content = kept
        self._panel.leave()
        context = self._page.context
        wrong = open_draft(context.dialogs, number, content)
        title = say("Progress letter {number}", number=number)
        told = wrong or say("{number} is kept, and its mail draft is open. You send it.", number=number)
        context.tell(
            told, say("Show the letter"), lambda: context.show_paper(number, title, "progress letter")
        )

    def _show_pair(self, pair: Pair) -> None:
        form = Form()
        photos = self._photos(pair.pictures)
        for name, label, chosen in (
            ("before", say("&Before"), pair.before), ("after", say("&After"), pair.after),
        ):  # fmt: skip
            field = form.add(name, label, PhotoChoice(photos, one=True), wide=True)
            field.setValue([chosen])
        form.add("words", say("A few &words below"), TextField(pair.words), wide=True)
        shown = self._page.shown
        assert shown is not None, "the pair was asked for from what is shown"
        range_id = shown.standing.range_id

        def chosen_of(values: dict[str, Any]) -> tuple[int, int, str]:
            return _first(values["before"]), _first(values["after"]), values["words"]

        def save(values: dict[str, Any]) -> None:
            before, after, words = chosen_of(values)
            self._page.do(
                lambda seat: print_pair(seat, range_id, before, after, words), self._printed_pair,
                form.show_problem, changes=self._topics(),
            )  # fmt: skip

        def look() -> None:
            values = form.values()
            if values is not None:
                before, after, words = chosen_of(values)
                self._page.ask(
                    lambda seat: preview_pair(seat, range_id, before, after, words),
                    lambda pdf: self._page.context.show_paper(pdf, say("Before and after")),
                    form.show_problem,
                    key="look",
                )  # fmt: skip

        form.on_save(say("&Keep the page"), save, icon_name="save-pdf")
        form.add_button(Button(say("Look at it &first"), look, icon_name="print"))
        guide = Words(say("Tick one picture in each row. The page prints on the shop's paper, to be framed."))
        self._panel.open(say("Before and after"), form, [guide])

    def _printed_pair(self, number: str) -> None:
        self._panel.leave()
        self._show_paper(number, say("Before and after {number}", number=number), "before and after")

    def _show_paper(self, number: str, title: str, kind: str) -> None:
        self._page.context.show_paper(number, title, kind)

    def _photos(self, pictures: Sequence[WorkPicture]) -> list[Photo]:
        rows = self._page.shown.rows if self._page.shown else {}
        return [Photo(p.id, p.caption or p.shows, rows[p.id].thumbnail) for p in pictures if p.id in rows]

    def _topics(self) -> list[str]:
        shown = self._page.shown
        return [f"job {shown.standing.job_id}" if shown else "jobs", "papers"]


def _write_and_draft(seat: Seat, job_id: int, text: str, pictures: Sequence[int]) -> tuple[str, bytes]:
    """Keeps the letter, and reads its mail draft in the same go."""
    number = write_progress(seat, job_id, text, pictures)
    return number, mail_of_paper(seat, number)


def _first(ticked: Sequence[int]) -> int:
    return ticked[0] if ticked else 0
