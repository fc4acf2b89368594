"""The Counter on a real shop: jobs by any scrap, quotes, consent, invoices, money, hand-over, what waits."""

import datetime as dt
import shutil
from collections.abc import Callable, Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from counter_shop import make_counter_shop
from fixed_clock import FixedClock
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot
from shop_at_work import ShopAtWork

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.money import Spread
from shopdesk.domain.rights import Role
from shopdesk.domain.stage import Stage
from shopdesk.services import (
    bench,
    change_orders,
    counter,
    intake,
    invoices,
    payments,
    people,
    quotes,
    shops,
    taxes,
)
from shopdesk.services.jacket import jacket
from shopdesk.services.seat import Seat, open_shop
from shopdesk.ui.context import Context
from shopdesk.ui.pages.counter.page import CounterPage
from shopdesk.ui.pages.counter.waiting_lists import by_age
from shopdesk.ui.widgets.strip_list import Strip, StripList

Settled = Callable[[], None]


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory, _new_shop_file: Path) -> tuple[Path, ShopAtWork]:
    """The shop of these tests, made once and closed."""
    place = tmp_path_factory.mktemp("counter-shop") / "shop.db"
    shutil.copyfile(_new_shop_file, place)
    seat = open_shop(place, FixedClock())
    work = make_counter_shop(seat)
    seat.file.close()
    return place, work


@pytest.fixture
def seat(made: tuple[Path, ShopAtWork], tmp_path: Path, clock: FixedClock) -> Iterator[Seat]:
    """The owner's seat at a copy of it."""
    place = tmp_path / "shop.db"
    shutil.copyfile(made[0], place)
    opened = open_shop(place, clock)
    yield opened
    opened.file.close()


@pytest.fixture
def work(made: tuple[Path, ShopAtWork]) -> ShopAtWork:
    return made[1]


@pytest.fixture
def page(work: ShopAtWork, context: Context, settled: Settled, qtbot: QtBot) -> CounterPage:
    made = CounterPage(context)
    qtbot.addWidget(made)
    context.changed.connect(made.refresh)
    made.resize(1200, 800)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.refresh(CounterPage.everything)
    settled()
    return made


@pytest.fixture
def shown_papers(context: Context) -> list[tuple[bytes, str]]:
    """Every paper the page had shown."""
    papers: list[tuple[bytes, str]] = []
    context.paperAsked.connect(lambda pdf, title, _name: papers.append((pdf, title)))
    return papers


def _show(page: CounterPage, job_id: int, settled: Settled) -> None:
    page.show_job(job_id)
    settled()


def _strips(table: StripList) -> list[Strip]:
    return [table.model.row(place) for place in range(table.model.rowCount())]


def _fill(form: Any, **typed: Any) -> None:
    for name, value in typed.items():
        form[name].setTyped(value)
        form[name].edited.emit()


def _problem(form: Any, name: str) -> str:
    return str(form._entries[name].problem.text())


def test_a_job_is_found_by_a_scrap_and_stands_there_at_once(
    page: CounterPage, work: ShopAtWork, settled: Settled, qtbot: QtBot
) -> None:
    page.focusFirst()
    assert page.jobs.search.hasFocus()
    for words in ("hollim", work.waiting.number.lower(), "owner holl", "q-0002"):
        page.jobs.search.clear()
        qtbot.keyClicks(page.jobs.search, words)
        qtbot.waitUntil(lambda: page.jobs.list.model.rowCount() == 1)
        settled()
        assert page.sheet.name.text().startswith(work.waiting.number), words
    page.jobs.search.setText("5550190")
    qtbot.waitUntil(lambda: page.jobs.list.model.rowCount() == 2)
    page.jobs.search.setText("nobody at all")
    qtbot.waitUntil(lambda: page.jobs.list.model.rowCount() == 0)
    assert page._right.currentWidget() is page.nothing


def test_what_waits_is_said_first_and_leads_to_its_section(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled, qtbot: QtBot
) -> None:
    _show(page, work.waiting.job_id, settled)
    step = page.sheet._steps_box.itemAt(0).widget()
    assert "Q-0002" in step.text()
    assert "no answer yet" in step.text()
    qtbot.mouseClick(step, Qt.MouseButton.LeftButton)
    assert page.sheet.section("quotes").list.view.hasFocus()
    _show(page, work.agreed.job_id, settled)
    said = [page.sheet._steps_box.itemAt(n).widget().text() for n in range(page.sheet._steps_box.count())]
    assert any("deposit" in text for text in said)
    assert any("ready to bill" in text for text in said)


