"""Booking a range in: the draft without widgets, the customer who is found or new, and the form."""

import datetime as dt
from collections.abc import Callable
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from shopdesk.domain.catalogue.model import Purpose
from shopdesk.domain.problem import Problem
from shopdesk.domain.stage import Stage
from shopdesk.services import people
from shopdesk.services.floor import floor
from shopdesk.services.intake import RangeDraft
from shopdesk.services.jacket import jacket
from shopdesk.services.papers.keeping import papers
from shopdesk.services.seat import Seat
from shopdesk.ui.context import Context
from shopdesk.ui.pages.floor.page import FloorPage
from shopdesk.ui.pages.range_form.booking import BookingForm
from shopdesk.ui.pages.range_form.booking_draft import Booking, Customer, book

Settled = Callable[[], None]


@pytest.fixture
def known(seat: Seat) -> int:
    return people.keep_party(
        seat, people.PartyDraft(name="Ines Quillmark", phone="555 0111", town="Quarrel Bend")
    )


@pytest.fixture
def page(context: Context, settled: Settled, qtbot: QtBot) -> FloorPage:
    made = FloorPage(context)
    qtbot.addWidget(made)
    made.resize(1100, 800)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.refresh(FloorPage.everything)
    settled()
    return made


@pytest.fixture
def form(page: FloorPage) -> BookingForm:
    page.book_in()
    assert page.booking is not None
    return page.booking


def _new(name: str, phone: str = "") -> Customer:
    return Customer(None, people.PartyDraft(name=name, phone=phone))


def test_a_day_that_asks_nothing_takes_no_room(
    qtbot: QtBot, context: Context, settled: Callable[[], None]
) -> None:
    page = FloorPage(context)
    qtbot.addWidget(page)
    page.refresh(FloorPage.everything)
    settled()
    assert page.day.isHidden()


def test_an_empty_floor_offers_the_first_range(
    context: Context, settled: Settled, qtbot: QtBot, unnamed: Callable[[QWidget], list[Any]]
) -> None:
    page = FloorPage(context)
    qtbot.addWidget(page)
    page.show()
    page.refresh(FloorPage.everything)
    settled()
    assert page.list.empty.isVisible()
    assert page.list.empty.button is not None
    page.list.empty.button.click()
    assert page.booking is not None
    assert page.booking.isVisible()
    assert not unnamed(page)


def test_a_new_customer_is_written_down_with_the_range_and_gets_a_receipt(seat: Seat) -> None:
    booked = book(seat, Booking(range_=RangeDraft(maker="Corvane"), customer=_new("Alder Pennyfeather", "1")))
    found = jacket(seat, booked.taken.range_id)
    assert found.customer == "Alder Pennyfeather"
    assert found.stage is Stage.BOOKED_IN
    assert [p.number for p in papers(seat, kind="intake receipt")] == [booked.receipt]


def test_a_second_try_does_not_double_the_customer(seat: Seat) -> None:
    for _ in range(2):
        book(seat, Booking(range_=RangeDraft(), customer=_new("Alder Pennyfeather", "1")))
    assert len(people.parties(seat, "Alder")) == 1
    book(seat, Booking(range_=RangeDraft(), customer=_new("Alder Pennyfeather", "another number")))
    assert len(people.parties(seat, "Alder")) == 2


def test_a_range_of_the_shops_own_gets_no_receipt(seat: Seat) -> None:
    booked = book(seat, Booking(range_=RangeDraft(), purpose=Purpose.RESALE))
    assert booked.receipt == ""
    assert floor(seat)[0].customer == ""


def test_a_promise_in_the_past_is_refused_beside_its_field(seat: Seat) -> None:
    yesterday = seat.today - dt.timedelta(days=1)
    with pytest.raises(Problem, match="past already") as refused:
        book(seat, Booking(range_=RangeDraft(), customer=_new("A"), promised_on=yesterday))
    assert refused.value.field == "promised_on"
    assert people.parties(seat) == []


