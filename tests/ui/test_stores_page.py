import datetime as dt
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from fixed_clock import FixedClock
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from shop_at_work import ShopAtWork, shop_file

from shopdesk.services import outwork, people, storeroom, stores
from shopdesk.services.seat import Seat, open_shop
from shopdesk.ui.context import Context
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


def shown(table: Any) -> list[Any]:
    return [table.model.row(place) for place in range(table.model.rowCount())]


def first_column(page: StoresPage) -> list[str]:
    model = page.section.list.model
    return [model.index(row, 0).data() for row in range(model.rowCount())]


def order_one(seat: Seat, work: ShopAtWork, expected_on: dt.date | None = None) -> int:
    need = stores.needs(seat)[0]
    line = stores.OrderLine(need.name, 2, need.cost_cents, need_id=need.id)
    grease = stores.OrderLine("valve grease, tin", 3, 900)
    return stores.order_parts(seat, work.supplier, [line, grease], expected_on=expected_on)


def test_what_is_short_stands_first_with_range_task_and_promise(page: StoresPage, seat: Seat) -> None:
    assert all(words.startswith("short") for words in first_column(page))
    need = page.needs.list.current()
    assert need is not None
    assert page.needs.list.view.hasFocus()
    texts = [page.needs.list.model.index(0, c).data() for c in range(len(page.needs.list.model.columns))]
    assert need.range_number in texts
    assert need.task in texts
    assert any("late" in text or "left" in text for text in texts)
    assert page.tabs.tabText(0) == f"&Needs, {len(first_column(page))} short"


def test_several_parts_are_ordered_with_one_order_for_each_supplier(
    page: StoresPage, qtbot: QtBot, settled: Settled, seat: Seat, work: ShopAtWork
) -> None:
    page.needs.list.view.selectAll()
    qtbot.keyClick(page.needs.list.view, Qt.Key.Key_O)
    settled()
    slip = page.needs.side.form
    needs = page.needs.list.selected()
    slip.everyone.setValue(work.supplier)
    slip.everyone.edited.emit()
    slip.grid.cell(needs[0].id, "supplier_id").setValue(work.second_supplier)
    slip.grid.cell(needs[0].id, "cost").setText("12.50")
    slip.form["expected_on"].setText("2026-09-25")
    slip.form.submit()
    settled()
    made = stores.orders(seat)
    assert {order.supplier for order in made} == {"Brindle & Tack Supply", "Cobble Lane Fittings"}
    assert {order.expected_on for order in made} == {dt.date(2026, 9, 25)}
    small = next(order for order in made if order.supplier == "Cobble Lane Fittings")
    assert [(line.name, line.unit_cost_cents) for line in small.lines] == [(needs[0].name, 1250)]
    assert sum(len(order.lines) for order in made) == len(needs)
    assert all("on order, due Sep 25" in words for words in first_column(page))
    assert storeroom.usual_suppliers(seat, [needs[0].name])[needs[0].name]


def test_a_line_without_a_supplier_says_so_beside_it(
    page: StoresPage, qtbot: QtBot, settled: Settled, seat: Seat
) -> None:
    qtbot.keyClick(page.needs.list.view, Qt.Key.Key_O)
    settled()
    slip = page.needs.side.form
    need = page.needs.list.current()
    slip.form.submit()
    settled()
    assert stores.orders(seat) == []
    assert slip.grid._problems[need.id].text() == f"Choose who to order {need.name} from."
    slip.grid.cell(need.id, "cost").setText("much")
    slip.form.submit()
    assert slip.grid._problems[need.id].isVisible()
    assert stores.orders(seat) == []


def test_a_part_is_taken_from_the_shelf_for_a_need(
    page: StoresPage, qtbot: QtBot, settled: Settled, seat: Seat
) -> None:
    need = page.needs.list.current()
    stores.keep_part(seat, "knob, black", count=1)
    stores.keep_part(seat, need.name, condition="used", lies_at="drawer 4", count=3)
    page.refresh(StoresPage.everything)
    settled()
    assert "3 on the shelf" in first_column(page)[0]
    page.needs.list.select(need.id)
    qtbot.keyClick(page.needs.list.view, Qt.Key.Key_T)
    settled()
    form = page.needs.side.form.form
    assert form["part_id"].currentText().startswith(f"{need.name}, used: 3 at drawer 4")
    form.submit()
    settled()
    taken = next(row for row in stores.needs(seat) if row.id == need.id)
    assert taken.covered == taken.quantity
    assert {p.name: p.in_stock for p in stores.parts(seat)}[need.name] == 3 - taken.quantity