def test_every_line_of_a_quote_stands_with_its_cause_and_the_tax_apart(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled
) -> None:
    taxes.keep_taxes(seat, [taxes.TaxRow("part", seat.today, "Sales tax", "S", Decimal("6.5"))])
    newest = quotes.write_quote(seat, work.waiting.job_id)
    _show(page, work.waiting.job_id, settled)
    section = page.sheet.section("quotes")
    section.list.select(newest)
    view = section.chosen()
    assert view.row.number == "Q-0003"
    lines = _strips(section.lines.list)
    assert len(lines) == len(view.lines)
    assert all(strip.second for strip in lines)
    figures = section.lines.figures.text()
    for cents in (view.totals.without_tax, view.totals.tax, view.totals.with_tax, view.row.deposit_cents):
        assert seat.region.money(cents) in figures
    assert "Sales tax 6.5% on" in figures
    assert seat.region.day(view.row.valid_until) in figures


def test_a_new_quote_shows_every_scope_with_its_price_and_writes_the_chosen_one(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled,
    shown_papers: list[tuple[bytes, str]],
) -> None:  # fmt: skip
    job_id = work.waiting.job_id
    _show(page, job_id, settled)
    section = page.sheet.section("quotes")
    section.begin_quote()
    settled()
    pricing = section.pricing
    assert [strip.key for strip in _strips(pricing.scopes)] == list(Scope)
    assert pricing.scope() is Scope.MECHANICAL
    assert not pricing.standing.isVisible()
    pricing.scopes.select(Scope.SHOW)
    price = pricing.scopes.current().right
    assert pricing.standing.isVisible()
    assert price in pricing.lines.figures.text()
    _fill(pricing.form, deposit="500")
    pricing.preview()
    settled()
    assert shown_papers[-1][0].startswith(b"%PDF")
    assert len(quotes.quotes(seat, job_id=job_id)) == 1
    pricing.form.submit()
    settled()
    written = quotes.quotes(seat, job_id=job_id)[0]
    assert (written.scope, written.deposit_cents) == ("show", 50_000)
    assert seat.region.money(written.gross_cents) == price
    assert section.chosen().row.id == written.id
    assert not section.panel.isVisible()
    assert jacket(seat, work.waiting.range_id).scope is Scope.SHOW


def test_the_desk_is_told_that_another_scope_is_not_hers_to_order(
    page: CounterPage, work: ShopAtWork, seat: Seat, context: Context, settled: Settled
) -> None:
    desk = shops.keep_staff(seat, shops.StaffDraft("Ysolde Marchbank", Role.DESK))
    context.take_seat(seat.taken_by(desk))
    _show(page, work.waiting.job_id, settled)
    section = page.sheet.section("quotes")
    section.begin_quote()
    settled()
    section.pricing.scopes.select(Scope.SHOW)
    assert "owner or a technician" in section.pricing.standing.text()
    section.pricing.form.submit()
    settled()
    assert "may not write the work order" in section.form._whole.text()
    assert len(quotes.quotes(seat, job_id=work.waiting.job_id)) == 1
    section.pricing.scopes.select(Scope.MECHANICAL)
    section.pricing.form.submit()
    settled()
    assert len(quotes.quotes(seat, job_id=work.waiting.job_id)) == 2


def test_a_yes_by_telephone_needs_the_number_and_is_then_listed(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled
) -> None:
    _show(page, work.waiting.job_id, settled)
    section = page.sheet.section("quotes")
    section.begin_consent()
    form = section.form
    assert form["who"].value() == "Owner of the Hollimont"
    for way, asked in (("Signed", ()), ("By e-mail", ("kept_text",)), ("By telephone", ("number_called",))):
        _fill(form, how=way)
        assert tuple(n for n in ("number_called", "kept_text") if form[n].isVisible()) == asked
    _fill(form, number_called="", amount="not much")
    form.submit()
    assert "is not an amount" in _problem(form, "amount")
    _fill(form, amount="")
    form.submit()
    assert "Write the amount" in _problem(form, "amount")
    _fill(form, amount="900")
    form.submit()
    settled()
    assert "number called" in _problem(form, "number_called")
    assert form["amount"].typed() == "900"
    _fill(form, number_called="555 0190")
    form.submit()
    settled()
    row = counter.at_counter(seat, work.waiting.job_id).agreements[0]
    assert (row.how, row.number_called, row.amount_cents) == ("telephone", "555 0190", 90_000)
    assert "called 555 0190" in _strips(page.sheet.section("agreements").list)[0].second
    assert not section.agreed_button.isVisible()
    assert page.sheet.job.head.found.stage is Stage.AGREED


