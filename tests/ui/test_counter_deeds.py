"""The Counter's later deeds on a real shop: discounts, shares, letters, accounts, withdrawal, comeback."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from counter_shop import make_counter_shop
from fixed_clock import FixedClock
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from shop_at_work import ShopAtWork

from shopdesk.services import accounts, counter, invoices, letters, payments, quotes, shops
from shopdesk.services.jacket import jacket
from shopdesk.services.seat import Seat, open_shop
from shopdesk.services.settings import Clocks, Letters, Margin
from shopdesk.services.taxes import local_taxes
from shopdesk.ui.context import Context
from shopdesk.ui.pages.counter.page import CounterPage
from shopdesk.ui.pages.set_up.page import SetUpPage

Settled = Callable[[], None]


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory, _new_shop_file: Path) -> tuple[Path, ShopAtWork]:
    place = tmp_path_factory.mktemp("counter-deeds") / "shop.db"
    shutil.copyfile(_new_shop_file, place)
    seat = open_shop(place, FixedClock())
    work = make_counter_shop(seat)
    seat.file.close()
    return place, work


@pytest.fixture
def seat(made: tuple[Path, ShopAtWork], tmp_path: Path, clock: FixedClock) -> Iterator[Seat]:
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


def _show(page: CounterPage, job_id: int, settled: Settled) -> None:
    page.show_job(job_id)
    settled()


def _fill(form: Any, **typed: Any) -> None:
    for name, value in typed.items():
        form[name].setTyped(value)
        form[name].edited.emit()


def _problem(form: Any, name: str) -> str:
    return str(form._entries[name].problem.text())


def test_a_discount_is_given_on_a_new_quote_and_what_changed_is_told(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled
) -> None:
    _show(page, work.waiting.job_id, settled)
    section: Any = page.sheet.section("quotes")
    before = quotes.quotes(seat, job_id=work.waiting.job_id)[0].net_cents
    section.begin_quote()
    settled()
    section.pricing._begin_change()
    changes = section.pricing.changes
    for typed, told in (("1.2.3", "not an amount"), ("", "Write an amount"), ("-0.01", "below zero")):
        _fill(changes.form, amount=typed, why="Regular customer")
        changes.form.submit()
        assert told in _problem(changes.form, "amount"), typed
    _fill(changes.form, amount="10 %")
    changes.form.submit()
    settled()
    assert "10" in changes.words.text()
    _fill(section.form, milestones="thirty teardown")
    section.form.submit()
    assert "no milestone" in _problem(section.form, "milestones")
    _fill(section.form, milestones="30 teardown done\n40% parts are here")
    section.form.submit()
    settled()
    row = quotes.quotes(seat, job_id=work.waiting.job_id)[0]
    assert row.net_cents < before
    assert section.changed.text().startswith("Since Q-")


def test_the_choices_are_shown_side_by_side_before_anything_is_written(
    page: CounterPage, work: ShopAtWork, seat: Seat, context: Context, settled: Settled
) -> None:
    shown: list[tuple[bytes, str]] = []
    context.paperAsked.connect(lambda pdf, title, _name: shown.append((pdf, title)))
    _show(page, work.waiting.job_id, settled)
    section: Any = page.sheet.section("quotes")
    section.begin_quote()
    settled()
    count = len(quotes.quotes(seat))
    section.pricing._show_beside()
    settled()
    assert shown[-1][0].startswith(b"%PDF")
    assert len(quotes.quotes(seat)) == count


def test_consent_to_a_part_leaves_a_line_out_with_its_task(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled
) -> None:
    _show(page, work.waiting.job_id, settled)
    section: Any = page.sheet.section("quotes")
    section.begin_consent()
    field = section.form["left_out"]
    field.item(0).setCheckState(Qt.CheckState.Checked)
    _fill(section.form, how="By e-mail", kept_text="Not the first thing, please.")
    section.form.submit()
    settled()
    view = quotes.quote_view(seat, section.chosen().row.id)
    job = counter.at_counter(seat, work.waiting.job_id)
    assert job.agreements[-1].amount_cents < view.row.net_cents


def test_a_share_is_billed_discounted_and_written_off_by_the_owner(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled
) -> None:
    _show(page, work.agreed.job_id, settled)
    section: Any = page.sheet.section("invoices")
    section.begin_share()
    section.form.submit()
    settled()
    assert "between 1 and 100" in _problem(section.form, "percent")
    _fill(section.form, percent="30")
    section.form.submit()
    settled()
    first = section.draft().row.net_cents
    section.begin_change()
    _fill(section.form, amount="1.00", why="Rounded")
    section.form.submit()
    settled()
    assert section.draft().row.net_cents == first - 100
    section.issue()
    settled()
    section.begin_write_off()
    _fill(section.form, why="moved away")
    section.form.submit()
    settled()
    assert invoices.invoices(seat, job_id=work.agreed.job_id)[0].standing == "written off"


def test_surfaces_are_gone_through_and_settled(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled
) -> None:
    _show(page, work.waiting.job_id, settled)
    section: Any = page.sheet.section("finishes")
    assert "not gone through" in section.standing.text()
    section.begin()
    rows = section.form["finishes"]._rows
    rows[0][1].setValue(rows[0][1]._keys[-1])
    rows[0][2].setTyped("cream, as the sample")
    section.form.submit()
    settled()
    assert "Settled" in section.standing.text()
    assert "cream, as the sample" in section.words.text()


def test_letters_that_are_due_stand_with_what_waits_and_are_written_there(
    page: CounterPage, work: ShopAtWork, seat: Seat, clock: FixedClock, settled: Settled
) -> None:
    shops.keep_setting(seat, Clocks(reminder_days=(7,)))
    key = invoices.draft_invoice(seat, work.agreed.job_id)
    invoices.issue_invoice(seat, key)
    clock.advance(days=40)
    page.refresh(CounterPage.everything)
    settled()
    waiting = page.waiting
    assert waiting.letters.list.model.rowCount() == 1
    assert waiting.people.model.rowCount() == 1
    waiting.letters.write()
    settled()
    assert [each.kind for each in letters.letters(seat, job_id=work.agreed.job_id)] == ["reminder 1"]
    page.refresh(CounterPage.everything)
    settled()
    assert waiting.letters.list.model.rowCount() == 0


def test_a_customer_s_account_takes_a_payment_prints_a_statement_and_keeps_what_is_over(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled
) -> None:
    invoices.issue_invoice(seat, invoices.draft_invoice(seat, work.agreed.job_id))
    customer = jacket(seat, work.agreed.range_id).customer_id
    assert customer is not None
    owed = accounts.account(seat, customer).owed_cents
    page.open_on(customer_id=customer)
    settled()
    panel: Any = page.customers.account
    assert panel.standing.text().startswith("Owes $")
    panel.begin_payment()
    _fill(panel.form, amount=f"{(owed + 500) / 100:.2f}")
    panel.form.submit()
    settled()
    assert "$5.00 is held" in panel.standing.text()
    panel.begin_statement()
    _fill(panel.form, from_day="1/1/1899")
    panel.form.submit()
    assert "cannot be right" in _problem(panel.form, "from_day")
    _fill(panel.form, from_day="2026-01-01")
    panel.form.submit()
    settled()
    panel.begin_back()
    panel.form.submit()
    settled()
    assert accounts.account(seat, customer).held_cents == 0
    assert payments.payments(seat)[0].kind == "refund"


def test_a_visit_a_question_and_a_withdrawal_are_recorded_where_the_job_stands(
    page: CounterPage, work: ShopAtWork, seat: Seat, settled: Settled
) -> None:
    _show(page, work.agreed.job_id, settled)
    section: Any = page.sheet.section("life")
    section.begin_visit()
    _fill(section.form, on="2026-12-24", at="25:00")
    section.form.submit()
    assert "no hour" in _problem(section.form, "at")
    _fill(section.form, at="9:30", place="12 Larder Lane")
    section.form.submit()
    settled()
    assert "12 Larder Lane" in section.standing.text()
    section.begin_question()
    _fill(section.form, what="Too dear")
    section.form.submit()
    settled()
    assert "Too dear" in section.standing.text()
    section.begin_close()
    _fill(section.form, outcome="Explained")
    section.form.submit()
    settled()
    section.begin_withdrawal()
    settled()
    _fill(section.form, why="Moving")
    section.form.submit()
    settled()
    assert jacket(seat, work.agreed.range_id).stage.value == "withdrawn"
    assert page.sheet.section("invoices").draft() is not None


def test_clocks_texts_margin_and_local_taxes_are_set_up(
    context: Context, seat: Seat, settled: Settled, qtbot: QtBot
) -> None:
    made = SetUpPage(context)
    qtbot.addWidget(made)
    made.refresh(SetUpPage.everything)
    settled()

    def form(key: str) -> Any:
        made.show_section(key)
        settled()
        return made._made[key].form  # type: ignore[attr-defined]  # each of these has a form

    clocks = form("clocks")
    _fill(clocks, ready_days="0, soon")
    clocks.submit()
    assert "no days" in _problem(clocks, "ready_days")
    _fill(clocks, ready_days="0, 10", storage_cents="5.00")
    clocks.submit()
    settled()
    kept = shops.setting(seat, Clocks)
    assert (kept.ready_days, kept.storage_cents) == ((0, 10), 500)
    texts = form("letters")
    _fill(texts, **{"ready 1": "{moon}"})
    texts.submit()
    settled()
    assert "in braces" in _problem(texts, "ready 1")
    _fill(texts, **{"ready 1": "Come and fetch {range}."})
    texts.submit()
    settled()
    assert shops.setting(seat, Letters).texts == {"ready 1": "Come and fetch {range}."}
    margin = form("margin")
    margin.show_values({"on": True})
    _fill(margin, percent="700")
    margin.submit()
    assert _problem(margin, "percent")
    _fill(margin, percent="20")
    margin.submit()
    settled()
    assert shops.setting(seat, Margin).percent == "20"
    tax = form("taxes")
    tax["kinds"].setValue(("part",))
    _fill(tax, place="Elderfold", name="County tax", percent="8.25")
    tax.submit()
    settled()
    assert [(row.place, str(row.percent)) for row in local_taxes(seat)] == [("elderfold", "8.25")]
