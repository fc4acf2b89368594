"""The work order and the hours of a jacket: drawn, changed by hand, written again with its difference."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from fixed_clock import FixedClock
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent, QImage
from PySide6.QtWidgets import QMenu
from pytestqt.qtbot import QtBot
from shop_at_work import ShopAtWork, shop_file

from shopdesk.domain.catalogue.model import Scope
from shopdesk.services import bench, order_by_hand, order_timing, work_orders
from shopdesk.services.photographs import photographs_of
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


def test_a_task_is_dragged_or_stepped_to_another_place_but_never_before_what_it_waits_for(
    view: JacketView, seat: Seat, job_id: int, settled: Settled
) -> None:
    def keys() -> list[int]:
        return [view.order.tasks.model.key_at(p) for p in range(view.order.tasks.model.rowCount())]

    before = keys()
    table, moved = view.order.tasks, None
    for place in range(1, len(before)):
        table.select(before[place])
        view.order.dragging.step(-1)
        settled()
        if keys() != before:
            moved = before[place]
            break
    assert moved is not None
    assert keys().index(moved) == before.index(moved) - 1
    work_orders.write_order(seat, job_id)
    assert [task.id for task in bench.job_tasks(seat, job_id)] == keys(), "it stays when written again"
    first = table.view.visualRect(table.model.index(0, 0))
    table.select(keys()[-1])
    last = keys()[-1]
    view.order.dragging.drop_at(last, first.top() + 1)
    settled()
    assert keys().index(last) > 0, "what it waits for stays before it"


def test_the_menu_of_a_task_has_the_deeds_beside_the_list(view: JacketView) -> None:
    view.order.tasks.select(view.order.tasks.model.key_at(0))
    menu = QMenu(view)
    view.order.tasks.menuAsked.emit(view.order.tasks.current(), menu)
    told = [action.text() for action in menu.actions()]
    assert "Reword it" in told
    assert "Add a task" in told


def test_a_picture_dropped_anywhere_on_the_jacket_is_kept(
    view: JacketView, seat: Seat, settled: Settled, tmp_path: Path
) -> None:
    picture = QImage(40, 30, QImage.Format.Format_RGB32)
    picture.fill(0x884422)
    picture.save(str(tmp_path / "flue.png"))
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(tmp_path / "flue.png"))])
    where, keys = QPointF(5, 5), Qt.KeyboardModifier.NoModifier
    view.dropEvent(QDropEvent(where, Qt.DropAction.CopyAction, mime, Qt.MouseButton.LeftButton, keys))
    settled()
    assert len(photographs_of(seat, view.range_id)) == 1