def test_a_no_is_asked_for_and_recorded(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled, dialogs: Any
) -> None:
    _show(page, work.waiting.job_id, settled)
    section = page.sheet.section("quotes")
    dialogs.agrees = False
    section.decline()
    settled()
    assert section.chosen().row.answer == "open"
    dialogs.agrees = True
    section.decline()
    settled()
    assert section.chosen().row.answer == "declined"
    assert _strips(section.list)[0].below == "declined"


def test_what_the_bench_found_more_is_priced_and_agreed(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled,
    shown_papers: list[tuple[bytes, str]],
) -> None:  # fmt: skip
    bench.find_more(seat, work.agreed.job_id, "Flue collar rusted", Spread(40, 75, 150))
    _show(page, work.agreed.job_id, settled)
    section = page.sheet.section("changes")
    assert section.price_button.isVisible()
    section.price()
    settled()
    assert not section.price_button.isVisible()
    assert len(_strips(section.lines.list)) == len(section.chosen_quote().lines) > 0
    section.show_chosen_paper()
    settled()
    assert shown_papers[-1][1].startswith("Change order")
    section.begin_consent()
    _fill(section.form, number_called="555 0190")
    section.form.submit()
    settled()
    assert change_orders.change_orders(seat, job_id=work.agreed.job_id)[0].standing == "agreed"
    assert _strips(section.list)[0].below == "agreed"


def test_an_invoice_is_looked_at_issued_and_shown(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled,
    shown_papers: list[tuple[bytes, str]],
) -> None:  # fmt: skip
    job_id = work.agreed.job_id
    _show(page, job_id, settled)
    section = page.sheet.section("invoices")
    ready = counter.at_counter(seat, job_id).ready
    assert len(_strips(section.ready.list)) == len(ready.lines)
    section.write()
    settled()
    assert not section.write_button.isVisible()
    section.preview()
    settled()
    assert shown_papers[-1][1] == "Invoice, not issued yet"
    section.issue()
    settled()
    row = invoices.invoices(seat, job_id=job_id)[0]
    assert (row.number, row.gross_cents) == ("I-0001", ready.totals.with_tax)
    assert shown_papers[-1][1] == "Invoice I-0001"
    assert "all agreed work that is ticked is billed" in section.standing.text()
    assert "open" in _strips(section.list)[0].below


def test_a_job_without_agreed_work_says_why_nothing_is_billed(
    page: CounterPage, work: ShopAtWork, settled: Settled
) -> None:
    _show(page, work.waiting.job_id, settled)
    section = page.sheet.section("invoices")
    assert "nothing is agreed" in section.standing.text()
    assert not section.write_button.isVisible()


def test_a_refusal_to_issue_stands_under_the_invoices(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled
) -> None:
    job = counter.at_counter(seat, work.agreed.job_id)
    kept = people.party_draft(seat, job.head.customer_id)
    people.keep_party(seat, replace(kept, street="", town=""), job.head.customer_id)
    _show(page, work.agreed.job_id, settled)
    section = page.sheet.section("invoices")
    section.write()
    settled()
    section.issue()
    settled()
    assert "has no address" in section.refusal.text()
    section.drop()
    settled()
    assert section.refusal.text() == ""
    assert invoices.invoices(seat, job_id=work.agreed.job_id) == []


def test_a_credit_needs_its_reason_and_frees_what_was_paid(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled
) -> None:
    job_id = work.agreed.job_id
    invoices.issue_invoice(seat, invoices.draft_invoice(seat, job_id))
    payments.take_payment(seat, job_id, 10_000, "cash")
    _show(page, job_id, settled)
    section = page.sheet.section("invoices")
    section.begin_credit()
    section.form.submit()
    assert "Say why" in _problem(section.form, "why")
    _fill(section.form, why="Wrong address")
    section.form.submit()
    settled()
    assert [row.kind for row in invoices.invoices(seat, job_id=job_id)] == ["credit", "invoice"]
    assert _strips(section.list)[1].below == "credited"
    assert page.sheet.job.head.money.held_cents == 10_000


