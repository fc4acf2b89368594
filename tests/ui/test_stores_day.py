"""A day in the stores by keys: needs to orders, a delivery one short, a strip, eleven sent, a count."""

import datetime as dt
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from fixed_clock import FixedClock
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot
from shop_at_work import ShopAtWork, shop_file

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Purpose
from shopdesk.domain.stage import Stage
from shopdesk.services import checking, donors, intake, needs, outwork, price_lists, purchasing, stock, wants
from shopdesk.services.seat import Seat, open_shop
from shopdesk.services.wants import WantDraft
from shopdesk.ui.context import Context
from shopdesk.ui.pages.stores.draft import fits, fits_text
from shopdesk.ui.pages.stores.page import StoresPage

Settled = Callable[[], None]


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, ShopAtWork]:
    return shop_file(tmp_path_factory.getbasetemp())


@pytest.fixture
def work(made_once: tuple[Path, ShopAtWork]) -> ShopAtWork:
    return made_once[1]


@pytest.fixture
def seat(made_once: tuple[Path, ShopAtWork], tmp_path: Path, clock: FixedClock) -> Iterator[Seat]:
    place = tmp_path / "shop.db"
    shutil.copyfile(made_once[0], place)
    made = open_shop(place, clock)
    yield made
    made.file.close()


@pytest.fixture
def page(work: ShopAtWork, context: Context, qtbot: QtBot, settled: Settled) -> Iterator[StoresPage]:
    made = StoresPage(context)
    context.changed.connect(made.refresh)
    qtbot.addWidget(made)
    made.resize(1200, 800)
    made.show()
    made.refresh(StoresPage.everything)
    made.focusFirst()
    settled()
    yield made
    made.hide()


def kept_as_donor(seat: Seat) -> int:
    draft = intake.RangeDraft(maker="Corvane", model="No. 40", build=Build())
    taken = intake.take_on(
        seat, draft, intake.JobDraft(customer_id=None, purpose=Purpose.DONOR), booked_in=False
    )
    intake.buy(seat, taken.job_id, 12000)
    intake.end_job(seat, taken.job_id, Stage.DONOR, "rusted through")
    return taken.range_id


def press(qtbot: QtBot, page: StoresPage, letter: str, settled: Settled) -> Any:
    """A deed's key on the current list, and the form it opens."""
    qtbot.keyClick(page.section.list.view, letter)
    settled()
    return page.section.side.form


def test_all_that_is_short_becomes_one_order_to_each_supplier_by_one_press(
    page: StoresPage, seat: Seat, work: ShopAtWork, qtbot: QtBot, settled: Settled
) -> None:
    short = [row for row in needs.needs(seat) if row.short]
    names = sorted({row.name for row in short})
    for place, name in enumerate(names):  # ordered before, so that each part's supplier is known
        firm = (work.supplier, work.second_supplier)[place % 2]
        order = purchasing.order_parts(seat, firm, [purchasing.OrderLine(name, 1, 500, theirs=f"N{place}")])
        purchasing.cancel_order(seat, order)
    page.refresh(StoresPage.everything)
    settled()
    before = len(purchasing.orders(seat))
    slip = press(qtbot, page, "a", settled)
    qtbot.keyClick(slip.form["note"], Qt.Key.Key_Return)
    settled()
    made = purchasing.orders(seat)[: len(purchasing.orders(seat)) - before]
    assert {order.supplier for order in made} == {"Brindle & Tack Supply", "Cobble Lane Fittings"}
    assert sum(len(order.lines) for order in made) == len(short)
    assert all(line.theirs.startswith("N") for order in made for line in order.lines)
    assert page.needs.short == 0


def test_a_delivery_one_short_with_its_freight_stays_open_and_is_given_up_by_name(
    page: StoresPage, seat: Seat, work: ShopAtWork, qtbot: QtBot, settled: Settled
) -> None:
    lines = [purchasing.OrderLine("clip", 10, 99), purchasing.OrderLine("lamp cord", 2, 700)]
    purchasing.order_parts(seat, work.supplier, lines)
    page.refresh(StoresPage.everything)
    page.go_to("orders")
    settled()
    page.focusFirst()
    form = press(qtbot, page, "d", settled)
    clip = page.orders.list.current().lines[0]
    form.grid.cell(clip.id, "count").setValue(9)
    form.grid.cell(clip.id, "count").edited.emit()
    assert form.against.text() == "clip: 1 short."
    form.form["freight"].setText("10")
    form.form.submit()
    settled()
    assert page.orders.list.current().standing == "part received"
    values = {part.name: part.value_cents for part in stock.parts(seat)}
    assert sum(values.values()) == 9 * 99 + 2 * 700 + 1000
    form = press(qtbot, page, "l", settled)
    form.form["because"].setText("no longer made")
    form.form.submit()
    settled()
    assert page.orders.list.current().standing == "received"


