"""The work order and the hours of a jacket: drawn, changed by hand, written again with its difference."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from fixed_clock import FixedClock
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from shop_at_work import ShopAtWork, shop_file

from shopdesk.domain.catalogue.model import Scope
from shopdesk.services import bench, order_by_hand, order_timing, work_orders
from shopdesk.services.seat import Seat, open_shop
from shopdesk.ui.context import Context
from shopdesk.ui.pages.jacket.page import JacketPage
from shopdesk.ui.pages.jacket.view import JacketView

Settled = Callable[[], None]


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, ShopAtWork]:
    return shop_file(tmp_path_factory.getbasetemp())


@pytest.fixture
def job_id(made_once: tuple[Path, ShopAtWork]) -> int:
    return made_once[1].agreed.job_id


@pytest.fixture
def seat(made_once: tuple[Path, ShopAtWork], tmp_path: Path, clock: FixedClock) -> Iterator[Seat]:
    place = tmp_path / "shop.db"
    shutil.copyfile(made_once[0], place)
    made = open_shop(place, clock)
    yield made
    made.file.close()


@pytest.fixture
def view(
    made_once: tuple[Path, ShopAtWork], context: Context, qtbot: QtBot, settled: Settled
) -> Iterator[JacketView]:
    page = JacketPage(context)
    qtbot.addWidget(page)
    page.resize(1150, 800)
    context.changed.connect(page.refresh)
    page.show()
    page.open_on(range_id=made_once[1].agreed.range_id, section="order")
    settled()
    shown = page.current()
    assert shown is not None
    yield shown
    page.hide()


def press(view: JacketView, qtbot: QtBot, name: str) -> None:
    qtbot.mouseClick(getattr(view.order, name), Qt.MouseButton.LeftButton)


def test_the_order_is_drawn_with_its_critical_path_and_what_may_wait(
    view: JacketView, seat: Seat, job_id: int
) -> None:
    timing = order_timing.order_timing(seat, job_id)
    rows = [view.order.tasks.model.row(place) for place in range(view.order.tasks.model.rowCount())]
    assert [row.key for row in rows] == [row.task_id for row in timing.rows]
    assert {row.key for row in rows if row.when == "moves the end"} == {
        row.task_id for row in timing.rows if row.critical
    }
    assert any(row.when.startswith("may wait ") for row in rows)
    assert seat.region.hours(timing.length) in view.order.path.text()
    assert not view.grab().isNull()


def test_a_task_is_added_split_reworded_dropped_and_put_back(
    view: JacketView, qtbot: QtBot, settled: Settled, seat: Seat, job_id: int
) -> None:
    form = lambda: view.order.panel.form  # noqa: E731
    press(view, qtbot, "add_button")
    form()["name"].setValue("Straighten the shelf bracket")
    form()["likely"].setValue(90)
    form().submit()
    settled()
    assert view.order.panel.form is None
    made = next(t for t in bench.job_tasks(seat, job_id) if t.name == "Straighten the shelf bracket")
    view.order.tasks.select(made.id)
    press(view, qtbot, "split_button")
    form()["name"].setValue("Anneal it first")
    form()["likely"].setValue(120)
    form().submit()
    settled()
    assert "takes less than that" in view.order.panel.form._whole.text() + str(
        view.order.panel.form["likely"].accessibleDescription()
    )
    form()["likely"].setValue(30)
    form().submit()
    settled()
    after = {t.name: t for t in bench.job_tasks(seat, job_id)}
    assert (after["Anneal it first"].minutes.likely, after[made.name].minutes.likely) == (30, 60)
    press(view, qtbot, "reword_button")
    form()["name"].setValue("Straighten the shelf bracket, cold")
    form().submit()
    settled()
    assert view.order.current().name == "Straighten the shelf bracket, cold"
    press(view, qtbot, "drop_button")
    form()["because"].setValue("not wanted by the customer")
    form().submit()
    settled()
    (dropped,) = order_by_hand.dropped_tasks(seat, job_id)
    assert dropped.id == made.id
    press(view, qtbot, "back_button")
    form().submit()
    settled()
    assert order_by_hand.dropped_tasks(seat, job_id) == []


def test_a_new_scope_shows_its_difference_before_the_order_is_written(
    view: JacketView, qtbot: QtBot, settled: Settled, seat: Seat, job_id: int
) -> None:
    before = [line.code for line in work_orders.task_lines(seat, job_id)]
    press(view, qtbot, "look_button")
    form = view.order.panel.form
    assert form["scope"].value() is Scope.SHOW
    form["scope"].setValue(Scope.MECHANICAL)
    form["scope"].edited.emit()
    settled()
    shown = [label.text() for label in view.order.panel.findChildren(type(view.order.path).__mro__[1])]
    assert "Would go" in shown
    assert [line.code for line in work_orders.task_lines(seat, job_id)] == before
    form.submit()
    settled()
    assert len(work_orders.task_lines(seat, job_id)) < len(before)
    assert not view.order.change.isVisible()


def test_hours_are_told_line_by_line_with_what_they_stand_on(
    view: JacketView, settled: Settled, seat: Seat, job_id: int
) -> None:
    task = bench.job_tasks(seat, job_id)[0]
    bench.log_minutes(seat, task.id, 95, note="stuck fast")
    view.refresh()
    settled()
    rows = {
        row.key: row
        for row in (view.hours.rows.model.row(n) for n in range(view.hours.rows.model.rowCount()))
    }
    assert rows[task.id].clocked == "1 h 35 min"
    assert rows[0].clocked == "1 h 35 min"  # the line of the sums
    view.hours.rows.select(task.id)
    assert "stuck fast" in view.hours.sentence.text()
    assert "Agreed: " in view.hours.sentence.text()


def test_return_on_a_task_goes_to_it_on_the_bench_and_every_control_has_a_name(
    view: JacketView, qtbot: QtBot, context: Context, unnamed: Callable[[object], list[object]]
) -> None:
    asked: list[tuple[str, dict[str, object]]] = []
    context.placeAsked.connect(lambda place, what: asked.append((place, what)))
    key = view.order.tasks.model.key_at(2)
    view.order.tasks.select(key)
    qtbot.keyClick(view.order.tasks.view, Qt.Key.Key_Return)
    assert asked == [("bench", {"job_id": view.job_id, "task_id": key})]
    for name in ("add_button", "reword_button", "split_button", "drop_button", "look_button"):
        press(view, qtbot, name)
        assert unnamed(view) == [], name
        view.order.panel.leave()
