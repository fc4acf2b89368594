"""The jacket with a real shop: the thread, proofs and release, photographs, papers, deeds, several tabs."""

import io
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from copied_shop import MadeShop, make_shop
from fixed_clock import FixedClock
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QMenu, QWidget
from pytestqt.qtbot import QtBot
from shop_at_work import ShopAtWork

from shopdesk.demo import steps
from shopdesk.domain.picture_changes import MarkKind
from shopdesk.domain.stage import Stage
from shopdesk.services import intake, proofs, work_orders
from shopdesk.services.jacket import HistoryLine, jacket
from shopdesk.services.photographs import add_photograph, as_taken, photographs_of
from shopdesk.services.planning import promises
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.work import Task
from shopdesk.ui.context import Context
from shopdesk.ui.pages.jacket.history import told
from shopdesk.ui.pages.jacket.page import JacketPage
from shopdesk.ui.pages.jacket.view import JacketView
from shopdesk.ui.pictures.window import PhotoWindow
from shopdesk.ui.view import View
from shopdesk.ui.widgets.photo_strip import Brought

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
def page(work: ShopAtWork, context: Context, qtbot: QtBot) -> JacketPage:
    made = JacketPage(context)
    qtbot.addWidget(made)
    made.resize(1150, 800)
    context.changed.connect(made.refresh)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.refresh(JacketPage.everything)
    return made


@pytest.fixture
def jacket_view(page: JacketPage, work: ShopAtWork, settled: Settled) -> JacketView:
    page.open_on(range_id=work.agreed.range_id)
    page.focusFirst()
    settled()
    shown = page.current()
    assert shown is not None
    return shown


def _picture(colour: int) -> bytes:
    kept = io.BytesIO()
    Image.new("RGB", (64, 48), (colour % 256, 90, 40)).save(kept, "PNG")
    return kept.getvalue()


def _finish_work(seat: Seat, job_id: int) -> None:
    """Every task up to refit done, as if its parts had come; straight on the tables, for time's sake."""
    with seat.file.writing(seat.acting, "tick a task") as unit:
        for line in work_orders.task_lines(seat, job_id):
            if line.stage in ("intake", "teardown", "repair", "refit"):
                task = unit.get(Task, line.id, "task")
                task.done_share, task.done_at, task.done_by_id = 100, unit.now, seat.acting.staff_id


def _prove(seat: Seat, job_id: int, *, but: tuple[str, ...] = (), only: tuple[str, ...] = ()) -> None:
    for due in proofs.proofs_due(seat, job_id):
        if due.code not in but and (not only or due.code in only):
            steps.make(seat, job_id, due.code)


def test_its_label_is_shown_from_the_deeds(jacket_view: JacketView, context: Context, qtbot: QtBot) -> None:
    menu = QMenu()
    jacket_view.deeds.fill(menu)
    label = next(action for action in menu.actions() if action.text() == "Print its label")
    with qtbot.waitSignal(context.paperAsked, timeout=10_000) as shown:
        label.trigger()
    assert bytes(shown.args[0]).startswith(b"%PDF")


def test_the_head_says_what_it_is_whose_it_is_and_when_it_is_promised(
    jacket_view: JacketView, work: ShopAtWork
) -> None:
    assert jacket_view.head.name.text() == f"{work.agreed.number}  Corvane No. 40, ivory"
    assert jacket_view.head.customer.text() == "Owner of the Corvane, 555 0190"
    assert jacket_view.head.promised.text().endswith("30 days left")
    assert "agreed" in jacket_view.head.strip.accessibleName()
    assert jacket_view.head.held.text().startswith("Held for ")
    assert "serious" in jacket_view.head.picture.accessibleName()


def test_choosing_a_finding_lights_what_it_led_to_and_says_it(jacket_view: JacketView) -> None:
    thread = jacket_view.thread_section
    assert jacket_view.jacket is not None
    found = next(f for f in jacket_view.jacket.findings if f.tasks)
    thread.findings.select(found.observation_id)
    assert thread._rows["task"].lit == frozenset(found.tasks)
    assert thread._rows["finding"].lit == frozenset()
    assert thread.sentence.text().startswith(found.words)
    assert "led to" in thread.sentence.text()
    assert set(thread.lines._lit) == {(found.observation_id, task) for task in found.tasks}