def test_a_wrong_part_is_taken_in_as_such_and_sent_back(
    page: StoresPage, seat: Seat, work: ShopAtWork, qtbot: QtBot, settled: Settled
) -> None:
    purchasing.order_parts(seat, work.supplier, [purchasing.OrderLine("clip", 3, 99)])
    page.refresh(StoresPage.everything)
    page.go_to("orders")
    settled()
    page.focusFirst()
    form = press(qtbot, page, "g", settled)
    form.form["wrong_as"].setText("clip, brass")
    form.form.submit()
    settled()
    assert "3 wrong pieces are to go back." in page.orders.side.note.text()
    form = press(qtbot, page, "b", settled)
    assert form.form["because"].value() == "wrong part"
    form.form.submit()
    settled()
    assert stock.parts(seat, "brass")[0].in_stock == 0
    for letter, field, text in (("s", "how", ""), ("k", "their_number", "SO 7")):
        form = press(qtbot, page, letter, settled)
        if text:
            form.form[field].setText(text)
        form.form.submit()
        settled()
    assert (purchasing.orders(seat)[0].their_number, purchasing.orders(seat)[0].sent_how) == (
        "SO 7",
        "by mail",
    )


def test_a_need_is_met_off_a_donor_from_asking_to_the_part_at_its_task(
    page: StoresPage, seat: Seat, qtbot: QtBot, settled: Settled
) -> None:
    kept_as_donor(seat)
    page.refresh(StoresPage.everything)
    settled()
    need = page.needs.list.current()
    page.go_to("donors")
    page.focusFirst()
    press(qtbot, page, "o", settled).form.submit()
    settled()
    form = press(qtbot, page, "a", settled)
    form.form["name"].setText(need.name)
    form.form["value"].setText("40")
    form.form.submit()
    settled()
    page.go_to("needs")
    page.needs.list.select(need.id)
    press(qtbot, page, "d", settled).form.submit()
    settled()
    assert next(n for n in needs.needs(seat) if n.id == need.id).from_donor
    page.go_to("donors")
    page.focusFirst()
    assert page.donors.list.current().to_strip
    form = press(qtbot, page, "t", settled)
    form.form["lies_at"].setText("B4")
    form.form.submit()
    settled()
    met = next(n for n in needs.needs(seat) if n.id == need.id)
    donor = donors.donors(seat)[0]
    assert met.covered >= 1
    assert sum(part.cost_cents for part in donor.parts) == 12000
    assert checking.faults(seat) == []


def test_eleven_go_out_ten_come_back_one_is_a_named_loss_and_then_the_bill(
    page: StoresPage, seat: Seat, work: ShopAtWork, qtbot: QtBot, settled: Settled
) -> None:
    page.go_to("outwork")
    page.focusFirst()
    task = next(row for row in page.outwork.list.rows() if row.task.trade == "plater")
    page.outwork.list.select(task.key)
    slip = press(qtbot, page, "s", settled)
    key = task.task.task_id
    slip.grid.cell(key, "count").setValue(11)
    slip.grid.cell(key, "price").setText("3.50")
    slip.grid.cell(key, "insured").setText("220")
    slip.form.submit()
    settled()
    (piece,) = outwork.consignments(seat)[0].pieces
    assert (piece.count_out, piece.cost_cents) == (11, 3850)
    page.outwork.list.select(("piece", piece.id))
    form = press(qtbot, page, "c", settled)
    form.form["count"].setValue(10)
    form.form.submit()
    settled()
    page.outwork.list.select(("piece", piece.id))
    form = press(qtbot, page, "b", settled)
    form.form["number"].setText("7788")
    form.form.submit()
    settled()
    assert page.outwork.side.form is not None  # refused: one is not back
    page.outwork.close_form()
    form = press(qtbot, page, "l", settled)
    form.form["because"].setText("mislaid at the polisher's")
    form.form.submit()
    settled()
    page.outwork.list.select(("piece", piece.id))
    form = press(qtbot, page, "b", settled)
    form.form["number"].setText("7788")
    form.form["cents"].setText("35")
    form.form.submit()
    settled()
    sent = outwork.consignments(seat)[0]
    assert (sent.pieces[0].lost, sent.pieces[0].lost_cents, sent.bill_cents) == (1, 2000, 3500)
    assert "1 lost" in page.outwork.side.note.text()


def test_a_bin_is_counted_and_a_difference_asks_why(
    page: StoresPage, seat: Seat, qtbot: QtBot, settled: Settled
) -> None:
    part = stock.keep_part(seat, "grease, tin", lies_at="A1", price_in_cents=900, count=5)
    page.refresh(StoresPage.everything)
    page.go_to("shelf")
    settled()
    page.focusFirst()
    slip = press(qtbot, page, "c", settled)
    slip.grid.cell(part, "counted").setValue(4)
    slip.form.submit()
    settled()
    assert "Say how that came about" in slip.grid._problems[part].text()
    slip.grid.cell(part, "because").setText("dried out")
    slip.form.submit()
    settled()
    assert stock.parts(seat)[0].in_stock == 4
    assert page.shelf.moved.model.row(0).reason == "stock-take: dried out"