@pytest.mark.qt_log_ignore("This plugin does not support", extend=True)  # of the list under the field
def test_typing_a_name_offers_who_is_known_and_return_takes_them(
    known: int, form: BookingForm, settled: Settled, qtbot: QtBot
) -> None:
    field = form.customer
    qtbot.keyClicks(field.name, "quill")
    qtbot.waitUntil(lambda: field.completer.popup().isVisible())
    qtbot.keyClick(field.completer.popup(), Qt.Key.Key_Down)
    qtbot.keyClick(field.completer.popup(), Qt.Key.Key_Return)
    value = field.value()
    assert value is not None
    assert (value.party_id, value.written.name, value.written.phone) == (known, "Ines Quillmark", "555 0111")
    assert field.rest["phone"].isReadOnly()
    assert field.standing.text() == "Known to the shop."
    qtbot.keyClicks(field.name, "s")
    assert field.value().party_id is None
    assert field.rest["phone"].text() == ""
    settled()


def test_a_telephone_without_a_name_is_refused(form: BookingForm, qtbot: QtBot) -> None:
    qtbot.keyClicks(form.customer.rest["phone"], "555")
    assert form.form.values() is None
    assert form.customer.name.hasFocus()


def test_ctrl_return_books_in_and_shows_the_receipt(
    page: FloorPage, form: BookingForm, seat: Seat, context: Context, settled: Settled, qtbot: QtBot
) -> None:
    qtbot.keyClicks(form.customer.name, "Noor Castellane")
    form.form["maker"].setFocus()
    qtbot.keyClicks(form.form["maker"], "Tilmont")
    qtbot.keyClicks(form.form["complaint"], "Smells of gas near the oven.")
    form.form["burners"].setValue(6)
    with qtbot.waitSignal(context.paperAsked, timeout=10_000) as shown:
        qtbot.keyClick(form.form["maker"], Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    settled()
    assert shown.args[0].startswith(b"%PDF")
    row = floor(seat)[0]
    assert (row.maker, row.customer, row.build.burners) == ("Tilmont", "Noor Castellane", 6)
    assert jacket(seat, row.range_id).complaint == "Smells of gas near the oven."
    assert page.booking is None
    assert context.drafts.kept("floor/book in") == {}


def test_what_was_typed_is_there_again_until_one_starts_afresh(
    page: FloorPage, form: BookingForm, qtbot: QtBot
) -> None:
    qtbot.keyClicks(form.customer.name, "Noor")
    qtbot.keyClicks(form.form["maker"], "Tilmont")
    qtbot.keyClick(form.form["maker"], Qt.Key.Key_Escape)
    assert page.booking is None
    page.book_in()
    again: Any = page.booking
    assert again.form["maker"].text() == "Tilmont"
    assert again.customer.name.text() == "Noor"
    again.afresh.emit()
    again._start_afresh()
    assert page.booking is not again
    assert page.booking is not None
    assert page.booking.form["maker"].text() == ""


def test_a_wrong_day_is_explained_beside_its_field_and_nothing_is_written(
    form: BookingForm, seat: Seat, settled: Settled, qtbot: QtBot
) -> None:
    qtbot.keyClicks(form.form["promised_on"], "someday")
    form.form.submit()
    settled()
    assert form.form["promised_on"].hasFocus()
    assert "not a date" in form.form["promised_on"].accessibleDescription()
    assert floor(seat) == []


def test_looking_one_over_is_done_at_the_walk_round(page: FloorPage, seat: Seat, context: Context) -> None:
    asked: list[Any] = []
    context.placeAsked.connect(lambda place, what: asked.append((place, what)))
    page.look_button.click()
    assert asked == [("walk-round", {"look_over": True})]
    assert page.booking is None


def test_every_control_of_the_form_has_a_name(
    form: BookingForm, unnamed: Callable[[QWidget], list[Any]]
) -> None:
    assert not unnamed(form)
