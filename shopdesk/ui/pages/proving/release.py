"""The way out of proving: the owner's word with its reasons, the proof sheet, handing over."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QWidget

from shopdesk.domain.rights import Action
from shopdesk.services import handovers, proofs
from shopdesk.services.papers.gas_label import gas_label
from shopdesk.services.proofs import ProofDue
from shopdesk.ui.context import Context
from shopdesk.ui.pages.proving import draft
from shopdesk.ui.proof_words import release_words
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import DayField, TextField, TickField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

Do = Callable[..., None]
Open = Callable[[str, Form, Sequence[QWidget]], None]


class Release(QWidget):
    """`open_form` shows a form in the page, `leave_form` takes it away."""

    def __init__(self, context: Context, do: Do, open_form: Open, leave_form: Callable[[], object]) -> None:
        super().__init__()
        self._context, self._do = context, do
        self._open, self._leave = open_form, leave_form
        self._room: draft.Room | None = None
        self.standing = Words("", "strong")
        self.blocking = Words("", "body", "hold")
        self.release_button = Button(say("Re&lease"), self.release)
        self.sheet_button = Button(say("Print the proof sheet"), self.print_sheet, icon_name="print")
        self.over_button = Button(say("Hand &over"), self.hand_over, icon_name="truck")
        self.label_button = Button(say("Print the gas label"), self.print_label, icon_name="print")
        row = WrappedRow([self.release_button, self.sheet_button, self.label_button, self.over_button])
        self.setLayout(upright([Heading(say("Release")), self.standing, self.blocking, row], gap="small"))

    def show_room(self, room: draft.Room) -> None:
        self._room = room
        may = self._context.may
        left_red = say("It left disconnected and red-tagged, as every paper of it says.")
        stands = release_words(self._context.region, room.release)
        self.standing.setText(left_red if room.gone and room.red_tagged else stands)
        names = ", ".join(room.release.blocking)
        text = say(
            "Nobody can sign for: {proofs}. Without them it leaves disconnected and red-tagged.", proofs=names
        )
        self.blocking.setText(text if names else "")
        self.blocking.setVisible(bool(names) and not room.gone)
        self.release_button.setVisible(may(Action.RELEASE) and not room.gone)
        self.sheet_button.setVisible(may(Action.PRINT) and bool(room.records))
        self.label_button.setVisible(may(Action.PRINT) and not room.gone)
        self.over_button.setVisible(may(Action.HAND_OVER) and not room.gone)

    def release(self) -> None:
        """The owner's word; each lesser proof that is missing asks for a reason."""
        if self._room is None:
            return
        job_id, number = self._room.job_id, self._room.number
        form = Form()
        for due in lacking_lesser(self._room.due):
            form.add(due.code, say("Without “{name}”, because", name=due.name), TextField(),
                     required=say("Give a reason; it prints. Or record the proof first."))  # fmt: skip

        def save(values: Mapping[str, str]) -> None:
            def done(_none: None) -> None:
                self._leave()
                self._context.tell(say("{number} is released.", number=number))

            self._do(lambda seat: proofs.release(seat, job_id, without=values), done, form.show_problem)

        form.on_save(say("Release {number}", number=number), save)
        guide = say(
            "Your word that the proofs stand. It lapses when the range is moved or a gas joint is opened. "
            "Reasons print on the proof sheet and the invoice, with your name."
        )
        self._open(say("Release {number}", number=number), form, [Words(guide)])

    def print_sheet(self) -> None:
        """Issues the proof sheet as things stand and shows it."""
        if self._room is None:
            return
        job_id = self._room.job_id
        self._do(
            lambda seat: proofs.print_proof_sheet(seat, job_id),
            lambda number: self._context.show_paper(
                number, say("Proof sheet {number}", number=number), "proof sheet"
            ),
        )

    def print_label(self) -> None:
        """The label by the rating plate: the gas it is set for, and who connects it."""
        if self._room is None:
            return
        job_id, number = self._room.job_id, self._room.number
        self._context.ask(
            lambda seat: gas_label(seat, job_id),
            lambda pdf: self._context.show_paper(pdf, say("Gas label, {number}", number=number)),
            key=f"gas label/{job_id}", owner=self,
        )  # fmt: skip

    def hand_over(self) -> None:
        """Released, or disconnected and red-tagged; the paper says which."""
        if self._room is None:
            return
        job_id, number, given = self._room.job_id, self._room.number, self._room.release.given
        form = Form()
        form.add("on", say("Day"), DayField(self._context.region), required=say("Write the day it leaves."))
        form["on"].setValue(self._context.seat.today)
        none_stands = say(
            "No release stands: it leaves only disconnected and red-tagged; every paper says so."
        )
        red = TickField(say("Disconnected and red-tagged: not to be lit"), not given)
        form.add("red_tagged", "", red, note="" if given else none_stands)

        def save(values: Mapping[str, Any]) -> None:
            def done(sheet: str) -> None:
                self._leave()
                self._context.tell(say("{number} has left.", number=number))
                self._context.show_paper(
                    sheet, say("Hand-over sheet {number}", number=sheet), "hand-over sheet"
                )

            on, tagged = values["on"], values["red_tagged"]
            self._do(
                lambda seat: handovers.hand_over(seat, job_id, on=on, red_tagged=tagged),
                done,
                form.show_problem,
            )

        form.on_save(say("Hand {number} over", number=number), save, icon_name="truck")
        text = say(
            "The hand-over sheet is issued and shown. A licensed fitter connects it under the local code."
        )
        self._open(say("Hand {number} over", number=number), form, [Words(text)])


def lacking_lesser(due: Sequence[ProofDue]) -> list[ProofDue]:
    """Proofs the owner may sign for that do not stand."""
    return [p for p in due if not p.stands and p.signable]
