"""Customers at the Counter: found, written down, corrected, and what each has here."""

import datetime as dt
from collections.abc import Callable
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from shopdesk.services import intake, people
from shopdesk.services.people import PartyDraft
from shopdesk.services.pricing import exempt
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.people import Party
from shopdesk.ui.context import Context
from shopdesk.ui.pages.counter.customers import Customers
from shopdesk.ui.pages.counter.page import CounterPage

Settled = Callable[[], None]


@pytest.fixture
def page(seat: Seat, context: Context, settled: Settled, qtbot: QtBot) -> CounterPage:
    people.keep_party(seat, PartyDraft(name="Hesper Dunmarrow", phone="555 0114", town="Ferrow"))
    people.keep_party(seat, PartyDraft(name="Lustrewick Platers", is_firm=True, trade="plater"))
    made = CounterPage(context)
    qtbot.addWidget(made)
    context.changed.connect(made.refresh)
    made.resize(1200, 900)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.refresh(CounterPage.everything)
    made.tabs.setCurrentWidget(made.customers)
    settled()
    return made


def _names(customers: Customers) -> list[str]:
    table = customers.list.model
    return [table.row(place).title for place in range(table.rowCount())]


def _fill(form: Any, **typed: Any) -> None:
    for name, value in typed.items():
        form[name].setTyped(value)
        form[name].edited.emit()


def _problem(form: Any, name: str) -> str:
    return str(form._entries[name].problem.text())


def test_firms_of_other_trades_are_not_customers_and_scraps_find(
    page: CounterPage, settled: Settled, qtbot: QtBot
) -> None:
    assert page.customers.search.hasFocus()
    assert _names(page.customers) == ["Hesper Dunmarrow"]
    qtbot.keyClicks(page.customers.search, "0114 ferr")
    qtbot.wait(200)
    settled()
    assert _names(page.customers) == ["Hesper Dunmarrow"]
    page.customers.search.setText("nobody")
    qtbot.waitUntil(lambda: _names(page.customers) == [])
    assert "Nobody is like that" in page.customers.list.empty._words.text()


def test_a_new_customer_is_explained_kept_and_chosen(page: CounterPage, seat: Seat, settled: Settled) -> None:
    customers = page.customers
    customers.begin_new()
    customers.form.submit()
    assert "surname" in _problem(customers.form, "name")
    _fill(customers.form, name="Ruiz & Søn <b>", email="nowhere", exempt_until="never")
    customers.form.submit()
    assert _problem(customers.form, "exempt_until")
    until = seat.today + dt.timedelta(days=10)
    _fill(customers.form, exempt_until=seat.region.day(until), exempt_certificate="EX 12")
    customers.form.submit()
    settled()
    assert "not an e-mail address" in _problem(customers.form, "email")
    assert customers.form["name"].typed() == "Ruiz & Søn <b>"
    _fill(customers.form, email="")
    customers.form.submit()
    settled()
    settled()
    assert _names(customers) == ["Hesper Dunmarrow", "Ruiz & Søn <b>"]
    assert customers.heading.text() == "Ruiz & Søn <b>"
    row = next(row for row in people.parties(seat) if row.name.startswith("Ruiz"))
    assert people.party_draft(seat, row.id).exempt_until == until
    with seat.look() as session:
        assert exempt(seat, session.get_one(Party, row.id))


def test_a_correction_keeps_what_the_form_does_not_ask(
    page: CounterPage, seat: Seat, settled: Settled
) -> None:
    row = people.parties(seat, kind="customer")[0]
    page.customers.list.select(row.id)
    settled()
    _fill(page.customers.form, phone="555 0199")
    page.customers.form.submit()
    settled()
    kept = people.party_draft(seat, row.id)
    assert (kept.phone, kept.town, kept.name) == ("555 0199", "Ferrow", "Hesper Dunmarrow")
    assert page.customers.list.current().second.startswith("555 0199")


def test_half_a_customer_is_still_there_after_looking_at_another(
    page: CounterPage, seat: Seat, settled: Settled
) -> None:
    page.customers.begin_new()
    _fill(page.customers.form, name="Half a na")
    page.customers.list.select(people.parties(seat, kind="customer")[0].id)
    settled()
    assert page.customers.form["name"].typed() == "Hesper Dunmarrow"
    page.customers.begin_new()
    assert page.customers.form["name"].typed() == "Half a na"


def test_what_a_customer_has_here_leads_to_the_job(page: CounterPage, seat: Seat, settled: Settled) -> None:
    row = people.parties(seat, kind="customer")[0]
    taken = intake.take_on(seat, intake.RangeDraft(maker="Tilmont"), intake.JobDraft(customer_id=row.id))
    page.open_on(customer_id=row.id)
    settled()
    settled()
    here = page.customers.here
    assert [here.model.row(n).key for n in range(here.model.rowCount())] == [taken.job_id]
    here.opened.emit(taken.job_id)
    settled()
    settled()
    assert page.tabs.currentIndex() == 0
    assert page.sheet.job.head.found.job_id == taken.job_id
