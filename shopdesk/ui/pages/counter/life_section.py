"""The rest of a job's life: visits, questions, a withdrawal half-way, and a range that comes back."""

import datetime as dt
from typing import Any

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.stage import Stage
from shopdesk.services import questions, warranty, withdrawals
from shopdesk.services.counter import JobAtCounter
from shopdesk.services.intake import JobDraft
from shopdesk.services.planning import appointments
from shopdesk.services.planning.appointments import AppointmentDraft, AppointmentRow
from shopdesk.services.withdrawals import Withdrawal
from shopdesk.ui.pages.counter.lines_view import LinesView
from shopdesk.ui.pages.counter.section import Section
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import ChoiceField, DayField, NoteField, TextField, TickField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Words
from shopdesk.wording import Region, say

_OVER = (Stage.SETTLED, Stage.GONE, Stage.WITHDRAWN, Stage.NOT_TAKEN, Stage.DONOR)


class LifeSection(Section):
    """What stands of it in sentences, and the deeds that apply now."""

    key = "life"

    def __init__(self, page: Page) -> None:
        super().__init__(page, say("Visits, questions, warranty"))
        self.standing = Words()
        self.visit_button = Button(say("Make an appointment"), self.begin_visit)
        self.call_off_button = Button(say("Call the appointment off"), self.call_off)
        self.question_button = Button(say("They question it"), self.begin_question)
        self.close_button = Button(say("Close the question"), self.begin_close)
        self.withdraw_button = Button(say("They withdraw"), self.begin_withdrawal)
        self.back_button = Button(say("It came back"), self.begin_comeback)
        row = self.deeds(
            [self.visit_button, self.call_off_button, self.question_button, self.close_button,
             self.withdraw_button, self.back_button]
        )  # fmt: skip
        for widget in (self.standing, row):
            self.body.addWidget(widget)

    def show_job(self, job: JobAtCounter) -> None:
        super().show_job(job)
        life, may = job.life, self.context.may
        self.setVisible(job.head.customer_id is not None or life.warranty.until is not None)
        self.standing.setText("\n".join(life_words(self.context.region, job)))
        over = job.head.found.stage in _OVER
        self.visit_button.setVisible(may(Action.APPOINT) and not over)
        self.call_off_button.setVisible(may(Action.APPOINT) and bool(life.appointments))
        self.question_button.setVisible(may(Action.WRITE_LETTER) and life.question is None)
        self.close_button.setVisible(may(Action.WRITE_LETTER) and life.question is not None)
        self.withdraw_button.setVisible(
            may(Action.WITHDRAW) and not over and job.head.customer_id is not None and bool(job.agreements)
        )
        self.back_button.setVisible(may(Action.BOOK_IN) and job.head.gone_on is not None)

    def focusFirst(self) -> None:
        self.visit_button.setFocus()

    def begin_visit(self) -> None:
        """The form of an appointment: a day, an hour, a place."""
        region, job_id, form = self.context.region, self.job_id, Form(columns=2)
        form.add("kind", say("&What"), ChoiceField(visits(), "delivery"))
        form.add("on", say("&Day"), DayField(region), required=say("Write the day."))
        form.add("at", say("&Hour"), TextField("9:00"), required=say("Write the hour, such as 9:30."))
        form.add("place", say("&Place"), TextField())
        form.add("note", say("N&ote"), TextField(), wide=True)

        def save(values: dict[str, Any]) -> None:
            try:
                at = read_hour(values["at"])
                draft = AppointmentDraft(
                    kind=values["kind"], day=values["on"], minute=at.hour * 60 + at.minute, job_id=job_id,
                    place=values["place"], note=values["note"],
                )  # fmt: skip
            except Problem as problem:
                form.show_problem(problem)
                return
            self.act(
                lambda seat: appointments.appoint(seat, draft),
                lambda _key: self.context.tell(say("The appointment is made.")),
                changes=["plan"],
            )

        form.on_save(say("&Make it"), save, icon_name="tick")
        self.open_form(say("An appointment"), form)

    def call_off(self) -> None:
        """Calls the next appointment of this job off."""
        if self.job is None or not self.job.life.appointments:
            return
        row = self.job.life.appointments[0]
        when = hour_words(self.context.region, row)
        if self.context.dialogs.confirm(
            say("Call it off"), say("Call off the appointment on {when}?", when=when), say("Call it off")
        ):
            self.act(
                lambda seat: appointments.call_off(seat, row.id),
                lambda _none: self.context.tell(say("The appointment is called off.")),
            )

    def begin_question(self) -> None:
        """The form of what a customer questions; letters and storage stand still meanwhile."""
        job_id, form = self.job_id, Form()
        form.add("what", say("&What they question, in their words"), NoteField(lines=2),
                 required=say("Write what the customer questions, in their words."))  # fmt: skip
        form.on_save(
            say("&Write it down"),
            lambda values: self.act(
                lambda seat: questions.raise_question(seat, job_id, values["what"]),
                lambda _key: self.context.tell(say("It is written down. No letter goes out meanwhile.")),
            ),
        )
        self.open_form(say("They question the job or its bill"), form)

    def begin_close(self) -> None:
        if self.job is None or self.job.life.question is None:
            return
        question, form = self.job.life.question, Form()
        form.add("outcome", say("What &came of it"), NoteField(lines=2),
                 required=say("Write what came of it."))  # fmt: skip
        form.on_save(
            say("&Close it"),
            lambda values: self.act(
                lambda seat: questions.close_question(seat, question.id, values["outcome"]),
                lambda _none: self.context.tell(say("The question is closed.")),
            ),
        )
        self.open_form(say("Close the question"), form, [Words(question.what)])

    def begin_withdrawal(self) -> None:
        """Reckons first, so that the desk can say what it comes to before anything is recorded."""
        job_id = self.job_id
        self.page.ask(lambda seat: withdrawals.reckon(seat, job_id), self._show_reckoned, key="withdrawal")

    def begin_comeback(self) -> None:
        """The form of a range that comes back; free within the warranty unless somebody says otherwise."""
        if self.job is None:
            return
        found, head, standing = self.job.head.found, self.job.head, self.job.life.warranty
        form = Form()
        form.add("complaint", say("&What is wrong, in their words"), NoteField(lines=2),
                 required=say("Write what is wrong, in their words."))  # fmt: skip
        form.add("free", "", TickField(say("At no &charge"), standing.standing))
        form.add("why", say("Wh&y, where the warranty has run out"), TextField())

        def save(values: dict[str, Any]) -> None:
            draft = JobDraft(customer_id=head.customer_id, complaint=values["complaint"], scope=head.scope)
            self.act(
                lambda seat: warranty.come_back(
                    seat, found.range_id, draft, free=values["free"], why=values["why"]
                ),
                lambda taken: self.context.tell(
                    say("{number} is booked in again.", number=taken.number), say("Show it"),
                    lambda: self.context.go("counter", job_id=taken.job_id),
                ),
                changes=["ranges"],
            )  # fmt: skip

        form.on_save(say("&Book it in again"), save, icon_name="tick")
        about = Words(warranty_words(self.context.region, self.job))
        self.open_form(say("It came back"), form, [about])

    def _show_reckoned(self, account: Withdrawal) -> None:
        job_id, region, form = self.job_id, self.context.region, Form()
        form.add("why", say("&Why, in their words"), NoteField(lines=2),
                 required=say("Write why they withdraw, in their words."))  # fmt: skip
        form.on_save(
            say("&Record the withdrawal"),
            lambda values: self.act(
                lambda seat: withdrawals.withdraw(seat, job_id, values["why"]),
                lambda key: self.context.tell(
                    say("The withdrawal is recorded; its bill is written and can be issued.")
                    if key
                    else say("The withdrawal is recorded; nothing is owed.")
                ),
                changes=["ranges"],
            ),
        )  # fmt: skip
        lines = LinesView(say("What is owed for what was done"))
        lines.show_lines(region, account.lines, withdrawals.sums_of(account), adjustments=account.adjustments)
        self.open_form(say("They withdraw"), form, [Words(withdrawal_words(region, account)), lines])


