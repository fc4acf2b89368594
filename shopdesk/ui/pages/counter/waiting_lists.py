"""Lists across all jobs: quotes without an answer, change orders, what is owed by age, money held."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Signal

from shopdesk.services import (
    change_orders,
    counter,
    invoices,
    letters,
    payments,
    questions,
    statements,
)
from shopdesk.services.change_orders import ChangeRow
from shopdesk.services.invoices import InvoiceRow
from shopdesk.services.letters import DueLetter
from shopdesk.services.payments import HeldMoney
from shopdesk.services.planning import appointments
from shopdesk.services.planning.appointments import AppointmentRow
from shopdesk.services.questions import Question
from shopdesk.services.quotes import QuoteRow
from shopdesk.services.seat import Seat
from shopdesk.services.statements import Owing, age_names
from shopdesk.ui.pages.counter.letters_list import LettersList
from shopdesk.ui.pages.counter.life_section import hour_words, visits
from shopdesk.ui.pages.counter.shown import held_strip, open_change_strip, open_quote_strip, owing_strip
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.boxes import STRETCH, upright
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.wording import Region, say, say_n

_MOST = 6
_AGES = (30, 60, 90)  # days past due; common practice, no source


@dataclass(frozen=True, slots=True)
class Waits:
    """What waits and what is owed, over all jobs."""

    quotes: list[QuoteRow]
    changes: list[ChangeRow]
    owing: list[InvoiceRow]
    held: list[HeldMoney]
    letters: list[DueLetter]
    owing_people: list[Owing]
    questions: list[Question]
    visits: list[AppointmentRow]


def what_waits(seat: Seat) -> Waits:
    owing = invoices.invoices(seat, owing=True, limit=1000)
    return Waits(
        counter.unanswered(seat),
        change_orders.change_orders(seat, waiting=True),
        sorted(owing, key=lambda row: (row.due_on or seat.today, row.id)),
        payments.held_money(seat),
        letters.due_letters(seat),
        statements.owed_by_age(seat),
        questions.questions(seat, open_only=True),
        appointments.appointments(seat),
    )


def by_age(region: Region, today: dt.date, rows: Sequence[InvoiceRow]) -> str:
    """What is owed in one sentence, by how long it is past due."""
    if not rows:
        return say("Nothing is owed.")
    sums = [0] * (len(_AGES) + 2)
    for row in rows:
        late = (today - row.due_on).days if row.due_on else 0
        place = 0 if late <= 0 else 1 + sum(late > age for age in _AGES)
        sums[place] += row.open_cents
    names = (
        say("not due yet"), say("past due up to 30 days"), say("past due 31 to 60 days"),
        say("past due 61 to 90 days"), say("past due more than 90 days"),
    )  # fmt: skip
    told = [f"{name}: {region.money(cents)}" for cents, name in zip(sums, names, strict=True) if cents]
    whole = region.money(sum(row.open_cents for row in rows))
    return say("{amount} is owed; {parts}.", amount=whole, parts="; ".join(told))


class WaitingLists(PageScroll):
    """`jobAsked` names a job and the section of it that the row is about, `customerAsked` a customer."""

    jobAsked = Signal(int, str)
    customerAsked = Signal(int)

    def __init__(self, page: Page) -> None:
        self._page = page
        self.quotes = _list(say("Quotes without an answer"), say("No quote waits for an answer."))
        self.changes = _list(say("Change orders that wait"), say("No change order waits."))
        self.owing = _list(say("Invoices not settled"), say("No invoice is open."))
        self.held = _list(say("Money held"), say("No money is held for a customer."))
        self.people = _list(say("Who owes what"), say("Nobody owes anything."))
        self.people.opened.connect(lambda key: self.customerAsked.emit(int(key)))
        self.letters = LettersList(page)
        self.questions = _list(say("Open questions"), say("Nobody questions a job or a bill."))
        self.visits = _list(say("Appointments to come"), say("No appointment is made."))
        self.told = {name: Words("", "body", "muted") for name in ("quotes", "changes", "owing", "held")}
        parts = []
        for name, title, strips, section in (
            ("quotes", say("Quotes without an answer"), self.quotes, "quotes"),
            ("changes", say("Change orders that wait"), self.changes, "changes"),
            ("owing", say("Invoices not settled"), self.owing, "payments"),
            ("held", say("Money held"), self.held, "payments"),
        ):
            strips.opened.connect(lambda key, section=section: self._open(key, section))
            parts.append(upright([Heading(title), self.told[name], strips], gap="small"))
        parts.insert(3, upright([Heading(say("Who owes what")), self.people], gap="small"))
        parts.insert(4, upright([Heading(say("Letters that are due")), self.letters], gap="small"))
        for title, strips in (
            (say("Open questions"), self.questions),
            (say("Appointments to come"), self.visits),
        ):
            strips.opened.connect(self._open_life)
            parts.append(upright([Heading(title), strips], gap="small"))
        super().__init__(upright([*parts, STRETCH], gap="wide", margin="gap"))

    def ask(self) -> None:
        self._page.ask(what_waits, self._show, key="waits")

    def focusFirst(self) -> None:
        lists = (self.quotes, self.changes, self.owing, self.people, self.letters.list, self.held)
        for strips in lists:
            if strips.model.rowCount():
                strips.focusFirst()
                return

    def _show(self, waits: Waits) -> None:
        region, today = self._page.context.region, self._page.context.seat.today
        self.quotes.show_rows([_keyed(row.id, open_quote_strip(region, today, row)) for row in waits.quotes])
        self.changes.show_rows(
            [_keyed(row.id, open_change_strip(region, today, row)) for row in waits.changes]
        )
        self.owing.show_rows([_keyed(row.id, owing_strip(region, today, row)) for row in waits.owing])
        self.held.show_rows([_keyed(row.party_id, held_strip(region, today, row)) for row in waits.held])
        self.people.show_rows([owing_person_strip(region, today, row) for row in waits.owing_people])
        self.letters.show_due(waits.letters)
        self.questions.show_rows([question_strip(region, today, row) for row in waits.questions])
        self.visits.show_rows([visit_strip(region, row) for row in waits.visits])
        asked = sum(row.gross_cents for row in waits.quotes)
        self._tell("quotes", say_n("{count} quote over {amount}.", "{count} quotes over {amount}.",
                                   len(waits.quotes), amount=region.money(asked)), waits.quotes)  # fmt: skip
        asked = sum(1 for row in waits.changes if row.standing == "open")
        text = say("{count} to be priced, {asked} without an answer.", count=len(waits.changes) - asked,
                   asked=asked)  # fmt: skip
        self._tell("changes", text, waits.changes)
        self._tell("owing", by_age(region, today, waits.owing), waits.owing)
        held = sum(row.held_cents for row in waits.held)
        self._tell("held", say("{amount} is held and not yet set against an invoice.",
                               amount=region.money(held)), waits.held)  # fmt: skip

    def _tell(self, name: str, text: str, rows: Sequence[object]) -> None:
        self.told[name].setText(text)
        self.told[name].setVisible(bool(rows))

    def _open_life(self, key: object) -> None:
        """A visit that is about no job leads nowhere."""
        if isinstance(key, tuple) and key[1] is not None:
            self._open(key, "life")

    def _open(self, key: object, section: str) -> None:
        """Keys are (record, job); money kept for a customer alone has no job, its record is the customer."""
        assert isinstance(key, tuple), "keys of these lists are pairs"
        record, job_id = key
        if job_id is None:
            self.customerAsked.emit(int(record))
        else:
            self.jobAsked.emit(int(job_id), section)


def _keyed(record: int, strip: Strip) -> Strip:
    """Two rows may be about one job; the record's own key tells them apart."""
    return Strip((record, strip.key), strip.title, strip.second, strip.right, strip.below, strip.tone)