def test_choosing_a_task_lights_what_it_came_from(jacket_view: JacketView) -> None:
    thread = jacket_view.thread_section
    assert jacket_view.jacket is not None
    task = next(t for t in jacket_view.jacket.tasks if t.findings)
    thread.findings.select(jacket_view.jacket.findings[0].observation_id)
    thread.tasks.select(task.id)
    assert thread.findings.current_key() is None
    assert thread._rows["finding"].lit == frozenset(task.findings)
    assert f"{task.name}: because of {task.because[0]}" in thread.sentence.text()


def test_the_thread_leads_to_the_quote_it_stands_on(
    jacket_view: JacketView, context: Context, qtbot: QtBot
) -> None:
    assert jacket_view.jacket is not None
    task = next(t for t in jacket_view.jacket.tasks if t.quote_numbers)
    jacket_view.thread_section.tasks.select(task.id)
    with qtbot.waitSignal(context.paperAsked, timeout=10_000) as shown:
        qtbot.keyClick(jacket_view.thread_section.tasks.view, Qt.Key.Key_Return)
    assert shown.args[0].startswith(b"%PDF")
    assert task.quote_numbers[-1] in shown.args[2]


def test_the_thread_stays_chosen_when_the_shop_changes(
    jacket_view: JacketView, context: Context, settled: Settled
) -> None:
    assert jacket_view.jacket is not None
    key = jacket_view.jacket.findings[1].observation_id
    jacket_view.thread_section.findings.select(key)
    context.announce("jobs")
    settled()
    assert jacket_view.thread_section.findings.current_key() == key
    assert jacket_view.thread_section._rows["task"].lit


def test_lists_stand_under_each_other_in_a_narrow_window(page: JacketPage, jacket_view: JacketView) -> None:
    assert jacket_view.thread_section.lines.isVisible()
    page.resize(520, 800)
    QApplication.processEvents()
    assert not jacket_view.thread_section.lines.isVisible()
    assert jacket_view.thread_section.tasks.y() > jacket_view.thread_section.findings.y()


def test_thirty_photographs_and_every_task_open_in_one_go(
    page: JacketPage, work: ShopAtWork, seat: Seat, settled: Settled
) -> None:
    for number in range(30):
        add_photograph(seat, work.agreed.range_id, _picture(7 * number), f"{number}.png", caption=f"{number}")
    page.open_on(range_id=work.agreed.range_id)
    settled()
    jacket_view = page.current()
    assert jacket_view is not None
    assert jacket_view.photographs.strip.list.count() == 30
    assert jacket_view.jacket is not None
    assert jacket_view.thread_section.tasks.model.rowCount() == len(jacket_view.jacket.tasks) > 30


def test_a_photograph_that_is_brought_is_kept_and_shown(
    jacket_view: JacketView, seat: Seat, settled: Settled
) -> None:
    jacket_view.photographs.strip.brought.emit([Brought("side.png", None, _picture(200))])
    settled()
    assert len(photographs_of(seat, jacket_view.range_id)) == 1
    assert jacket_view.photographs.strip.list.count() == 1


def test_what_is_no_picture_is_refused_with_a_sentence(
    jacket_view: JacketView, context: Context, settled: Settled
) -> None:
    said: list[Any] = []
    context.told.connect(said.append)
    jacket_view.photographs.strip.brought.emit([Brought("letter.png", None, b"no picture")])
    settled()
    assert said[-1].problem
    assert "letter.png" in said[-1].text


def test_a_photograph_opens_large_and_arrows_go_to_the_next(
    jacket_view: JacketView, seat: Seat, settled: Settled, context: Context, qtbot: QtBot
) -> None:
    for number in (1, 2):
        add_photograph(seat, jacket_view.range_id, _picture(90 * number), "p.png", caption=f"Side {number}")
    jacket_view.refresh()
    settled()
    jacket_view.photographs.open(photographs_of(seat, jacket_view.range_id)[0].id)
    settled()
    window = jacket_view.photographs.findChild(PhotoWindow)
    assert window is not None
    assert window.windowTitle() == "Side 1, 1 of 2"
    assert not window.board.canvas._picture.isNull()
    qtbot.keyClick(window.board.canvas, Qt.Key.Key_PageDown)
    settled()
    assert window.windowTitle() == "Side 2, 2 of 2"
    window.close()