def test_an_empty_shelf_is_said_in_a_sentence(page: StoresPage, qtbot: QtBot, settled: Settled) -> None:
    qtbot.keyClick(page.needs.list.view, Qt.Key.Key_T)
    settled()
    assert page.needs.side.problem.text().startswith("There is nothing on the shelf")


def test_a_need_is_called_off_only_with_a_reason(
    page: StoresPage, qtbot: QtBot, settled: Settled, seat: Seat
) -> None:
    need = page.needs.list.current()
    qtbot.keyClick(page.needs.list.view, Qt.Key.Key_X)
    form = page.needs.side.form.form
    form.submit()
    assert page.needs.side.form is not None
    form["why"].setPlainText("found in the bag")
    form.submit()
    settled()
    assert next(row for row in stores.needs(seat) if row.id == need.id).short == 0
    assert first_column(page)[-1] == "called off"


def test_a_late_order_stands_first_and_is_told_by_word_and_sign(
    page: StoresPage, settled: Settled, seat: Seat, work: ShopAtWork, clock: FixedClock
) -> None:
    late = order_one(seat, work, dt.date(2026, 9, 16))
    stores.order_parts(seat, work.second_supplier, [stores.OrderLine("felt", 1, 100)])
    clock.advance(days=4)
    page.refresh(StoresPage.everything)
    page.go_to("orders")
    settled()
    assert first_column(page) == ["late, 3 days", "open"]
    assert page.orders.list.current().id == late
    icons = [page.orders.list.model.index(row, 0).data(Qt.ItemDataRole.DecorationRole) for row in (0, 1)]
    sizes = [icon.pixmap(16, 16).toImage() for icon in icons]
    assert sizes[0] != sizes[1]
    assert page.tabs.tabText(1) == "&Orders, 1 late"


def test_goods_come_in_by_line_with_count_over_and_under(
    page: StoresPage, qtbot: QtBot, settled: Settled, seat: Seat, work: ShopAtWork
) -> None:
    order_one(seat, work)
    page.refresh(StoresPage.everything)
    page.go_to("orders")
    settled()
    page.focusFirst()
    qtbot.keyClick(page.orders.list.view, Qt.Key.Key_Return)
    page.orders.lines.select(page.orders.lines.model.key_at(1))
    qtbot.keyClick(page.orders.lines.view, Qt.Key.Key_Return)
    form = page.orders.side.form
    assert form.count.value() == 3
    form.count.setValue(2)
    assert "1 is still to come" in form.against.text()
    form.count.setValue(5)
    assert "2 more than ordered" in form.against.text()
    form.form["lies_at"].setText("bin 3")
    form.form["condition"].setValue("used")
    form.form.submit()
    settled()
    part = next(p for p in stores.parts(seat) if p.name == "valve grease, tin")
    assert (part.in_stock, part.lies_at, part.condition) == (5, "bin 3", "used")
    assert first_column(page) == ["part received"]
    qtbot.keyClick(page.orders.list.view, Qt.Key.Key_A)
    settled()
    assert first_column(page) == ["received"]


def test_an_order_is_cancelled_after_a_question_and_its_paper_is_shown(
    page: StoresPage, qtbot: QtBot, settled: Settled, seat: Seat, work: ShopAtWork, dialogs: Any
) -> None:
    order_one(seat, work)
    page.open_on(section="orders")
    page.refresh(StoresPage.everything)
    settled()
    page.focusFirst()
    papers: list[bytes] = []
    page.context.paperAsked.connect(lambda pdf, title, name: papers.append(bytes(pdf)))
    qtbot.keyClick(page.orders.list.view, Qt.Key.Key_P)
    settled()
    assert papers[0].startswith(b"%PDF")
    dialogs.agrees = False
    qtbot.keyClick(page.orders.list.view, Qt.Key.Key_X)
    settled()
    assert first_column(page) == ["open"]
    dialogs.agrees = True
    qtbot.keyClick(page.orders.list.view, Qt.Key.Key_X)
    settled()
    assert first_column(page) == ["cancelled"]


