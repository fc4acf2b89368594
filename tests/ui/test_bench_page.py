import datetime as dt
import shutil
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from fixed_clock import FixedClock
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QListWidget
from pytestqt.qtbot import QtBot
from shop_at_work import ShopAtWork, range_with_work, shop_file

from shopdesk.domain.stage import Stage
from shopdesk.services import bench, bench_day
from shopdesk.services.intake import end_job
from shopdesk.services.seat import Seat, open_shop
from shopdesk.services.shops import keep_setting
from shopdesk.ui.context import Context
from shopdesk.ui.pages.bench.cautions import CautionText
from shopdesk.ui.pages.bench.page import EVERYBODY, MINE, BenchPage
from shopdesk.ui.pages.bench.shown import RangeRow, TaskRow, task_key
from shopdesk.ui.widgets.photo_strip import Brought

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
def page(work: ShopAtWork, context: Context, qtbot: QtBot, settled: Settled) -> Iterator[BenchPage]:
    made = BenchPage(context)
    context.changed.connect(made.refresh)
    context.seatChanged.connect(lambda: made.refresh(BenchPage.everything))
    qtbot.addWidget(made)
    made.resize(1200, 800)
    made.show()
    made.refresh(BenchPage.everything)
    made.focusFirst()
    settled()
    yield made
    made.hide()


def rows(page: BenchPage) -> list[object]:
    return [page.list.model.row(place) for place in range(page.list.model.rowCount())]


def key(page: BenchPage, qtbot: QtBot, letter: Qt.Key) -> None:
    qtbot.keyClick(page.list.view, letter)


def tick_with_cautions(page: BenchPage, qtbot: QtBot, settled: Settled) -> None:
    key(page, qtbot, Qt.Key.Key_Space)
    settled()
    if page.current() is not None and page.current().refused:
        key(page, qtbot, Qt.Key.Key_K)
        settled()
        key(page, qtbot, Qt.Key.Key_Space)
        settled()


def test_the_keyboard_is_on_the_first_task_that_can_be_done(page: BenchPage) -> None:
    first = page.current()
    assert first is not None
    assert first.state == "now"
    assert page.list.view.currentIndex().row() == 2
    assert page.pane.name.text() == first.task.name


def test_cautions_stand_beside_the_task_and_are_pointed_at_before_the_first_tick(
    page: BenchPage, qtbot: QtBot, settled: Settled, seat: Seat
) -> None:
    task = page.current().task
    assert task.hazards
    caution = seat.catalogue.cautions[task.hazards[0]]
    assert page.pane.cautions.isVisible()
    shown = page.pane.cautions.findChildren(type(page.pane.name))
    assert {caution.name, caution.text} <= {words.text() for words in shown}
    assert any(caution.defer_to in words.text() for words in shown)
    key(page, qtbot, Qt.Key.Key_Space)
    settled()
    assert caution.name in page.current().refused
    assert page.pane.problem.text() == page.current().refused
    key(page, qtbot, Qt.Key.Key_Space)
    settled()
    assert bench_day.done_today(seat) == []  # pressing again says nothing of having read
    qtbot.mouseClick(page.pane.cautions.read_button, Qt.MouseButton.LeftButton)
    settled()
    assert page.current().refused == ""
    assert page.pane.cautions.read.text().startswith("You read these on ")
    assert not page.pane.cautions.read_button.isVisible()
    key(page, qtbot, Qt.Key.Key_T)
    settled()
    assert [t.id for t in bench_day.done_today(seat)] == [task.id]


def test_ticking_moves_on_and_the_tick_can_be_taken_back(
    page: BenchPage, qtbot: QtBot, settled: Settled, seat: Seat
) -> None:
    task = page.current().task
    tick_with_cautions(page, qtbot, settled)
    assert page.current() is None or page.current().task.id != task.id
    done = [row for row in rows(page) if isinstance(row, TaskRow) and row.done]
    assert [row.task.id for row in done] == [task.id]
    key(page, qtbot, Qt.Key.Key_U)
    settled()
    assert bench_day.done_today(seat) == []
    assert page.current().task.id == task.id


