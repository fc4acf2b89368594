"""The form of a range that comes in, or that is looked over elsewhere: whose it is, what for, what it is.

What is typed is kept as a draft until the range stands in the shop.
"""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget

from shopdesk.domain.catalogue.model import Purpose
from shopdesk.services.people import PartyRow, parties
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.range_form.booking_draft import Booking, book, purposes
from shopdesk.ui.pages.range_form.customer_field import CustomerField
from shopdesk.ui.pages.range_form.form import RangeForm
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.buttons import QuietButton
from shopdesk.ui.widgets.fields import ChoiceField, DayField, MoneyField, NoteField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading, Note
from shopdesk.wording import say

MOST_FOUND = 8  # people offered while a name is typed


class BookingForm(QWidget):
    """`booked` carries what stands in the shop now; `left` is the way back without it."""

    booked = Signal(object)  # Booked
    left = Signal()
    afresh = Signal()  # the form is wanted empty

    def __init__(self, page: Page, *, booked_in: bool, back: str) -> None:
        """`booked_in` False: it stands elsewhere and is walked round; `back` names the way back."""
        super().__init__()
        self._page = page
        self.booked_in = booked_in
        self.customer = CustomerField(self._find, _nobody(booked_in))
        self.range_form = RangeForm(page.context.region, before=self._ask_job)
        self.form = self.range_form.form
        self.form.on_save(_deed(booked_in), self._save, icon_name="add" if booked_in else "walk-round")
        self.form.add_button(QuietButton(say("Start afresh"), self._start_afresh))
        self.form.add_button(QuietButton(back, self.left.emit, icon_name="back"))
        self.form.remember(page.context.drafts, "range/book in" if booked_in else "range/look over")
        self.range_form.follow()
        head = level([Heading(_title(booked_in), "head"), STRETCH])
        box = upright([head, Note(_guide(booked_in)), self.range_form], margin="wide")
        box.setStretchFactor(self.range_form, 1)
        self.setLayout(box)
        QShortcut(QKeySequence("Esc"), self).activated.connect(self.left)

    def focusFirst(self) -> None:
        self.form.focusFirst()

    # Inside

    def _ask_job(self, form: Form) -> None:
        region = self._page.context.region
        form.heading(say("Customer") if self.booked_in else say("Whose it is"))
        form.add("customer", say("&Name"), self.customer, wide=True)
        form.heading(say("What is wanted"))
        usual = Purpose.FULL if self.booked_in else Purpose.RESALE
        form.add("purpose", say("&Purpose"), ChoiceField(purposes(), usual))
        if self.booked_in:
            form.add(
                "promised_on", say("P&romised for"), DayField(region), note=say("Only if a day was given.")
            )
        else:
            form.add("asking", say("Asking price"), MoneyField(region))
        told = (
            say("The customer’s account of the &trouble")
            if self.booked_in
            else say("What its owner says of it, and where it stands")
        )
        form.add("complaint", told, NoteField(lines=3), wide=True)

    def _find(self, words: str, then: Callable[[list[PartyRow]], None]) -> None:
        self._page.context.ask(
            lambda seat: parties(seat, words, kind="customer", limit=MOST_FOUND), then,
            key=f"customers/{id(self)}", owner=self,
        )  # fmt: skip

    def _save(self, values: dict[str, Any]) -> None:
        booking = Booking(
            range_=self.range_form.draft_of(values),
            customer=values["customer"],
            purpose=values["purpose"],
            complaint=values["complaint"],
            asking_cents=values.get("asking"),
            promised_on=values.get("promised_on"),
            booked_in=self.booked_in,
        )
        self._page.context.do(
            lambda seat: book(seat, booking), self._stands, self.form.show_problem,
            changes=["jobs", "ranges", "people", "papers"], owner=self,
        )  # fmt: skip

    def _start_afresh(self) -> None:
        """Drops what was typed."""
        self.form.saved()
        self.afresh.emit()

    def _stands(self, result: object) -> None:
        self.form.saved()
        self.booked.emit(result)


def _title(booked_in: bool) -> str:
    return say("Book a range in") if booked_in else say("A range to look over")


def _deed(booked_in: bool) -> str:
    return say("Book it in") if booked_in else say("Write it down and walk round")


def _guide(booked_in: bool) -> str:
    if booked_in:
        return say("Write what is known now; the rest can be added in the jacket. Ctrl+Return books it in.")
    return say("A range that stands elsewhere. It is written down and walked round, but not booked in.")


def _nobody(booked_in: bool) -> str:
    if booked_in:
        return say("Left empty, the range is the shop’s own.")
    return say("Left empty, the shop thinks of buying it.")
