"""The Floor with a real shop: rows, words, narrowing, the day, the menu, and opening a jacket."""

import datetime as dt
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from copied_shop import MadeShop, make_shop
from fixed_clock import FixedClock
from PySide6.QtCore import Qt
from PySide6.QtGui import QFont, QImage, QPainter
from PySide6.QtWidgets import QMenu, QStyleOptionViewItem
from pytestqt.qtbot import QtBot
from shop_at_work import ShopAtWork

from shopdesk.domain.build import Build
from shopdesk.domain.rights import Role
from shopdesk.domain.stage import Stage
from shopdesk.services import handovers, intake, stores
from shopdesk.services.floor import HELD, FloorOrder
from shopdesk.services.planning import promises
from shopdesk.services.seat import Seat
from shopdesk.services.today import today
from shopdesk.ui.context import Context
from shopdesk.ui.pages.floor.page import FloorPage
from shopdesk.ui.pages.floor.row_drawing import RowDrawing, room
from shopdesk.ui.pages.floor.shown import ShownRow
from shopdesk.ui.today_words import today_strips
from shopdesk.ui.view import View

Settled = Callable[[], None]


@pytest.fixture(scope="module")
def made_shop(tmp_path_factory: pytest.TempPathFactory) -> MadeShop:
    return make_shop(tmp_path_factory.mktemp("made") / "shop.db")


@pytest.fixture
def seat(made_shop: MadeShop, tmp_path: Path, clock: FixedClock) -> Iterator[Seat]:
    opened = made_shop.copy(tmp_path / "shop.db", clock)
    yield opened
    opened.file.close()


@pytest.fixture
def work(made_shop: MadeShop) -> ShopAtWork:
    return made_shop.work


@pytest.fixture
def page(work: ShopAtWork, context: Context, settled: Settled, qtbot: QtBot) -> FloorPage:
    made = FloorPage(context)
    qtbot.addWidget(made)
    made.resize(1100, 700)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.refresh(FloorPage.everything)
    settled()
    return made


def _rows(page: FloorPage) -> list[ShownRow]:
    return [page.list.model.row(place) for place in range(page.list.model.rowCount())]


def test_every_open_range_stands_on_the_floor_with_stage_hold_and_promise(
    page: FloorPage, work: ShopAtWork, seat: Seat
) -> None:
    rows = {row.number: row for row in _rows(page)}
    waiting = rows[work.waiting.number]
    assert waiting.stage is Stage.QUOTED
    assert waiting.held.startswith("held for answer, since ")
    assert waiting.late
    assert waiting.days == "3 days late"
    agreed = rows[work.agreed.number]
    assert agreed.days == "30 days left"
    assert [part for _, part, _ in agreed.pins] == ["top", "trim", "valves"]
    assert "Corvane No. 40, ivory" in agreed.spoken()
    assert agreed.number in agreed.spoken()


def test_a_row_says_whole_what_it_draws_to_a_screen_reader(page: FloorPage) -> None:
    spoken = page.list.model.index(0, 0).data(Qt.ItemDataRole.AccessibleTextRole)
    assert "held for answer" in spoken
    assert "3 days late" in spoken


def test_typing_narrows_by_customer_telephone_and_number(
    page: FloorPage, work: ShopAtWork, settled: Settled, qtbot: QtBot
) -> None:
    for words, number in (
        ("owner of the holl", work.waiting.number),
        (work.agreed.number, work.agreed.number),
    ):
        page.narrowing.search.clear()
        qtbot.keyClicks(page.narrowing.search, words)
        qtbot.waitUntil(lambda number=number: [r.number for r in _rows(page)] == [number])
    page.narrowing.search.clear()
    qtbot.keyClicks(page.narrowing.search, "555 0190")
    qtbot.waitUntil(lambda: len(_rows(page)) == 2)
    qtbot.keyClicks(page.narrowing.search, " nobody")
    qtbot.waitUntil(lambda: not _rows(page))
    assert page.list.empty.isVisible()
    assert "Search for less" in page.list.empty._words.text()


def test_stage_and_hold_narrow_and_stay_for_the_next_day(
    page: FloorPage, work: ShopAtWork, context: Context, settled: Settled, qtbot: QtBot
) -> None:
    _choose(page.narrowing.stages, Stage.QUOTED.value)
    settled()
    assert [row.number for row in _rows(page)] == [work.waiting.number]
    _choose(page.narrowing.stages, "all")
    _choose(page.narrowing.held, HELD)
    settled()
    assert {row.number for row in _rows(page)} == {work.waiting.number, work.agreed.number}
    _choose(page.narrowing.order, FloorOrder.NUMBER)
    settled()
    assert [row.number for row in _rows(page)] == sorted((r.number for r in _rows(page)), reverse=True)
    again = FloorPage(context)
    qtbot.addWidget(again)
    now = again.narrowing.now()
    assert (now.stages, now.held, now.order) == ((), HELD, FloorOrder.NUMBER)


def test_return_opens_the_jacket_of_the_chosen_range(
    page: FloorPage, work: ShopAtWork, context: Context, qtbot: QtBot
) -> None:
    asked: list[Any] = []
    context.placeAsked.connect(lambda place, what: asked.append((place, what)))
    page.list.select(work.agreed.range_id)
    page.focusFirst()
    qtbot.keyClick(page.list.view, Qt.Key.Key_Return)
    assert asked == [("jacket", {"range_id": work.agreed.range_id})]


def test_the_chosen_row_stays_chosen_when_the_shop_changes(
    page: FloorPage, work: ShopAtWork, seat: Seat, settled: Settled
) -> None:
    page.list.select(work.agreed.range_id)
    promises.promise(seat, work.agreed.job_id, seat.today - dt.timedelta(days=40), "Written late.")
    page.refresh(frozenset({"jobs"}))
    settled()
    assert page.list.current_key() == work.agreed.range_id
    assert _rows(page)[0].range_id == work.agreed.range_id
    assert _rows(page)[0].days == "40 days late"


