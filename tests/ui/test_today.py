"""The day at the top of each place: short lines that open their records, gone when the day asks nothing."""

import datetime as dt
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from copied_shop import MadeShop, make_shop
from fixed_clock import FixedClock
from pytestqt.qtbot import QtBot
from shop_at_work import ShopAtWork

from shopdesk.domain.sides import Side
from shopdesk.services import stores
from shopdesk.services.planning import appointments
from shopdesk.services.planning.appointments import AppointmentDraft
from shopdesk.services.seat import Seat
from shopdesk.services.today import today
from shopdesk.ui.context import Context
from shopdesk.ui.pages.bench.page import BenchPage
from shopdesk.ui.pages.counter.page import CounterPage
from shopdesk.ui.pages.page import Page
from shopdesk.ui.today_list import TodayList
from shopdesk.ui.today_words import today_strips, today_summary

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


def lines(seat: Seat, side: Side) -> list[str]:
    return [strip.spoken() for strip, _ in today_strips(seat.region, today(seat, side))]


def test_the_desk_is_told_whom_to_call_and_what_is_to_come(seat: Seat, work: ShopAtWork) -> None:
    stores.order_parts(seat, work.supplier, [stores.OrderLine("knob", 2, 500)], expected_on=seat.today)
    told = lines(seat, Side.DESK)
    assert any(
        line.startswith(f"Call Owner of the Hollimont: {work.waiting.number} waits for an answer")
        for line in told
    )
    assert any(line.startswith("Order O-0001 from Brindle & Tack Supply") for line in told)
    assert not any("held for" in line for line in told), "that is told as a call"


def test_the_bench_is_told_of_what_stands_there_and_of_its_own_ways_only(
    seat: Seat, work: ShopAtWork
) -> None:
    technician = seat.taken_by(work.technician)
    visit = AppointmentDraft(
        kind="delivery", day=seat.today, minute=9 * 60, job_id=work.agreed.job_id, going=(work.technician,)
    )
    appointments.appoint(seat, visit)
    assert any(line.startswith("Delivery: ") for line in lines(technician, Side.BENCH))
    assert not any(line.startswith("Delivery: ") for line in lines(seat, Side.BENCH)), "somebody else goes"
    assert any(line.startswith("Delivery: ") for line in lines(seat, Side.SHOP))
    assert not any(work.waiting.number in line for line in lines(technician, Side.BENCH)), "not agreed yet"


def test_a_promise_far_off_is_at_risk_only_by_its_odds(seat: Seat, work: ShopAtWork) -> None:
    promised = [one.number for one in today(seat).of("promise")]
    assert promised == [work.waiting.number]
    assert "1 promise at risk or near" in today_summary(today(seat))


def test_a_line_opens_its_record_and_folding_is_remembered(
    qtbot: QtBot, context: Context, settled: Settled, work: ShopAtWork
) -> None:
    page = CounterPage(context)
    qtbot.addWidget(page)
    page.resize(1200, 900)
    with qtbot.waitActive(page):
        page.show()
        page.activateWindow()
    page.refresh(Page.everything)
    settled()
    assert page.day.isVisible()
    page.day.go_in()
    assert page.day.list.view.hasFocus()
    assert page.day.list.select(f"call {work.waiting.job_id} None")
    with qtbot.waitSignal(context.placeAsked) as asked:
        page.day.list.opened.emit(page.day.list.current_key())
    assert asked.args == ["counter", {"job_id": work.waiting.job_id}]
    page.day.toggle()
    assert page.day.list.isHidden()
    assert "2 calls to make" in page.day.head.text()
    again = TodayList(page, Side.DESK)
    again.refresh(Page.everything)
    settled()
    assert again.list.isHidden(), "as it was left"
    again.deleteLater()


def test_the_bench_has_its_day_above_the_tasks(
    qtbot: QtBot, context: Context, settled: Settled, seat: Seat, work: ShopAtWork
) -> None:
    stores.order_parts(
        seat, work.supplier, [stores.OrderLine("knob", 2, 500)], expected_on=seat.today + dt.timedelta(days=2)
    )
    page = BenchPage(context)
    qtbot.addWidget(page)
    page.refresh(Page.everything)
    settled()
    assert "1 delivery" in page.day.head.text()