def test_a_ticked_task_is_opened_again_with_the_same_key(
    page: BenchPage, qtbot: QtBot, settled: Settled, seat: Seat
) -> None:
    task = page.current().task
    tick_with_cautions(page, qtbot, settled)
    page.list.select(task_key(task.id))
    assert page.pane.keypad.tick_button.text().startswith("Take the tick back")
    key(page, qtbot, Qt.Key.Key_Space)
    settled()
    assert bench_day.done_today(seat) == []


def test_what_waits_is_refused_with_its_sentence_beside_the_task(
    page: BenchPage, qtbot: QtBot, settled: Settled, work: ShopAtWork
) -> None:
    page.open_on(job_id=work.waiting.job_id)
    settled()
    waiting = next(r for r in rows(page) if isinstance(r, TaskRow) and r.state == "waits")
    page.list.select(waiting.key)
    assert page.pane.waits.text()
    key(page, qtbot, Qt.Key.Key_Space)
    settled()
    refused = page.current().refused
    assert refused.startswith(f"“{waiting.task.name}”")
    assert page.pane.problem.isVisible()
    assert page.pane.problem.text() == refused
    key(page, qtbot, Qt.Key.Key_Up)
    qtbot.waitUntil(lambda: not any(isinstance(r, TaskRow) and r.refused for r in rows(page)))