def test_the_deposit_is_filled_in_taken_once_and_given_back(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled,
    shown_papers: list[tuple[bytes, str]],
) -> None:  # fmt: skip
    job_id = work.agreed.job_id
    _show(page, job_id, settled)
    section = page.sheet.section("payments")
    asked = page.sheet.job.head.money.deposit_asked_cents
    section.begin_payment()
    form = section.form
    assert (form["amount"].value(), form["deposit"].value()) == (asked, True)
    _fill(form, on=seat.region.day(seat.today + dt.timedelta(days=3)))
    form.submit()
    settled()
    assert "has not come yet" in _problem(form, "on")
    _fill(form, on=seat.region.day(seat.today), reference="slip 12")
    form.submit()
    form.submit()  # an impatient second press
    settled()
    rows = payments.payments(seat, job_id=job_id)
    assert [(row.kind, row.amount_cents, row.reference) for row in rows] == [("deposit", asked, "slip 12")]
    section.list.select(rows[0].id)
    section.show_receipt()
    settled()
    assert shown_papers[-1][1].startswith("Payment receipt")
    section.begin_refund()
    _fill(section.form, amount=seat.region.amount(asked + 1))
    section.form.submit()
    settled()
    assert "no more can be given back" in _problem(section.form, "amount")
    _fill(section.form, amount=seat.region.amount(asked))
    section.form.submit()
    settled()
    assert page.sheet.job.head.money.held_cents == 0
    assert not section.back_button.isVisible()


def test_a_range_of_the_shops_own_is_sold_from_here(
    page: CounterPage, seat: Seat, settled: Settled, work: ShopAtWork
) -> None:
    own = intake.take_on(seat, intake.RangeDraft(maker="Tilmont"), intake.JobDraft())
    page.refresh(frozenset({"jobs"}))
    settled()
    _show(page, own.job_id, settled)
    assert not page.sheet.section("agreements").isVisible()
    section = page.sheet.section("invoices")
    section.begin_sale()
    settled()
    section.form.submit()
    settled()
    assert "who buys it" in _problem(section.form, "buyer")
    section.form["buyer"].setCurrentIndex(1)
    section.form.submit()
    settled()
    assert "price" in _problem(section.form, "price")
    _fill(section.form, price="3,200")
    section.form.submit()
    settled()
    section.issue()
    settled()
    assert invoices.invoices(seat, job_id=own.job_id)[0].net_cents == 320_000
    assert not section.sell_button.isVisible()


def test_without_a_release_a_range_leaves_only_red_tagged(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled,
    shown_papers: list[tuple[bytes, str]],
) -> None:  # fmt: skip
    _show(page, work.agreed.job_id, settled)
    section = page.sheet.section("hand-over")
    assert "not released" in section.standing.text()
    assert not section.hand_button.isVisible()
    section.begin_red_tagged()
    section.form.submit()
    settled()
    assert shown_papers[-1][1].startswith("Hand-over sheet")
    assert "red-tagged" in section.standing.text()
    assert not section.tag_button.isVisible()
    titles = [strip.title for strip in _strips(page.sheet.section("papers").list)]
    assert any(title.startswith("Hand-over sheet") for title in titles)
    page.sheet.section("papers").list.select(page.sheet.job.papers[-1].id)
    page.sheet.section("papers").show_chosen()
    settled()
    assert shown_papers[-1][1] == page.sheet.job.papers[-1].title


def test_lists_over_all_jobs_lead_to_the_job_and_its_section(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled
) -> None:
    bench.find_more(seat, work.agreed.job_id, "Flue collar rusted", Spread(40, 75, 150))
    payments.take_payment(seat, work.waiting.job_id, 5_000, "cash")
    invoices.issue_invoice(seat, invoices.draft_invoice(seat, work.agreed.job_id))
    page.refresh(frozenset({"jobs"}))
    settled()
    page.tabs.setCurrentWidget(page.waiting)
    assert [strip.key[1] for strip in _strips(page.waiting.quotes)] == [work.waiting.job_id]
    assert [strip.below for strip in _strips(page.waiting.changes)] == ["to be priced"]
    assert [strip.key[1] for strip in _strips(page.waiting.owing)] == [work.agreed.job_id]
    assert [strip.right for strip in _strips(page.waiting.held)] == ["$50.00"]
    assert "is owed" in page.waiting.told["owing"].text()
    page.waiting.changes.focusFirst()
    page.waiting.changes.opened.emit(page.waiting.changes.current_key())
    settled()
    assert page.tabs.currentIndex() == 0
    assert page.sheet.job.head.found.job_id == work.agreed.job_id
    assert page.sheet.section("changes").list.view.hasFocus()