def visits() -> list[tuple[str, str]]:
    return [
        ("pick-up", say("They fetch it")),
        ("delivery", say("We bring it")),
        ("home visit", say("A visit at home")),
        ("viewing", say("A viewing")),
    ]


def read_hour(typed: str) -> dt.time:
    """An hour such as 9, 9:30 or 14.15."""
    hour, _, minute = typed.strip().replace(".", ":").partition(":")
    if hour.isdigit() and (minute or "0").isdigit() and int(hour) < 24 and int(minute or 0) < 60:
        return dt.time(int(hour), int(minute or 0))
    raise Problem("“{typed}” is no hour. Write it like 9:30.", typed=typed.strip(), field="at")


def hour_words(region: Region, row: AppointmentRow) -> str:
    """The day and the hour of an appointment."""
    hour, minute = divmod(row.minute, 60)
    return say("{day}, {hour}", day=region.day(row.day), hour=f"{hour}:{minute:02d}")


def life_words(region: Region, job: JobAtCounter) -> list[str]:
    """What stands, a sentence each."""
    life, said = job.life, []
    if life.came_back is not None:
        said.append(
            say("It came back and is done at no charge.") if life.came_back.free else say("It came back.")
        )
    said += [
        say("{what} on {when}{where}.", what=dict(visits())[row.kind], when=hour_words(region, row),
            where=f", {row.place}" if row.place else "")
        for row in life.appointments
    ]  # fmt: skip
    if life.question is not None:
        said.append(
            say("They question it since {day}: {what} Answer by {by}.",
                day=region.day(life.question.raised_on), what=life.question.what.rstrip(".") + ".",
                by=region.day(life.question.answer_by))
        )  # fmt: skip
    if life.storage.days:
        said.append(
            say("Storage of {count} days is not billed yet: {amount}.", count=life.storage.days,
                amount=region.money(life.storage.cents))
        )  # fmt: skip
    if life.warranty.until is not None:
        said.append(warranty_words(region, job))
    return said or [say("No visit is planned and nothing is questioned.")]


def warranty_words(region: Region, job: JobAtCounter) -> str:
    standing = job.life.warranty
    if standing.until is None:
        return say("No warranty was promised.")
    day = region.day(standing.until)
    if standing.standing:
        return say("The warranty runs until {day}.", day=day)
    return say("The warranty ran out on {day}.", day=day)


def withdrawal_words(region: Region, account: Withdrawal) -> str:
    """What it comes to, in the order in which one would say it on the telephone."""
    said = [say("Owed for what was done: {amount}, with tax.", amount=region.money(account.owed_cents))]
    if account.open_cents:
        said.append(say("Open on earlier bills: {amount}.", amount=region.money(account.open_cents)))
    if account.held_cents:
        said.append(say("Held for them: {amount}.", amount=region.money(account.held_cents)))
    if account.to_give_back:
        said.append(say("We give back {amount}.", amount=region.money(account.to_give_back)))
    else:
        said.append(say("They still pay {amount}.", amount=region.money(account.to_pay)))
    if account.pieces:
        said.append(say("Goes back with it: {pieces}.", pieces="; ".join(account.pieces)))
    return " ".join(said)