def test_the_mouse_ticks_on_the_square(page: BenchPage, qtbot: QtBot, settled: Settled, seat: Seat) -> None:
    task = page.current().task
    rect = page.list.view.visualRect(page.list.view.currentIndex())
    spot = rect.topLeft() + rect.center() - rect.center()
    spot.setX(rect.x() + page.fontMetrics().height() + 8)
    spot.setY(rect.center().y())
    key(page, qtbot, Qt.Key.Key_K)
    settled()
    qtbot.mouseClick(page.list.view.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    settled()
    assert [t.id for t in bench_day.done_today(seat)] == [task.id]


def test_waiting_tasks_unfold_under_their_range_by_key(page: BenchPage, qtbot: QtBot) -> None:
    folded = next(row for row in rows(page) if isinstance(row, RangeRow) and row.folds)
    before = page.list.model.rowCount()
    page.list.select(folded.key)
    key(page, qtbot, Qt.Key.Key_Right)
    assert page.list.model.rowCount() > before
    key(page, qtbot, Qt.Key.Key_Return)
    assert page.list.model.rowCount() == before


def test_the_clock_runs_in_sight_with_range_task_and_time(
    page: BenchPage, qtbot: QtBot, settled: Settled, seat: Seat, clock: FixedClock
) -> None:
    task = page.current().task
    assert not page.clock.isVisible()
    key(page, qtbot, Qt.Key.Key_R)
    settled()
    assert page.clock.isVisible()
    assert task.range_number in page.clock.words.text()
    assert task.name in page.clock.words.text()
    assert page.current().running
    clock.advance(minutes=42)
    page.clock._tick()
    assert "42 min" in page.clock.words.text()
    key(page, qtbot, Qt.Key.Key_R)
    settled()
    assert not page.clock.isVisible()
    assert [row.minutes for row in bench.time_rows(seat, task.job_id)] == [42]


def test_a_clock_forgotten_overnight_is_asked_about_on_start_up(
    page: BenchPage, qtbot: QtBot, settled: Settled, context: Context, seat: Seat, clock: FixedClock
) -> None:
    key(page, qtbot, Qt.Key.Key_R)
    settled()
    started = bench.running_clock(seat).started_at
    page.hide()
    clock.advance(hours=30)
    later = BenchPage(context)
    qtbot.addWidget(later)
    later.show()
    later.refresh(BenchPage.everything)
    settled()
    later.focusFirst()
    assert later.clock.asks
    assert "until when" in later.clock.question.text()
    assert "yesterday" in later.clock.question.text()
    qtbot.keyClick(later, Qt.Key.Key_R)  # never stops it at now while it is doubtful
    settled()
    assert bench.running_clock(seat) is not None
    later.clock.field.setText("teatime")
    later.clock.then_button.click()
    assert "not an hour" in later.clock.problem.text()
    local = seat.region.local(started + dt.timedelta(minutes=95))
    later.clock.field.setText(f"{local:%H:%M}")
    qtbot.keyClick(later.clock.field, Qt.Key.Key_Return)
    settled()
    assert bench.running_clock(seat) is None
    (entry,) = bench.time_rows(seat, page.current().task.job_id)
    assert entry.minutes == pytest.approx(95, abs=1)
    later.hide()


def test_a_clock_may_go_on_running(
    page: BenchPage, qtbot: QtBot, settled: Settled, context: Context, seat: Seat, clock: FixedClock
) -> None:
    key(page, qtbot, Qt.Key.Key_R)
    settled()
    clock.advance(hours=20)
    later = BenchPage(context)
    qtbot.addWidget(later)
    later.show()
    later.refresh(BenchPage.everything)
    settled()
    later.clock.runs_button.click()
    assert not later.clock.asks
    assert later.clock.stop_button.isVisible()
    later.refresh(BenchPage.everything)
    settled()
    assert not later.clock.asks
    later.hide()


@pytest.mark.parametrize(("typed", "minutes"), [("1:30", 90), ("1.5h", 90), ("90m", 90), ("2", 120)])
def test_hours_are_typed_afterwards_as_people_write_them(
    page: BenchPage, qtbot: QtBot, settled: Settled, seat: Seat, typed: str, minutes: int
) -> None:
    task = page.current().task
    key(page, qtbot, Qt.Key.Key_H)
    field = page.pane.deed.form["minutes"].field
    qtbot.keyClicks(field, typed)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    settled()
    assert [row.minutes for row in bench.time_rows(seat, task.job_id)] == [minutes]
    assert page.pane.deed is None


def test_hours_that_are_none_stay_in_the_form_with_a_sentence(
    page: BenchPage, qtbot: QtBot, settled: Settled, seat: Seat
) -> None:
    key(page, qtbot, Qt.Key.Key_H)
    form = page.pane.deed.form
    qtbot.keyClicks(form["minutes"].field, "a while")
    qtbot.keyClick(form["minutes"].field, Qt.Key.Key_Return)
    settled()
    assert page.pane.deed is not None
    assert "not a time" in form["minutes"].accessibleDescription()
    qtbot.keyClick(page.pane.deed, Qt.Key.Key_Escape)
    assert page.pane.deed is None
    assert page.pane.keypad.isVisible()


def test_a_note_is_typed_or_clicked_from_the_phrases(
    page: BenchPage, qtbot: QtBot, settled: Settled, seat: Seat
) -> None:
    task = page.current().task
    key(page, qtbot, Qt.Key.Key_N)
    deed = page.pane.deed
    phrases = deed.findChild(QListWidget)
    qtbot.keyClicks(deed.form["note"], "Seen.")
    phrases.setCurrentRow(0)
    qtbot.keyClick(phrases, Qt.Key.Key_Return)
    deed.form.submit()
    settled()
    note = next(t for t in bench.tasks_today(seat) if t.id == task.id).note
    assert note == f"Seen. {seat.catalogue.phrases[0]}"


def test_a_blocked_task_waits_and_is_freed(
    page: BenchPage, qtbot: QtBot, settled: Settled, seat: Seat
) -> None:
    task = page.current().task
    key(page, qtbot, Qt.Key.Key_B)
    qtbot.keyClicks(page.pane.deed.form["because"], "dolly is broken")
    page.pane.deed.form.submit()
    settled()
    blocked = next(t for t in bench.tasks_today(seat) if t.id == task.id)
    assert [(w.kind, w.what) for w in blocked.waits] == [("blocked", "dolly is broken")]
    page.context.go("bench")
    page._find_task(task.id)
    settled()
    assert page.current().facts == "blocked: dolly is broken"
    key(page, qtbot, Qt.Key.Key_B)
    assert page.pane.deed.form["because"].value() == "dolly is broken"
    page.pane.deed.form["because"].setPlainText("")
    page.pane.deed.form.submit()
    settled()
    assert next(t for t in bench.tasks_today(seat) if t.id == task.id).waits == ()


def test_found_more_tells_the_counter_and_keeps_its_picture(
    page: BenchPage, qtbot: QtBot, settled: Settled, seat: Seat, tmp_path: Path
) -> None:
    shot = tmp_path / "crack.png"
    Image.new("RGB", (40, 30), "grey").save(shot)
    key(page, qtbot, Qt.Key.Key_M)
    deed = page.pane.deed
    deed.form["what"].setPlainText("Manifold cracked")
    qtbot.keyClicks(deed.form["likely"].field, "1:30")
    deed.strip.brought.emit([Brought(shot.name, shot)])
    qtbot.keyClick(deed.form["likely"].field, Qt.Key.Key_Return)
    settled()
    found = next(t for t in bench.tasks_today(seat) if t.name == "Manifold cracked")
    assert found.minutes.likely == 90
    assert any(wait.kind == "agreement" for wait in found.waits)
    assert [p.caption for p in bench_day.task_sheet(seat, found.id).photographs] == ["Manifold cracked"]


def test_a_photograph_is_kept_with_the_task_and_a_lost_file_is_told(
    page: BenchPage, qtbot: QtBot, settled: Settled, seat: Seat, tmp_path: Path, dialogs: object
) -> None:
    task = page.current().task
    shot = tmp_path / "tag.jpg"
    Image.new("RGB", (40, 30), "white").save(shot)
    dialogs.files = [shot]
    key(page, qtbot, Qt.Key.Key_P)
    settled()
    assert len(bench_day.task_sheet(seat, task.id).photographs) == 1
    assert page.pane.strip.list.count() == 1
    dialogs.files = [tmp_path / "gone.jpg"]
    key(page, qtbot, Qt.Key.Key_P)
    settled()
    assert "gone.jpg could not be read" in page.pane.problem.text()


def test_a_task_is_given_to_a_person_and_leaves_the_others_list(
    page: BenchPage, qtbot: QtBot, settled: Settled, seat: Seat, work: ShopAtWork
) -> None:
    task = page.current().task
    key(page, qtbot, Qt.Key.Key_A)
    page.pane.deed.form["staff_id"].setValue(work.technician)
    qtbot.keyClick(page.pane.deed.form["staff_id"], Qt.Key.Key_Return)
    settled()
    assert page.list.model.place_of(task_key(task.id)) is None
    page.filter.setValue(EVERYBODY)
    page.filter.edited.emit()
    settled()
    place = page.list.model.place_of(task_key(task.id))
    assert page.list.model.row(place).facts.startswith("for Bram Tollgate")
    page.context.take_seat(seat.taken_by(work.technician))
    page.filter.setValue(MINE)
    page.refresh(BenchPage.everything)
    settled()
    place = page.list.model.place_of(task_key(task.id))
    assert page.list.model.row(place).facts.startswith("yours")


def test_part_done_fills_the_square_partly(
    page: BenchPage, qtbot: QtBot, settled: Settled, seat: Seat
) -> None:
    task = page.current().task
    key(page, qtbot, Qt.Key.Key_K)
    settled()
    key(page, qtbot, Qt.Key.Key_D)
    page.pane.deed.form["share"].setValue(50)
    page.pane.deed.form.submit()
    settled()
    assert next(t for t in bench.tasks_today(seat) if t.id == task.id).done_share == 50
    page.list.select(task_key(task.id))
    assert page.current().facts.startswith("50 % done")


def test_one_range_is_shown_when_the_bench_is_opened_on_it(
    page: BenchPage, settled: Settled, work: ShopAtWork
) -> None:
    page.open_on(job_id=work.agreed.job_id)
    settled()
    shown = [row.task.job_id for row in rows(page) if isinstance(row, TaskRow)]
    assert set(shown) == {work.agreed.job_id}
    assert page.filter.value() == work.agreed.job_id
    assert page.filter.currentText() == f"{work.agreed.number} only"
    assert len(shown) > 12


def test_selection_survives_a_refresh(page: BenchPage, qtbot: QtBot, settled: Settled) -> None:
    key(page, qtbot, Qt.Key.Key_Down)
    chosen = page.current()
    page.refresh(BenchPage.everything)
    settled()
    assert page.current() == chosen
    assert page.list.view.hasFocus()


def test_return_opens_the_jacket_of_the_range(page: BenchPage, qtbot: QtBot) -> None:
    asked: list[tuple[str, object]] = []
    page.context.placeAsked.connect(lambda place, what: asked.append((place, what)))
    key(page, qtbot, Qt.Key.Key_Return)
    assert asked == [("jacket", {"range_id": page.current().task.range_id})]


def test_the_keypad_does_by_mouse_what_the_keys_do(
    page: BenchPage, qtbot: QtBot, settled: Settled, seat: Seat
) -> None:
    qtbot.mouseClick(page.pane.keypad.clock_button, Qt.MouseButton.LeftButton)
    settled()
    assert bench.running_clock(seat) is not None
    for button in page.pane.keypad.rest[:6]:
        if "Photograph" in button.text():
            continue
        qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
        assert page.pane.deed is not None, button.text()
        page.close_deed()
    assert page.list.view.hasFocus()


def test_a_shop_without_work_says_what_will_stand_here(
    context: Context, qtbot: QtBot, settled: Settled, work: ShopAtWork
) -> None:
    for job in (work.agreed.job_id, work.waiting.job_id):
        end_job(context.seat, job, Stage.WITHDRAWN, "sold")
    page = BenchPage(context)
    qtbot.addWidget(page)
    page.show()
    page.refresh(BenchPage.everything)
    settled()
    assert page.list.empty.isVisible()
    assert not page.pane.area.isVisible()
    for letter in (Qt.Key.Key_Space, Qt.Key.Key_R, Qt.Key.Key_H, Qt.Key.Key_P, Qt.Key.Key_U):
        qtbot.keyClick(page, letter)
    assert page.pane.deed is None
    page.hide()


def test_everything_on_the_bench_has_a_name(
    page: BenchPage, qtbot: QtBot, settled: Settled, unnamed: Callable[[object], list[object]]
) -> None:
    assert unnamed(page) == []
    for letter in (Qt.Key.Key_H, Qt.Key.Key_N, Qt.Key.Key_M, Qt.Key.Key_A):
        key(page, qtbot, letter)
        assert unnamed(page) == []
        page.close_deed()
    assert QApplication.focusWidget() in (page.list.view, None)


def test_the_laboratorys_answer_frees_what_waits_for_it(
    page: BenchPage, qtbot: QtBot, settled: Settled, seat: Seat
) -> None:
    taken = range_with_work(seat, "Tansley", ("insulation-fat.soaked",))
    page.open_on(job_id=taken.job_id)
    settled()
    held = next(
        row
        for row in rows(page)
        if isinstance(row, TaskRow) and any(w.kind == "laboratory" for w in row.task.waits)
    )
    assert "waits for the laboratory’s answer" in held.facts
    page.list.select(held.key)
    assert page.pane.keypad.answer_button.isVisible()
    key(page, qtbot, Qt.Key.Key_L)
    form = page.pane.deed.form
    form.submit()
    assert form["answer"].accessibleDescription() == "Choose what the report says."
    form["answer"].setValue("negative")
    form.submit()
    settled()
    assert "nobody judges this by eye" in form["reference"].accessibleDescription()
    form["reference"].setText("Finchfield Laboratory, report 0000")
    form.submit()
    settled()
    assert page.pane.deed is None
    waits = {w.kind for task in bench.job_tasks(seat, taken.job_id) for w in task.waits}
    assert "laboratory" not in waits


def test_a_metric_shop_is_told_cautions_in_its_own_units(
    qtbot: QtBot, context: Context, seat: Seat, settled: Settled
) -> None:
    keep_setting(seat, replace(seat.region, units="metric", language="en_GB"))
    context.take_seat(seat.refreshed())
    made = BenchPage(context)
    qtbot.addWidget(made)
    made.refresh(BenchPage.everything)
    settled()
    cautions = context.seat.catalogue.cautions
    made.pane.show_task(made.current(), [c for c in cautions.values() if " lb" in c.text])
    told = [one.accessibleName() for one in made.pane.cautions.findChildren(CautionText)]
    assert told
    assert all(" kg" in text and " lb" not in text for text in told)
