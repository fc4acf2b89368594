"""Proofs and the way out: what is due, what was read, the release, and handing over."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from PySide6.QtWidgets import QWidget

from shopdesk.domain.rights import Action
from shopdesk.services import handovers, proofs
from shopdesk.services.jacket import Jacket, ProofLine
from shopdesk.services.proofs import ProofDue, ReleaseState
from shopdesk.services.seat import Seat
from shopdesk.ui.context import Context
from shopdesk.ui.proof_words import next_due, release_words, standing_words
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.deed_panel import DeedPanel
from shopdesk.ui.widgets.fields import DayField, TextField, TickField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.rows import Column
from shopdesk.ui.widgets.short_table import ShortTable
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

Do = Callable[..., None]  # Context.do with the jacket as owner


@dataclass(frozen=True, slots=True)
class Proving:
    """What the section shows of a job."""

    due: tuple[ProofDue, ...]
    release: ReleaseState


def read_proving(seat: Seat, job_id: int) -> Proving:
    return Proving(tuple(proofs.proofs_due(seat, job_id)), proofs.release_state(seat, job_id))


class DueTable(ShortTable):
    """All proofs of a range at once."""

    most = 16


class ProofsSection(QWidget):
    """`do` is the jacket's way of changing things; it announces the job by itself."""

    def __init__(self, context: Context, do: Do) -> None:
        super().__init__()
        self._context, self._do = context, do
        self._jacket: Jacket | None = None
        self._proving: Proving | None = None
        self.due = DueTable(
            say("Proofs that are due"),
            [
                Column("proof", say("Proof"), lambda p: p.name, width=40, stretch=True),
                Column("standing", say("Where it stands"), self._standing, width=48),
            ],
            key=lambda p: p.code, empty=say("No proof is due."),
        )  # fmt: skip
        self.due.opened.connect(lambda _code: self.record())
        self.read = ShortTable(
            say("Readings on record"), _reading_columns(context), key=lambda p: (p.kind, p.at),
            empty=say("Readings will stand here once a proof is recorded."),
        )  # fmt: skip
        self.standing = Words("", "strong")
        self.panel = DeedPanel()
        self.record_button = Button(say("&Prove it"), self.record, icon_name="proof")
        self.release_button = Button(say("Re&lease"), self.release)
        self.sheet_button = Button(say("Print the proof sheet"), self.print_sheet, icon_name="print")
        self.over_button = Button(say("Hand &over"), self.hand_over, icon_name="truck")
        buttons = WrappedRow([self.record_button, self.release_button, self.sheet_button, self.over_button])
        self.setLayout(
            upright([Heading(say("Proofs")), self.standing, self.due, buttons, self.panel,
                     Heading(say("Readings on record"), "strong"), self.read])
        )  # fmt: skip

    def show_jacket(self, jacket: Jacket, proving: Proving) -> None:
        self._jacket, self._proving = jacket, proving
        self.standing.setText(release_words(self._context.region, proving.release))
        self.due.show_rows(proving.due)
        self.read.show_rows(tuple(reversed(jacket.proofs)))
        may = self._context.may
        self.record_button.setVisible(may(Action.PROVE) and bool(proving.due))
        self.release_button.setVisible(may(Action.RELEASE) and jacket.gone_on is None)
        self.sheet_button.setVisible(may(Action.PRINT) and bool(jacket.proofs))
        self.over_button.setVisible(may(Action.HAND_OVER) and jacket.gone_on is None)

    def _standing(self, due: ProofDue) -> str:
        return standing_words(self._context.region, due)

    def record(self) -> None:
        """The room of its proofs, with the form of the chosen one, or of the first that does not stand."""
        if self._jacket is None or self._proving is None or not self._proving.due:
            return
        chosen = self.due.current_key()
        if chosen is None:
            chosen = next_due(self._proving.due)
        self._context.go("proving", job_id=self._jacket.job_id, kind=chosen)

    # Leaving

    def release(self) -> None:
        """The owner's word; each lesser proof that is missing asks for a reason."""
        if self._jacket is None or self._proving is None:
            return
        lacking = [p for p in self._proving.due if not p.stands and p.signable]
        form = Form()
        for due in lacking:
            form.add(due.code, say("Without “{name}”, because", name=due.name), TextField(),
                     required=say("Give a reason; it prints. Or record the proof first."))  # fmt: skip
        job_id, number = self._jacket.job_id, self._jacket.number

        def save(values: Mapping[str, str]) -> None:
            def done(_none: None) -> None:
                self.panel.leave()
                self._context.tell(say("{number} is released.", number=number))

            self._do(lambda seat: proofs.release(seat, job_id, without=values), done, form.show_problem)

        form.on_save(say("Release {number}", number=number), save)
        self.panel.open(say("Release"), form, [Words(_release_guide(self._proving))])

    def print_sheet(self) -> None:
        """Issues the proof sheet as things stand and shows it."""
        if self._jacket is None:
            return
        job_id = self._jacket.job_id
        self._do(
            lambda seat: proofs.print_proof_sheet(seat, job_id),
            lambda number: self._context.show_paper(
                number, say("Proof sheet {number}", number=number), "proof sheet"
            ),
        )

    def hand_over(self) -> None:
        """Released, or disconnected and red-tagged; the paper says which."""
        if self._jacket is None or self._proving is None:
            return
        given = self._proving.release.given
        form = Form()
        form.add("on", say("Day"), DayField(self._context.region), required=say("Write the day it leaves."))
        form["on"].setValue(self._context.seat.today)
        red = TickField(say("Disconnected and red-tagged: not to be lit"), not given)
        none_stands = say(
            "No release stands: it leaves only disconnected and red-tagged; every paper says so."
        )
        form.add("red_tagged", "", red, note="" if given else none_stands)
        job_id, number = self._jacket.job_id, self._jacket.number

        def save(values: Mapping[str, Any]) -> None:
            def done(sheet: str) -> None:
                self.panel.leave()
                self._context.tell(say("{number} has left.", number=number))
                title = say("Hand-over sheet {number}", number=sheet)
                self._context.show_paper(sheet, title, "hand-over sheet")

            self._do(
                lambda seat: handovers.hand_over(
                    seat, job_id, on=values["on"], red_tagged=values["red_tagged"]
                ),
                done, form.show_problem,
            )  # fmt: skip

        form.on_save(say("Hand {number} over", number=number), save, icon_name="truck")
        guide = say(
            "The hand-over sheet is issued and shown. A licensed fitter connects it under the local code."
        )
        self.panel.open(say("Hand over"), form, [Words(guide)])


def _reading_columns(context: Context) -> list[Column]:
    def readings(line: ProofLine) -> str:
        return "; ".join(f"{name}: {value}" for name, value in line.readings)

    return [
        Column("at", say("When"), lambda p: context.region.instant(p.at), width=22),
        Column("name", say("Proof"), lambda p: p.name, width=30),
        Column("result", say("Result"), lambda p: say(p.result), width=14),
        Column("readings", say("Readings"), readings, stretch=True, tip=readings),
        Column("who", say("By"), lambda p: p.who, width=16),
    ]


def _release_guide(proving: Proving) -> str:
    blocking = proving.release.blocking
    if blocking:
        return say(
            "Nobody can sign for these: {proofs}. Prove them, or let it leave disconnected and red-tagged.",
            proofs=", ".join(blocking),
        )
    if proving.release.missing:
        return say("Lesser proofs are missing. You may sign for each with a reason; the reason prints.")
    return say(
        "Every proof stands. The release is your word that they do; it lapses when the range is moved."
    )