def _list(name: str, empty: str) -> StripList:
    return StripList(name, empty=empty, most=_MOST)


def owing_person_strip(region: Region, today: dt.date, row: Owing) -> Strip:
    """A customer with what they owe by age, the telephone beside the name."""
    ages = [
        f"{name}: {region.money(cents)}" for name, cents in zip(age_names(), row.ages, strict=True) if cents
    ]
    late = row.oldest_due is not None and row.oldest_due < today
    held = say("{amount} held", amount=region.money(row.held_cents)) if row.held_cents else ""
    title = ", ".join(word for word in (row.customer, row.phone) if word)
    return Strip(row.party_id, title, "; ".join(ages), region.money(row.owed_cents), held,
                 "problem" if late else "muted")  # fmt: skip


def question_strip(region: Region, today: dt.date, row: Question) -> Strip:
    late = row.answer_by < today
    by = say("answer by {day}", day=region.day_short(row.answer_by, today))
    return Strip((row.id, row.job_id), f"{row.customer}  {row.range_number}", row.what, by,
                 say("late") if late else "", "problem" if late else "muted")  # fmt: skip


def visit_strip(region: Region, row: AppointmentRow) -> Strip:
    what = dict(visits())[row.kind]
    where = ", ".join(word for word in (row.place, row.note) if word)
    whom = "  ".join(word for word in (what, row.who, row.number) if word)
    return Strip((row.id, row.job_id), whom, where,
                 hour_words(region, row))  # fmt: skip