def test_a_part_is_added_searched_for_moved_and_laid_elsewhere(
    page: StoresPage, qtbot: QtBot, settled: Settled, seat: Seat
) -> None:
    page.go_to("shelf")
    assert page.shelf.list.empty.isVisible()
    page.focusFirst()
    assert page.shelf.list.empty.button.hasFocus()
    page.shelf.list.empty.button.click()
    form = page.shelf.side.form.form
    form["name"].setText("knob, black")
    form["count"].setValue(4)
    form["lies_at"].setText("box 12")
    form["price_out"].setText("18")
    form.submit()
    settled()
    part = page.shelf.list.current()
    assert (part.name, part.in_stock, part.lies_at, part.price_out_cents) == (
        "knob, black",
        4,
        "box 12",
        1800,
    )
    qtbot.keyClick(page.shelf.list.view, Qt.Key.Key_M)
    form = page.shelf.side.form.form
    form["count"].setValue(9)
    form["reason"].setText("sold")
    form.submit()
    settled()
    assert page.shelf.side.form is not None
    form["count"].setValue(1)
    form.submit()
    settled()
    assert stores.parts(seat)[0].in_stock == 3
    qtbot.keyClick(page.shelf.list.view, Qt.Key.Key_L)
    page.shelf.side.form.form["lies_at"].setText("drawer 1")
    page.shelf.side.form.form.submit()
    settled()
    assert stores.parts(seat)[0].lies_at == "drawer 1"
    page.shelf.search.setText("valve")
    qtbot.waitUntil(lambda: page.shelf.list.model.rowCount() == 0)
    assert page.shelf.list.empty.isVisible()


def test_pieces_go_out_together_and_are_counted_back(
    page: StoresPage, qtbot: QtBot, settled: Settled, seat: Seat, work: ShopAtWork, clock: FixedClock
) -> None:
    page.go_to("outwork")
    page.focusFirst()
    task = next(row for row in shown(page.outwork.list) if row.task.trade == "plater")
    page.outwork.list.select(task.key)
    qtbot.keyClick(page.outwork.list.view, Qt.Key.Key_S)
    settled()
    slip = page.outwork.side.form
    assert slip.form["firm_id"].value() == work.plater
    slip.grid.cell(task.task.task_id, "name").setText("")
    slip.form.submit()
    assert slip.grid._problems[task.task.task_id].text() == "Say which piece goes out."
    slip.grid.cell(task.task.task_id, "name").setText("Front trim strip")
    slip.grid.cell(task.task.task_id, "count").setValue(3)
    slip.grid.cell(task.task.task_id, "base_metal").setText("brass")
    slip.grid.cell(task.task.task_id, "finish").setText("nickel")
    slip.grid.cell(task.task.task_id, "insured").setText("150")
    slip.form.submit()
    settled()
    (sent,) = outwork.consignments(seat)
    assert sent.expected_on == seat.today + dt.timedelta(days=task.task.days)
    (piece,) = sent.pieces
    assert (piece.name, piece.count_out, piece.base_metal) == ("Front trim strip", 3, "brass")
    clock.advance(days=task.task.days + 2)
    page.refresh(StoresPage.everything)
    settled()
    assert first_column(page)[0] == "late, 2 days"
    page.outwork.list.select(("piece", piece.id))
    qtbot.keyClick(page.outwork.list.view, Qt.Key.Key_C)
    form = page.outwork.side.form.form
    form["accepted"].setValue(False)
    form.submit()
    settled()
    assert "rejected, to be done again" in first_column(page)
    page.outwork.list.select(("piece", piece.id))
    qtbot.keyClick(page.outwork.list.view, Qt.Key.Key_C)
    page.outwork.side.form.form.submit()
    settled()
    assert first_column(page)[-1] == "back"


