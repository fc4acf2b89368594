"""The finish of each surface, gone through with the customer before the deposit."""

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from shopdesk.domain.finishes import Finish, Grade
from shopdesk.domain.rights import Action
from shopdesk.services import finishes
from shopdesk.services.counter import JobAtCounter
from shopdesk.services.finishes import grade_name
from shopdesk.ui.look import spacing
from shopdesk.ui.pages.counter.section import Section
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import ChoiceField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Words
from shopdesk.wording import say


class FinishesSection(Section):
    """Says what “restored” means on this job; a quote written from now on holds it."""

    key = "finishes"

    def __init__(self, page: Page) -> None:
        super().__init__(page, say("Finish, surface by surface"))
        self.standing = Words()
        self.words = Words("", "body", "muted")
        self.settle_button = Button(say("Go through the surfaces"), self.begin, icon_name="note")
        for widget in (self.standing, self.words, self.deeds([self.settle_button])):
            self.body.addWidget(widget)

    def show_job(self, job: JobAtCounter) -> None:
        super().show_job(job)
        self.setVisible(job.head.customer_id is not None)
        rows, settled = job.life.finishes, job.life.finishes_settled
        self.standing.setText(
            say("Settled with the customer; the next quote holds it.")
            if settled
            else say("As this scope usually means it; not gone through with the customer yet.")
        )
        self.words.setText(finish_words(rows))
        self.settle_button.setVisible(self.context.may(Action.QUOTE))

    def focusFirst(self) -> None:
        self.settle_button.setFocus()

    def begin(self) -> None:
        """One choice and one remark for each surface."""
        if self.job is None:
            return
        job_id, form = self.job_id, Form()
        form.read_from(self.read)
        form.add("finishes", say("&Surfaces"), FinishField(self.job.life.finishes), wide=True)
        form.on_save(
            say("&Settle it so"),
            lambda values: self.act(
                lambda seat: finishes.keep_finishes(seat, job_id, values["finishes"]),
                lambda _none: self.context.tell(say("The finish of every surface is settled.")),
            ),
            icon_name="tick",
        )
        self.open_form(say("What each surface will be"), form)


class FinishField(QWidget):
    """A row for each surface: its name, its grade, a remark."""

    edited = Signal()

    def __init__(self, rows: tuple[Finish, ...]) -> None:
        super().__init__()
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(spacing(self.font()).gap)
        grid.setVerticalSpacing(spacing(self.font()).hair)
        grid.setColumnStretch(1, 3)
        grid.setColumnStretch(2, 2)
        self._rows: list[tuple[str, ChoiceField, TextField]] = []
        grades = [(grade, grade_name(grade)) for grade in Grade]
        for place, row in enumerate(rows):
            choice, note = ChoiceField(grades, row.grade), TextField(row.note)
            choice.setAccessibleName(say(row.surface))
            note.setAccessibleName(say("{surface}, remark", surface=say(row.surface)))
            note.setPlaceholderText(say("remark"))
            choice.edited.connect(self.edited)
            note.edited.connect(self.edited)
            grid.addWidget(QLabel(say(row.surface)), place, 0)
            grid.addWidget(choice, place, 1)
            grid.addWidget(note, place, 2)
            self._rows.append((row.surface, choice, note))
        if self._rows:
            self.setFocusProxy(self._rows[0][1])

    def value(self) -> list[Finish]:
        return [
            Finish(surface=surface, grade=choice.value(), note=note.value())
            for surface, choice, note in self._rows
        ]

    def setValue(self, rows: Any) -> None:
        by_name = {row.surface: row for row in rows or ()}
        for surface, choice, note in self._rows:
            if surface in by_name:
                choice.setValue(by_name[surface].grade)
                note.setValue(by_name[surface].note)

    def typed(self) -> list[list[str]]:
        return [[choice.typed(), note.typed()] for _, choice, note in self._rows]

    def setTyped(self, typed: Any) -> None:
        for (_, choice, note), kept in zip(
            self._rows, typed if isinstance(typed, list) else [], strict=False
        ):
            choice.setTyped(kept[0])
            note.setTyped(kept[1])


def finish_words(rows: tuple[Finish, ...]) -> str:
    """Surfaces by their grade, those left as they are last."""
    by_grade: dict[Grade, list[str]] = {}
    for row in rows:
        name = say(row.surface)
        by_grade.setdefault(row.grade, []).append(f"{name} ({row.note})" if row.note else name)
    order = [grade for grade in Grade if grade is not Grade.AS_IT_IS] + [Grade.AS_IT_IS]
    return "\n".join(
        say("{grade}: {surfaces}.", grade=grade_name(grade)[:1].upper() + grade_name(grade)[1:],
            surfaces=", ".join(by_grade[grade]))
        for grade in order if grade in by_grade
    )  # fmt: skip