def test_a_photograph_is_marked_from_the_jacket_as_on_the_walk_round(
    jacket_view: JacketView, seat: Seat, settled: Settled, qtbot: QtBot,
    unnamed: Callable[[QWidget], list[object]],
) -> None:  # fmt: skip
    for number in (1, 2):
        add_photograph(seat, jacket_view.range_id, _picture(90 * number), "p.png", caption=f"Side {number}")
    jacket_view.refresh()
    settled()
    first, second = (row.id for row in photographs_of(seat, jacket_view.range_id)[-2:])
    jacket_view.photographs.open(first)
    settled()
    window = jacket_view.photographs.findChild(PhotoWindow)
    assert window is not None
    assert unnamed(window) == []
    canvas = window.board.canvas
    for key in ("c", " "):
        qtbot.keyClick(canvas, key)
    for _ in range(4):
        qtbot.keyClick(canvas, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
        qtbot.keyClick(canvas, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClick(canvas, " ")
    qtbot.keyClick(canvas, Qt.Key.Key_PageDown)  # the next picture: what was drawn is kept first
    settled()
    shown = [row.id for row in photographs_of(seat, jacket_view.range_id)]
    assert first not in shown
    assert second in shown
    marked = next(key for key in shown if as_taken(seat, key).original_id == first)
    assert [mark.kind for mark in as_taken(seat, marked).changes.marks] == [MarkKind.CIRCLE]
    assert window.windowTitle().startswith("Side 2")
    window.close()


def test_a_proof_is_made_in_the_room_of_proofs_and_stands_here_afterwards(
    jacket_view: JacketView, seat: Seat, settled: Settled, context: Context, qtbot: QtBot
) -> None:
    jacket_view.proofs.due.select("valves")
    with qtbot.waitSignal(context.placeAsked) as asked:
        jacket_view.proofs.record_button.click()
    assert asked.args == ["proving", {"job_id": jacket_view.job_id, "kind": "valves"}]
    _prove(seat, jacket_view.job_id or 0, only=("valves",))
    jacket_view.refresh()
    settled()
    line = jacket(seat, jacket_view.range_id).proofs[0]
    assert (line.kind, line.result) == ("valves", "meets")
    assert ("Valves tried, cold and hot", "12") in line.readings
    assert jacket_view.proofs.read.model.rowCount() == 1


def test_a_release_asks_a_reason_for_each_lesser_proof_and_refuses_the_grave_ones(
    jacket_view: JacketView, seat: Seat, settled: Settled, context: Context
) -> None:
    assert jacket_view.job_id is not None
    _finish_work(seat, jacket_view.job_id)
    _prove(seat, jacket_view.job_id, but=("valves", "tightness-assembled"))
    jacket_view.refresh()
    settled()
    jacket_view.proofs.release_button.click()
    form = jacket_view.proofs.panel.form
    assert form is not None
    form.submit()
    assert form["valves"].accessibleDescription().startswith("Give a reason")
    form["valves"].setValue("Plug on order; the customer knows.")
    form.submit()
    settled()
    assert "Leak test of the assembled range" in form._whole.text()
    _prove(seat, jacket_view.job_id, but=("valves",))
    form.submit()
    settled()
    assert jacket_view.proofs.panel.form is None
    assert jacket_view.proofs.standing.text().startswith("Released by Ida Kessler")
    assert jacket(seat, jacket_view.range_id).stage is Stage.READY


def test_without_a_release_it_leaves_only_red_tagged(
    jacket_view: JacketView, seat: Seat, settled: Settled, context: Context, qtbot: QtBot
) -> None:
    jacket_view.proofs.hand_over()
    form = jacket_view.proofs.panel.form
    assert form is not None
    assert form["red_tagged"].value()
    form["red_tagged"].setValue(False)
    form.submit()
    settled()
    assert "no release that stands" in form._whole.text()
    form["red_tagged"].setValue(True)
    with qtbot.waitSignal(context.paperAsked, timeout=10_000):
        form.submit()
    settled()
    found = jacket(seat, jacket_view.range_id)
    assert found.red_tagged
    assert "disconnected and red-tagged" in jacket_view.head.promised.text()
    assert not jacket_view.proofs.over_button.isVisible()


def test_the_promise_is_changed_from_the_head(jacket_view: JacketView, seat: Seat, settled: Settled) -> None:
    jacket_view.head.promise_button.click()
    form = jacket_view.panel.form
    assert form is not None
    form["on"].setTyped("2026-12-24")
    form.submit()
    settled()
    assert jacket_view.panel.form is form  # it changes, and the customer is told why
    form["why"].setValue("The plater is late.")
    form.submit()
    settled()
    assert jacket_view.panel.form is None
    assert jacket_view.head.promised.text().startswith("Promised Dec 24, 2026")


def test_a_range_is_moved_and_its_description_corrected(
    jacket_view: JacketView, seat: Seat, settled: Settled
) -> None:
    jacket_view.deeds.moved()
    assert jacket_view.panel.form is not None
    jacket_view.panel.form["to"].setValue("bay 9")
    jacket_view.panel.form.submit()
    settled()
    assert "stands at bay 9" in jacket_view.head.about.text()
    jacket_view.deeds.describe()
    form = jacket_view.panel.form
    assert form is not None
    assert form["stands_at"].value() == "bay 9"
    form["colour"].setValue("pale green")
    form.submit()
    settled()
    assert jacket_view.head.name.text().endswith("Corvane No. 40, pale green")


def test_an_ended_job_may_come_back_as_a_new_one_and_both_can_be_looked_at(
    jacket_view: JacketView, seat: Seat, settled: Settled
) -> None:
    first = jacket_view.job_id
    jacket_view.deeds.end()
    form = jacket_view.panel.form
    assert form is not None
    form.submit()
    assert form["why"].accessibleDescription().startswith("Write why")
    form["why"].setValue("The customer moved away.")
    form.submit()
    settled()
    assert jacket(seat, jacket_view.range_id).stage is Stage.WITHDRAWN
    jacket_view.deeds.comeback()
    assert jacket_view.panel.form is not None
    jacket_view.panel.form["complaint"].setValue("The pilot goes out.")
    jacket_view.panel.form.submit()
    settled()
    found = jacket(seat, jacket_view.range_id)
    assert found.stage is Stage.BOOKED_IN
    assert found.job_id != first
    jacket_view.show_job(found.job_id)
    settled()
    assert jacket_view.head.jobs.count() == 2
    assert jacket_view.head.complaint.text() == "“The pilot goes out.”"
    jacket_view.head.jobs.setValue(first)
    jacket_view.head.jobs.edited.emit()
    settled()
    assert jacket_view.jacket is not None
    assert jacket_view.jacket.stage is Stage.WITHDRAWN


def test_the_menu_offers_only_what_may_be_done(
    jacket_view: JacketView, context: Context, seat: Seat, work: ShopAtWork
) -> None:
    menu = QMenu(jacket_view)
    jacket_view.deeds.fill(menu)
    assert "End this job…" in [a.text() for a in menu.actions()]
    assert "It has come in" not in [a.text() for a in menu.actions()]
    context.take_seat(seat.taken_by(work.technician))
    jacket_view.deeds.fill(menu)
    assert [a.text() for a in menu.actions()] == [
        "Moved to another place…", "Where it stands", "Before and after…", "Log book", "Print its label",
    ]  # fmt: skip


def test_several_jackets_are_open_at_once_and_each_closes(
    page: JacketPage, jacket_view: JacketView, work: ShopAtWork, settled: Settled, qtbot: QtBot
) -> None:
    page.open_on(range_id=work.waiting.range_id)
    settled()
    assert [page.tabs.tabText(n) for n in range(2)] == [work.agreed.number, work.waiting.number]
    page.open_on(range_id=work.agreed.range_id)
    assert page.current() is jacket_view
    qtbot.keyClick(page, Qt.Key.Key_W, Qt.KeyboardModifier.ControlModifier)
    assert page.tabs.count() == 1
    qtbot.keyClick(page, Qt.Key.Key_W, Qt.KeyboardModifier.ControlModifier)
    assert page.empty.isVisible()
    settled()


def test_a_jacket_out_of_sight_is_brought_up_to_date_when_it_is_shown(
    page: JacketPage,
    jacket_view: JacketView,
    work: ShopAtWork,
    seat: Seat,
    context: Context,
    settled: Settled,
) -> None:
    page.open_on(range_id=work.waiting.range_id)
    settled()
    promises.promise(seat, work.agreed.job_id, None, "The customer is in no hurry.")
    context.announce("jobs")
    settled()
    assert jacket_view.head.promised.text().endswith("30 days left")
    page.open_on(range_id=work.agreed.range_id)
    settled()
    assert jacket_view.head.promised.text() == "No day is promised."


def test_a_jacket_without_findings_offers_the_walk_round(
    page: JacketPage, seat: Seat, context: Context, settled: Settled
) -> None:
    taken = intake.take_on(seat, intake.RangeDraft(maker="Tilmont"), intake.JobDraft())
    asked: list[Any] = []
    context.placeAsked.connect(lambda place, what: asked.append((place, what)))
    page.open_on(range_id=taken.range_id)
    settled()
    view = page.current()
    assert view is not None
    assert not view.thread_section.sentence.isVisible()
    button = view.thread_section.findings.empty.button
    assert button is not None
    button.click()
    assert asked == [("walk-round", {"job_id": taken.job_id})]


def test_tab_into_a_table_chooses_a_row(jacket_view: JacketView, qtbot: QtBot) -> None:
    jacket_view.more.setFocus()
    jacket_view.papers.view.setFocus(Qt.FocusReason.TabFocusReason)
    assert len(jacket_view.papers.selected()) == 1


def test_the_keyboard_begins_in_the_thread(jacket_view: JacketView) -> None:
    assert jacket_view.thread_section.findings.view.hasFocus()
    jacket_view.go_to("Papers")
    assert jacket_view.papers.view.hasFocus()


def test_a_paper_is_shown_on_return(jacket_view: JacketView, context: Context, qtbot: QtBot) -> None:
    jacket_view.go_to("Papers")
    with qtbot.waitSignal(context.paperAsked, timeout=10_000) as shown:
        qtbot.keyClick(jacket_view.papers.view, Qt.Key.Key_Return)
    assert shown.args[0].startswith(b"%PDF")


def test_every_control_has_a_name(jacket_view: JacketView, unnamed: Callable[[QWidget], list[Any]]) -> None:
    jacket_view.proofs.release()
    assert not unnamed(jacket_view)


@pytest.mark.parametrize("scheme", ["light", "dark", "contrast"])
def test_the_jacket_is_drawn_in_every_look(
    page: JacketPage, jacket_view: JacketView, view: View, scheme: Any
) -> None:
    view.choose_scheme(scheme)
    QApplication.processEvents()
    image: QImage = page.grab().toImage()
    assert len({image.pixel(x, y) for x in range(0, 1100, 9) for y in range(0, 700, 9)}) > 6


def test_history_is_told_day_by_day_and_repeats_are_counted(seat: Seat, clock: FixedClock) -> None:
    late = clock()
    lines = [HistoryLine(clock(), "Ida", "tick a task", "task") for _ in range(3)]
    lines.append(HistoryLine(clock(), "Ida", "book a range in", "gas_range"))
    lines.append(HistoryLine(clock(), "Bram", "an unknown deed", "x"))
    shown = told(seat.region, lines)
    assert [line.who for line in shown] == ["Ida", "Bram"]
    assert shown[0].what == "wrote the range down, worked on a task (3 times)"
    assert shown[0].when == seat.region.day(seat.region.local_day(late))
    assert shown[1].what == "an unknown deed"


def test_every_action_of_the_shop_has_its_words() -> None:
    from shopdesk.domain.rights import Action
    from shopdesk.ui.deed_words import deed

    told_apart = set(Action) - {Action.LOOK, Action.SEE_COSTS, Action.SET_UP, Action.KEEP_PEOPLE}
    assert [a for a in told_apart if deed(a.value, "") == a.value] == []


def test_work_done_at_the_bench_shows_in_the_thread(
    jacket_view: JacketView, seat: Seat, context: Context, settled: Settled, work: ShopAtWork
) -> None:
    assert not any(row.done for row in jacket_view.thread_section.tasks._all)
    _finish_work(seat, work.agreed.job_id)
    context.announce(f"job {work.agreed.job_id}", "jobs")
    settled()
    done = [row for row in jacket_view.thread_section.tasks._all if row.done]
    assert done
    assert all(row.second.startswith("done") for row in done)