def test_what_is_owed_is_summed_by_its_age(seat: Seat, work: ShopAtWork) -> None:
    invoices.issue_invoice(seat, invoices.draft_invoice(seat, work.agreed.job_id))
    row = invoices.invoices(seat)[0]

    def due(days: int, cents: int) -> invoices.InvoiceRow:
        return replace(row, due_on=seat.today - dt.timedelta(days=days), open_cents=cents)

    rows = [due(-3, 100), due(0, 200), due(1, 1_000), due(30, 2_000), due(31, 10_000), due(91, 50_000)]
    assert by_age(seat.region, seat.today, rows) == (
        "$633.00 is owed; not due yet: $3.00; past due up to 30 days: $30.00; "
        "past due 31 to 60 days: $100.00; past due more than 90 days: $500.00."
    )
    assert by_age(seat.region, seat.today, []) == "Nothing is owed."


def test_a_refresh_keeps_the_job_the_form_and_what_is_typed(
    page: CounterPage, work: ShopAtWork, settled: Settled, context: Context
) -> None:
    _show(page, work.agreed.job_id, settled)
    section = page.sheet.section("payments")
    section.begin_payment()
    _fill(section.form, reference="half typed")
    form = section.form
    context.announce("jobs")
    settled()
    assert section.form is form
    assert form["reference"].typed() == "half typed"
    assert page.sheet.job.head.found.job_id == work.agreed.job_id
    section.leave_form()
    section.begin_payment()
    assert section.form["reference"].typed() == "half typed"
    _show(page, work.waiting.job_id, settled)
    assert section.form is None


def test_escape_leaves_a_form_and_gives_the_keyboard_back(
    page: CounterPage, work: ShopAtWork, settled: Settled, qtbot: QtBot
) -> None:
    _show(page, work.agreed.job_id, settled)
    section = page.sheet.section("payments")
    section.take_button.setFocus()
    qtbot.keyClick(section.take_button, Qt.Key.Key_Space)
    assert section.form["amount"].hasFocus()
    qtbot.keyClick(section.form["reference"], Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: section.form is None)
    assert section.take_button.hasFocus()


def test_where_room_is_short_the_list_folds_while_the_job_is_worked_on(
    page: CounterPage, work: ShopAtWork, settled: Settled, qtbot: QtBot
) -> None:
    _show(page, work.waiting.job_id, settled)
    page.resize(600, 560)
    page.jobs.search.setFocus()
    qtbot.waitUntil(lambda: page.jobs.list.isVisible() and not page.sheet.isVisible())
    page.jobs.list.opened.emit(work.waiting.job_id)
    qtbot.waitUntil(lambda: page.sheet.isVisible() and not page.jobs.list.isVisible())
    page.jobs.search.setFocus()
    qtbot.waitUntil(page.jobs.list.isVisible)


def test_every_control_of_the_counter_can_be_named(
    page: CounterPage, work: ShopAtWork, settled: Settled, unnamed: Callable[[QWidget], list[Any]]
) -> None:
    _show(page, work.agreed.job_id, settled)
    for key, begin in (("quotes", "begin_quote"), ("payments", "begin_payment")):
        getattr(page.sheet.section(key), begin)()
    settled()
    assert unnamed(page) == []


def test_a_looking_seat_sees_the_counter_without_its_deeds(
    page: CounterPage, work: ShopAtWork, seat: Seat, context: Context, settled: Settled
) -> None:
    context.take_seat(seat.taken_by(work.technician))
    page.refresh(CounterPage.everything)
    _show(page, work.agreed.job_id, settled)
    for key, name in (("quotes", "new_button"), ("invoices", "write_button"), ("payments", "take_button")):
        assert not getattr(page.sheet.section(key), name).isVisible()
    assert not page.customers.new_button.isVisible()
