"""Lists across all jobs: quotes without an answer, change orders, what is owed by age, money held."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Signal

from shopdesk.services import change_orders, counter, invoices, payments
from shopdesk.services.change_orders import ChangeRow
from shopdesk.services.invoices import InvoiceRow
from shopdesk.services.payments import HeldMoney
from shopdesk.services.quotes import QuoteRow
from shopdesk.services.seat import Seat
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


def what_waits(seat: Seat) -> Waits:
    owing = invoices.invoices(seat, owing=True, limit=1000)
    return Waits(
        counter.unanswered(seat),
        change_orders.change_orders(seat, waiting=True),
        sorted(owing, key=lambda row: (row.due_on or seat.today, row.id)),
        payments.held_money(seat),
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
        super().__init__(upright([*parts, STRETCH], gap="wide", margin="gap"))

    def ask(self) -> None:
        self._page.ask(what_waits, self._show, key="waits")

    def focusFirst(self) -> None:
        for strips in (self.quotes, self.changes, self.owing, self.held):
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
