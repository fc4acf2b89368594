"""What can be done with a range from its jacket: small forms that open under the head."""

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QMenu, QWidget

from shopdesk.domain.changed import Seen
from shopdesk.domain.rights import Action
from shopdesk.domain.stage import Stage
from shopdesk.services import handovers, intake
from shopdesk.services.jacket import Jacket
from shopdesk.services.papers.labels import range_labels
from shopdesk.services.planning import promises
from shopdesk.services.seat import Seat
from shopdesk.ui.context import Context
from shopdesk.ui.pages.range_form.form import RangeForm
from shopdesk.ui.widgets.deed_panel import DeedPanel
from shopdesk.ui.widgets.fields import ChoiceField, DayField, NoteField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Words
from shopdesk.wording import say

Do = Callable[..., None]
_ENDED = (Stage.DONOR, Stage.NOT_TAKEN, Stage.WITHDRAWN)
_OVER = (*_ENDED, Stage.GONE, Stage.SETTLED)


class Deeds:
    """`do` is the jacket's way of changing things; it announces the range and the job by itself."""

    def __init__(self, context: Context, panel: DeedPanel, do: Do) -> None:
        self._context, self._panel, self._do = context, panel, do
        self.jacket: Jacket | None = None
        self.read: Seen | None = None  # the state of the shop the jacket was read from

    def fill(self, menu: QMenu) -> None:
        """Everything this person may do with this range now."""
        jacket, may = self.jacket, self._context.may
        menu.clear()
        if jacket is None:
            return
        book_in, gone = may(Action.BOOK_IN), jacket.stage in _OVER
        deeds = (
            (book_in and jacket.stage is Stage.LOOKED_AT, say("It has come in"), self.has_come_in),
            (book_in, say("Correct the description…"), self.describe),
            (may(Action.QUOTE) and not gone, say("Promise a day…"), self.promise),
            (may(Action.WORK) and not gone, say("Moved to another place…"), self.moved),
            (book_in and jacket.customer_id is not None, say("Print the intake receipt"), self.print_receipt),
            (True, say("Where it stands"), self.standing),
            (
                may(Action.WRITE_LETTER) and jacket.customer_id is not None,
                say("Progress letter…"),
                lambda: self.standing("letter"),
            ),
            (may(Action.PRINT), say("Before and after…"), lambda: self.standing("pair")),
            (may(Action.PRINT), say("Log book"), lambda: self.standing("log")),
            (may(Action.PRINT), say("Print its label"), self.print_label),
            (book_in and gone, say("It came back: a new job…"), self.comeback),
            (may(Action.WITHDRAW) and not gone, say("End this job…"), self.end),
        )
        for possible, name, deed in deeds:
            if possible:
                menu.addAction(name, deed)

    def promise(self) -> None:
        """The day given to the customer; an empty field takes it back."""
        jacket = self._known()
        form = Form()
        form.add("on", say("Promised for"), DayField(self._context.region),
                 note=say("Leave it empty to promise nothing."))  # fmt: skip
        form["on"].setValue(jacket.promised_on)
        if jacket.promised_on is not None:
            form.add("why", say("Why it changes"), NoteField(lines=2), note=say("The customer is told."))
        self._open(
            say("Promise"), form, say("Keep the promise"),
            lambda seat, values: promises.promise(
                seat, jacket.job_id, values["on"], values.get("why", "")
            ),
            say("The promise of {number} is kept.", number=jacket.number),
        )  # fmt: skip

    def standing(self, deed: str = "") -> None:
        """Where it stands, for whoever asks; with a deed, one of the papers that tell the customer."""
        self._context.go("standing", range_id=self._known().range_id, deed=deed)

    def moved(self) -> None:
        """Where it stands now; a release lapses."""
        jacket = self._known()
        form = Form()
        form.add("to", say("Stands now at"), TextField(jacket.described.stands_at),
                 required=say("Write where it stands now."))  # fmt: skip
        self._open(
            say("Moved"), form, say("It was moved"),
            lambda seat, values: handovers.moved(seat, jacket.job_id, values["to"]),
            say("{number} was moved.", number=jacket.number),
            say("A release given before lapses: moving a range can open a joint. Prove tightness again."),
        )  # fmt: skip

    def end(self) -> None:
        """Ends the job without finishing it."""
        jacket = self._known()
        form = Form()
        form.add("as", say("It ends as"), ChoiceField([(s, say(s.value)) for s in reversed(_ENDED)]))
        form.add(
            "why", say("Because"), NoteField(lines=2), required=say("Write why; it stays with the range.")
        )
        self._open(
            say("End this job"), form, say("End the job"),
            lambda seat, values: intake.end_job(seat, jacket.job_id, values["as"], values["why"]),
            say("The job on {number} is ended.", number=jacket.number),
        )  # fmt: skip

    def comeback(self) -> None:
        """A new job on a range that was here before, for the same customer."""
        jacket = self._known()
        form = Form()
        form.add("complaint", say("What the customer says of it"), NoteField(lines=3))
        form.add("promised_on", say("Promised for"), DayField(self._context.region))

        def save(seat: Seat, values: dict[str, Any]) -> None:
            job = intake.JobDraft(
                customer_id=jacket.customer_id, purpose=jacket.purpose, scope=jacket.scope,
                complaint=values["complaint"], promised_on=values["promised_on"],
            )  # fmt: skip
            intake.comeback(seat, jacket.range_id, job)

        done = say("{number} is here again with a new job.", number=jacket.number)
        self._open(say("It came back"), form, say("Begin the new job"), save, done)

    def has_come_in(self) -> None:
        jacket = self._known()
        self._do(
            lambda seat: intake.book_in(seat, jacket.job_id),
            lambda _none: self._context.tell(say("{number} is booked in.", number=jacket.number)),
        )

    def print_receipt(self) -> None:
        jacket = self._known()
        self._do(
            lambda seat: handovers.print_intake_receipt(seat, jacket.job_id),
            lambda number: self._context.show_paper(
                number, say("Intake receipt {number}", number=number), "intake receipt"
            ),
        )

    def print_label(self) -> None:
        """A label with the range's number and its code, on the shop's usual sheet."""
        jacket = self._known()
        self._context.ask(
            lambda seat: range_labels(seat, [jacket.range_id]),
            lambda pdf: self._context.show_paper(pdf, say("Label of {number}", number=jacket.number)),
            key=f"range label/{jacket.range_id}",
        )

    def describe(self) -> None:
        """What is written down of the range, to be corrected."""
        jacket = self._known()
        holder = RangeForm(self._context.region)
        holder.show_draft(jacket.described)
        holder.setMinimumHeight(holder.sizeHint().height())
        self._open(
            say("Correct the description"), holder.form, say("Keep it"),
            lambda seat, values: intake.describe(seat, jacket.range_id, holder.draft_of(values)),
            say("The description of {number} is kept.", number=jacket.number), holder=holder,
        )  # fmt: skip

    # Inside

    def _known(self) -> Jacket:
        assert self.jacket is not None
        return self.jacket

    def _open(
        self, title: str, form: Form, button: str, save: Callable[[Seat, dict[str, Any]], object],
        told: str, guide: str = "", holder: QWidget | None = None,
    ) -> None:  # fmt: skip
        def done(_result: object) -> None:
            self._panel.leave()
            self._context.tell(told)

        form.on_save(
            button,
            lambda values: self._do(lambda seat: save(seat, values), done, form.show_problem, form=form),
        )
        form.read_from(self.read)
        self._panel.open(title, form, [Words(guide)] if guide else [], holder)