def test_a_piece_before_its_turn_is_sent_only_knowingly(
    page: StoresPage, qtbot: QtBot, settled: Settled, seat: Seat, dialogs: Any
) -> None:
    page.go_to("outwork")
    page.focusFirst()
    assert page.outwork.list.current().task.waits
    dialogs.agrees = False
    qtbot.keyClick(page.outwork.list.view, Qt.Key.Key_S)
    settled()
    assert page.outwork.side.form is None
    assert "not at its turn" in dialogs.asked[-1]


def test_a_firm_is_written_down_and_corrected(
    page: StoresPage, qtbot: QtBot, settled: Settled, seat: Seat
) -> None:
    page.go_to("firms")
    page.focusFirst()
    qtbot.keyClick(page.firms.list.view, Qt.Key.Key_A)
    form = page.firms.side.form.form
    form["name"].setText("Glazemark Enamel")
    form.submit()
    settled()
    assert "Say what Glazemark Enamel does" in form["trade"].accessibleDescription()
    form["trade"].setText("enameller")
    form["email"].setText("desk.glazemark.example")
    form.submit()
    settled()
    assert "not an e-mail address" in form["email"].accessibleDescription()
    form["email"].setText("desk@glazemark.example")
    form.submit()
    settled()
    (firm,) = people.parties(seat, "glazemark")
    assert (firm.is_firm, firm.trade, firm.email) == (True, "enameller", "desk@glazemark.example")
    page.firms.list.select(firm.id)
    qtbot.keyClick(page.firms.list.view, Qt.Key.Key_E)
    settled()
    form = page.firms.side.form.form
    assert form["name"].value() == "Glazemark Enamel"
    form["phone"].setText("555 0177")
    form.submit()
    settled()
    assert people.parties(seat, "glazemark")[0].phone == "555 0177"


def test_sections_are_switched_by_keys_and_remembered(
    page: StoresPage, qtbot: QtBot, context: Context, settled: Settled
) -> None:
    qtbot.keyClick(page.needs.list.view, Qt.Key.Key_PageDown, Qt.KeyboardModifier.ControlModifier)
    assert page.section is page.orders
    qtbot.keyClick(page.tabs, Qt.Key.Key_Right)
    assert page.section is page.shelf
    again = StoresPage(context)
    qtbot.addWidget(again)
    assert again.section is again.shelf


def test_several_chosen_rows_survive_a_refresh(page: StoresPage, settled: Settled) -> None:
    page.needs.list.view.selectAll()
    chosen = page.needs.list.selected()
    page.refresh(StoresPage.everything)
    settled()
    assert page.needs.list.selected() == chosen


def test_an_empty_shop_says_in_every_section_what_will_stand_there(
    context: Context, qtbot: QtBot, settled: Settled, work: ShopAtWork
) -> None:
    page = StoresPage(context)
    qtbot.addWidget(page)
    page.show()
    for section in (page.needs, page.orders, page.shelf, page.outwork, page.firms):
        assert section.list.empty._words.text()
        section.show_current()
        for button in section.findChildren(type(page.needs.order_button)):
            assert button.accessibleName()
    page.hide()


def test_everything_in_the_stores_has_a_name(
    page: StoresPage, qtbot: QtBot, settled: Settled, unnamed: Callable[[object], list[object]]
) -> None:
    assert unnamed(page) == []
    qtbot.keyClick(page.needs.list.view, Qt.Key.Key_O)
    settled()
    assert page.needs.side.form is not None
    assert unnamed(page) == []
    page.go_to("outwork")
    page.focusFirst()
    qtbot.keyClick(page.outwork.list.view, Qt.Key.Key_S)
    settled()
    assert unnamed(page) == []


def test_what_was_typed_in_a_form_is_there_again_until_it_is_saved(
    page: StoresPage, context: Context, settled: Settled
) -> None:
    page.go_to("firms")
    settled()
    page.firms.add()
    form = page.firms.side.form
    assert form is not None
    form.form["name"].setText("Half a na")
    form.form["name"].edited.emit()
    page.firms.close_form()
    page.firms.add()
    again = page.firms.side.form
    assert again is not None
    assert again.form["name"].text() == "Half a na"
    again.form["name"].setText("Half a name")
    again.form["supplies"].setValue(True)
    again.form.submit()
    settled()
    page.firms.add()
    fresh = page.firms.side.form
    assert fresh is not None
    assert fresh.form["name"].text() == ""