def test_a_part_is_corrected_sold_and_its_label_printed(
    page: StoresPage, seat: Seat, qtbot: QtBot, settled: Settled
) -> None:
    stock.keep_part(seat, "griddle plate", condition="used", lies_at="B2", count=2, price_in_cents=3000)
    page.open_on(bin_name="B2")
    qtbot.waitUntil(lambda: page.shelf.list.model.rowCount() == 1)
    settled()
    page.shelf.list.focusFirst()
    form = press(qtbot, page, "e", settled)
    form.form["fits"].setPlainText("Corvane No. 40 (griddle)\nHollimont ?")
    form.form.submit()
    settled()
    assert "Fits: Corvane No. 40 (griddle). May fit: Hollimont." in page.shelf.side.note.text()
    form = press(qtbot, page, "s", settled)
    form.form["to"].setText("Orla Finch")
    form.form["price"].setText("90")
    form.form.submit()
    settled()
    assert stock.parts(seat)[0].in_stock == 1
    papers: list[bytes] = []
    page.context.paperAsked.connect(lambda pdf, title, name: papers.append(bytes(pdf)))
    press(qtbot, page, "p", settled).form.submit()
    settled()
    assert papers[0].startswith(b"%PDF")


def test_a_want_says_where_it_may_be_had_and_is_ended(
    page: StoresPage, seat: Seat, qtbot: QtBot, settled: Settled
) -> None:
    stock.keep_part(seat, "griddle plate", condition="used", lies_at="B2", count=1)
    wants.look_for(seat, WantDraft(name="griddle plate", maker="Corvane", worth_cents=9000))
    page.refresh(StoresPage.everything)
    page.go_to("wants")
    settled()
    page.focusFirst()
    assert [m.where for m in page.wants.matches.rows()] == ["B2"]
    form = press(qtbot, page, "x", settled)
    form.form["because"].setText("taken from B2")
    form.form.submit()
    settled()
    assert wants.wants(seat) == []


def test_a_price_list_is_tried_then_brought_in_with_its_bad_line_by_number(
    page: StoresPage,
    seat: Seat,
    work: ShopAtWork,
    qtbot: QtBot,
    settled: Settled,
    dialogs: Any,
    tmp_path: Path,
) -> None:
    lines = "".join(f"A-{n},cap {n},1.50\n" for n in range(3000))
    (tmp_path / "list.csv").write_text(f"number,name,price\n{lines}B-1,spring,on request\n")
    dialogs.file = tmp_path / "list.csv"
    page.go_to("firms")
    settled()
    page.focusFirst()
    page.firms.list.select(work.supplier)
    form = press(qtbot, page, "b", settled)
    assert [form.form[key].value() for key in ("theirs", "name", "price_cents", "pack")] == [0, 1, 2, None]
    form.form.submit()
    settled()
    assert form.told.text() == "3000 new, 0 changed, 0 as they were, 1 bad, of 3001 lines."
    assert [row.number for row in form.bad.rows()] == [3002]
    assert price_lists.prices(seat, "cap") == []
    form.form["bad"].setValue(False)
    form.take_button.click()
    settled()
    assert "Line 3002" in form.form._whole.text()
    form.form["bad"].setValue(True)
    form.bring_in()
    form.stop()  # as a person would, before the worker is through
    settled()
    if page.firms.side.form is not None:
        assert price_lists.prices(seat, "cap") == []
        form.bring_in()
        settled()
    assert len(price_lists.prices(seat, "cap", limit=5000)) == 3000


def test_fits_are_written_as_they_are_read() -> None:
    text = "Corvane No. 40 (griddle, lamp)\nany (deep well) ?\nHollimont ?"
    assert fits_text(fits(text)) == text
    assert [fit.certain for fit in fits(text)] == [True, False, False]


def test_every_new_control_has_a_name_and_every_empty_list_its_words(
    page: StoresPage, unnamed: Callable[[QWidget], list[Any]], settled: Settled
) -> None:
    for section in (page.donors, page.wants):
        assert section.list.empty._words.text()
    settled()
    assert unnamed(page) == []


def test_codes_lead_to_parts_orders_and_consignments(
    page: StoresPage, seat: Seat, work: ShopAtWork, settled: Settled
) -> None:
    stock.keep_part(seat, "clip", count=1)
    part = stock.keep_part(seat, "knob", count=1)
    page.open_on(part_id=part)
    settled()
    assert (page.section, page.shelf.list.current().id) == (page.shelf, part)
    order = purchasing.order_parts(
        seat, work.supplier, [purchasing.OrderLine("clip", 1, 5)], expected_on=dt.date(2026, 12, 1)
    )
    page.open_on(order_id=order)
    settled()
    assert (page.section, page.orders.list.current().id) == (page.orders, order)