def test_a_range_that_was_only_looked_at_comes_in_by_the_menu(
    page: FloorPage, seat: Seat, settled: Settled, context: Context
) -> None:
    taken = intake.take_on(seat, intake.RangeDraft(maker="Tilmont"), intake.JobDraft(), booked_in=False)
    page.refresh(frozenset({"jobs"}))
    settled()
    row = next(row for row in _rows(page) if row.range_id == taken.range_id)
    assert row.stage is Stage.LOOKED_AT
    menu = QMenu(page)
    page._fill_menu(row, menu)
    next(action for action in menu.actions() if action.text() == "It has come in").trigger()
    settled()
    context.announce("jobs")
    page.refresh(frozenset({"jobs"}))
    settled()
    row = next(row for row in _rows(page) if row.range_id == taken.range_id)
    assert row.stage is Stage.BOOKED_IN
    assert row.owner == "the shop’s own"


def test_the_menu_prints_an_intake_receipt_and_shows_it(
    page: FloorPage, work: ShopAtWork, context: Context, settled: Settled, qtbot: QtBot
) -> None:
    row = next(row for row in _rows(page) if row.range_id == work.agreed.range_id)
    menu = QMenu(page)
    page._fill_menu(row, menu)
    with qtbot.waitSignal(context.paperAsked, timeout=10_000) as shown:
        next(a for a in menu.actions() if a.text() == "Print the intake receipt").trigger()
    assert shown.args[0].startswith(b"%PDF")


def test_a_technician_sees_the_floor_without_booking(
    work: ShopAtWork, context: Context, seat: Seat, settled: Settled, qtbot: QtBot
) -> None:
    context.take_seat(seat.taken_by(work.technician))
    page = FloorPage(context)
    qtbot.addWidget(page)
    page.show()
    page.refresh(FloorPage.everything)
    settled()
    assert context.seat.acting.role is Role.TECHNICIAN
    assert not page.book_button.isVisible()
    assert len(_rows(page)) == 2
    menu = QMenu(page)
    page._fill_menu(_rows(page)[0], menu)
    assert "Print the intake receipt" not in [action.text() for action in menu.actions()]


def test_the_day_tells_holds_late_promises_and_what_is_to_come(
    work: ShopAtWork, seat: Seat, clock: FixedClock
) -> None:
    need = next(n for n in stores.needs(seat, job_id=work.agreed.job_id, short_only=True))
    line = stores.OrderLine(need.name, need.short, need.cost_cents, need_id=need.id)
    stores.order_parts(seat, work.supplier, [line], expected_on=seat.today + dt.timedelta(days=2))
    clock.advance(days=3)
    told = {strip.spoken() for strip, _ in today_strips(seat.region, today(seat))}
    assert f"1 held for answer; {work.waiting.number}, since Sep 15" in told
    assert any(line.startswith(f"{work.waiting.number} promised to ") for line in told)
    assert any(line.endswith("for Sep 12; 6 days late") for line in told)
    assert "Order O-0001 from Brindle & Tack Supply; Sep 17, 1 day late" in told


def test_goods_that_came_whole_are_not_expected_any_more(work: ShopAtWork, seat: Seat) -> None:
    stores.order_parts(seat, work.supplier, [stores.OrderLine("knob", 2, 500)], expected_on=seat.today)
    assert [one.number for one in today(seat).of("order")] == ["O-0001"]
    line = stores.orders(seat)[0].lines[0]
    stores.take_goods_in(seat, line.id, 2)
    assert today(seat).of("order") == ()


def test_rows_have_two_lines_where_there_is_room_and_four_where_there_is_not(qtbot: QtBot) -> None:
    font = QFont()
    assert room(1400, font).wide
    assert not room(420, font).wide
    assert room(420, font).height > room(1400, font).height


@pytest.mark.parametrize("scheme", ["light", "dark", "contrast"])
def test_a_row_is_drawn_in_every_look_and_differs_when_chosen(
    page: FloorPage, view: View, scheme: Any
) -> None:
    view.choose_scheme(scheme)
    plain, chosen = (_drawn(page, chosen=chosen) for chosen in (False, True))
    assert plain != chosen
    colours = {plain.pixel(x, y) for x in range(0, plain.width(), 7) for y in range(0, plain.height(), 3)}
    assert len(colours) > 5


def _drawn(page: FloorPage, *, chosen: bool) -> QImage:
    image = QImage(900, 90, QImage.Format.Format_RGB32)
    image.fill(0)
    option = QStyleOptionViewItem()
    option.initFrom(page.list.view)
    option.rect = image.rect()
    option.font = page.font()
    option.state = option.state & ~option.state.State_Selected
    if chosen:
        option.state |= option.state.State_Selected
    painter = QPainter(image)
    RowDrawing().paint(painter, option, page.list.model.index(0, 0))
    painter.end()
    return image


def _choose(field: Any, key: Any) -> None:
    field.setValue(key)
    field.edited.emit()


def test_what_has_left_keeps_or_breaks_no_promise_any_more(
    page: FloorPage, work: ShopAtWork, seat: Seat, settled: Settled
) -> None:
    handovers.hand_over(seat, work.waiting.job_id, red_tagged=True)
    page.refresh(frozenset({"jobs"}))
    settled()
    row = next(row for row in _rows(page) if row.range_id == work.waiting.range_id)
    assert row.stage is Stage.GONE
    assert (row.day, row.days, row.late) == ("", "", False)
    assert row.build == Build()
