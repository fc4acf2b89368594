"""The window as a whole: start page, rail, pages, people, messages, papers, the look, closing."""

import os
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import few_pages
import pytest
from conftest import CannedDialogs  # type: ignore[import-not-found]
from fixed_clock import FixedClock
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot
from reportlab.pdfgen.canvas import Canvas

from shopdesk import paths
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action, Role
from shopdesk.services.seat import Seat, open_shop
from shopdesk.services.settings import Copies, Sample
from shopdesk.services.shops import StaffDraft, keep_setting, keep_staff, staff
from shopdesk.ui import went_wrong
from shopdesk.ui.context import Message
from shopdesk.ui.memory import Memory
from shopdesk.ui.opening import Opening
from shopdesk.ui.paper_window import PaperWindow
from shopdesk.ui.places import all_places, places
from shopdesk.ui.view import View
from shopdesk.ui.widgets.band import Band
from shopdesk.ui.window import MainWindow
from shopdesk.ui.workers import Workers


@pytest.fixture
def window(
    qtbot: QtBot, workers: Workers, clock: FixedClock, dialogs: CannedDialogs, memory: Memory, view: View,
    tmp_path: Path,
) -> Iterator[MainWindow]:  # fmt: skip
    opening = Opening(workers, clock)
    made = MainWindow(
        workers, opening, dialogs, memory, view, folder=tmp_path, sample_here=True,
        with_places=few_pages.few_places,
    )  # fmt: skip
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.show_start()
    yield made
    made.close()
    assert not made.isVisible()
    made.deleteLater()


@pytest.fixture
def opened(window: MainWindow, seat: Seat, qtbot: QtBot, settled: Callable[[], None]) -> MainWindow:
    """The window on a shop with two people."""
    keep_staff(seat, StaffDraft("Bo Lind", Role.TECHNICIAN))
    place = seat.file.url.database
    seat.file.close()
    with qtbot.waitSignal(window._opening.opened, timeout=10_000):
        window._opening.open(str(place))
    settled()
    return window


def page(window: MainWindow, key: str) -> Any:
    assert window.workspace is not None
    return window.workspace.desk.page(key)


def here(window: MainWindow) -> str:
    assert window.workspace is not None
    return window.workspace.desk.here


# The start page


def test_the_start_page_makes_a_shop_and_opens_it(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, memory: Memory, settled: Callable[[], None]
) -> None:
    form = window.start.form
    assert form["name"].hasFocus()
    qtbot.keyClicks(form["name"], "Hearth & Damper")
    qtbot.keyClicks(form["owner"], "Ida Kessler")
    qtbot.keyClicks(form["address"].town, "Millbrook")
    place = tmp_path / "hearth-damper.db"
    assert form["place"].value() == str(place), "the file is named after the shop"
    with qtbot.waitSignal(window._opening.opened, timeout=20_000):
        qtbot.keyClick(form["address"].town, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    settled()
    assert window.windowTitle() == "Hearth & Damper - shopdesk"
    assert [row.name for row in page(window, "people").list.model._rows] == ["Ida Kessler"]
    assert memory.text("shop/last") == str(place)
    assert window.workspace is not None
    assert not window.workspace.people.isVisible(), "one person needs no chooser"
    window.close()
    with closing(sqlite3.connect(place)) as file:
        assert file.execute("select name from staff").fetchall() == [("Ida Kessler",)]


def test_the_start_page_asks_for_what_is_missing(window: MainWindow, qtbot: QtBot) -> None:
    window.start.form.submit()
    assert window.start.form["name"].hasFocus()
    assert window.workspace is None


def test_a_file_that_is_no_shop_is_refused_on_the_start_page(
    window: MainWindow, qtbot: QtBot, dialogs: CannedDialogs, tmp_path: Path
) -> None:
    dialogs.file = tmp_path / "letter.db"
    dialogs.file.write_text("Dear customer", encoding="utf-8")
    with qtbot.waitSignal(window._opening.refused):
        window.start.open_button.click()
    assert "not a shop" in window.start.problem.text()
    assert window.start.isVisible()
    assert not window.start.look_button.isVisible()


def test_a_shop_that_is_open_elsewhere_is_offered_to_look_at(
    window: MainWindow, qtbot: QtBot, seat: Seat, settled: Callable[[], None]
) -> None:
    with qtbot.waitSignal(window._opening.refused):
        window._opening.open(str(seat.file.url.database))
    assert "open for writing in another program" in window.start.problem.text()
    with qtbot.waitSignal(window._opening.opened):
        window.start.look_button.click()
    settled()
    assert window.workspace is not None
    assert not window.workspace.context.may(Action.BOOK_IN)
    assert window.workspace.context.may(Action.LOOK)
    assert [band.text() for band in window.findChildren(Band)] == [
        "Open to look at only: nothing can be changed here."
    ]
    page(window, "people").form["name"].setText("Bo")
    page(window, "people").form.submit()
    settled()
    assert "to look at only" in page(window, "people").form._whole.text()
    assert page(window, "people").form["name"].text() == "Bo"


def test_the_sample_opens_as_a_copy_and_says_that_its_calendar_stands_still(
    window: MainWindow, qtbot: QtBot, seat: Seat, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
    memory: Memory, settled: Callable[[], None],
) -> None:  # fmt: skip
    keep_setting(seat, Sample("2026-03-12T18:00:00+00:00"))
    seat.file.close()
    shipped = tmp_path / "shop.db"
    before = shipped.read_bytes()
    monkeypatch.setattr(paths, "sample_shop", lambda: shipped)
    with qtbot.waitSignal(window._opening.opened):
        window.start.sample_button.click()
    settled()
    (band,) = window.findChildren(Band)
    assert "stands still at Mar 12, 2026" in band.text()
    copy = window._opening._sample_folder
    assert copy is not None
    page(window, "people").form["name"].setText("Bo")
    page(window, "people").form.submit()
    settled()
    assert window.workspace is not None
    assert len(staff(window.workspace.context.seat)) == 2
    window.close()
    assert shipped.read_bytes() == before
    assert not copy.exists(), "the copy is gone with the window"
    assert memory.text("shop/last") == ""


# The rail and the pages


def test_places_open_by_number_by_letter_and_by_arrow(opened: MainWindow, qtbot: QtBot) -> None:
    assert opened.workspace is not None
    assert here(opened) == "people"
    qtbot.keyClick(opened, Qt.Key.Key_2, Qt.KeyboardModifier.ControlModifier)
    assert here(opened) == "plain"
    assert page(opened, "plain").field.hasFocus()
    qtbot.keyClick(opened, Qt.Key.Key_T, Qt.KeyboardModifier.AltModifier)
    qtbot.waitUntil(lambda: here(opened) == "third")
    buttons = opened.workspace.rail.buttons
    assert [button.isChecked() for button in buttons] == [False, False, True]
    buttons[2].setFocus()
    qtbot.keyClick(buttons[2], Qt.Key.Key_Down)
    assert buttons[0].hasFocus(), "the arrows go round"
    assert here(opened) == "third", "walking opens nothing yet"
    qtbot.keyClick(buttons[0], Qt.Key.Key_End)
    qtbot.keyClick(buttons[2], Qt.Key.Key_Up)
    qtbot.keyClick(buttons[1], Qt.Key.Key_Return)
    assert here(opened) == "plain"
    tabbable = [b for b in buttons if b.focusPolicy() & Qt.FocusPolicy.TabFocus]
    assert tabbable == [buttons[1]]


def test_a_page_is_made_when_first_opened_and_told_once_what_it_missed(opened: MainWindow) -> None:
    assert opened.workspace is not None
    context = opened.workspace.context
    assert page(opened, "plain") is None
    context.go("plain")
    plain = page(opened, "plain")
    assert plain.refreshed == [frozenset({"everything"})]
    context.go("people")
    context.announce("stores")
    context.announce("job 12", "jobs")
    assert len(plain.refreshed) == 1, "a hidden page is left alone"
    context.go("plain")
    assert plain.refreshed[1:] == [frozenset({"stores", "job 12", "jobs"})]
    context.announce("money")
    assert plain.refreshed[-1] == frozenset({"money"})


def test_a_jacket_opens_on_its_range_and_the_way_leads_back(opened: MainWindow) -> None:
    assert opened.workspace is not None
    context, desk = opened.workspace.context, opened.workspace.desk
    context.go("plain")
    context.open_jacket(7)
    assert here(opened) == "jacket"
    assert page(opened, "jacket").opened_on == [{"range_id": 7}]
    assert not any(button.isChecked() for button in opened.workspace.rail.buttons)
    desk.back()
    assert here(opened) == "plain"
    desk.back()
    assert here(opened) == "people"
    desk.back()
    assert here(opened) == "people"
    context.go("nowhere")
    assert here(opened) == "people"


def test_a_change_on_a_page_shows_in_its_list_and_a_refusal_keeps_what_was_typed(
    opened: MainWindow, qtbot: QtBot, settled: Callable[[], None]
) -> None:
    people = page(opened, "people")
    qtbot.keyClicks(people.form["name"], "Una Dahl")
    people.form.submit()
    settled()
    assert [row.name for row in people.list.model._rows] == ["Bo Lind", "Ida Kessler", "Una Dahl"]
    people.form["name"].setText("   ")
    people.form.submit()
    settled()
    assert people.form._entries["name"].problem.text() == "Someone who works here needs a name."
    assert people.form["name"].text() == "   "
    assert people.form["name"].hasFocus()


def test_choosing_another_person_makes_them_act_and_refreshes_the_page(
    opened: MainWindow, settled: Callable[[], None]
) -> None:
    assert opened.workspace is not None
    chooser = opened.workspace.people
    assert chooser.isVisible()
    assert chooser.text() == "Ida Kessler"
    before = len(page(opened, "people").refreshed)
    next(a for a in chooser.menu().actions() if a.text().startswith("Bo Lind")).trigger()
    settled()
    assert chooser.text() == "Bo Lind"
    assert "Bo Lind" in chooser.accessibleName()
    assert opened.workspace.context.seat.acting.role == Role.TECHNICIAN
    assert len(page(opened, "people").refreshed) == before + 1


def test_only_places_that_came_with_the_program_are_on_the_rail() -> None:
    here_now = [place.key for place in places()]
    assert here_now == [place.key for place in all_places() if place.key in here_now]
    home = Path(sys.modules["shopdesk"].__file__ or "").parent
    for place in all_places():
        file = home.joinpath(*place.module.split(".")[1:]).with_suffix(".py")
        assert file.is_file() == (place.key in here_now)


def test_no_two_places_share_an_alt_letter() -> None:
    letters = [place.title[place.title.index("&") + 1].lower() for place in all_places() if not place.hidden]
    assert len(letters) == len(set(letters))
    assert "v" not in letters, "that is the view menu's"


# Messages, papers, faults


def test_a_message_takes_no_focus_offers_one_step_and_leaves(
    opened: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert opened.workspace is not None
    monkeypatch.setattr("shopdesk.ui.widgets.message_strip.SHOWN_MS", 50)
    context, strip = opened.workspace.context, opened.messages
    field = page(opened, "people").form["name"]
    field.setFocus()
    undone: list[str] = []
    context.tell("Bo Lind was put down.", "Undo", lambda: undone.append("undone"))
    assert strip.isVisible()
    assert field.hasFocus()
    strip.step.click()
    assert undone == ["undone"]
    assert not strip.isVisible()
    context.tell("Kept.")
    assert not strip.step.isVisible()
    qtbot.waitUntil(lambda: not strip.isVisible())
    context.tell_problem(Problem("The disk is full."))
    qtbot.wait(120)
    assert strip.isVisible(), "a problem stays"
    assert strip.words.text() == "The disk is full."
    strip.close_button.click()
    assert not strip.isVisible()


def test_a_paper_opens_in_its_own_window_and_closes_with_the_shop(opened: MainWindow, tmp_path: Path) -> None:
    assert opened.workspace is not None
    file = tmp_path / "quote.pdf"
    canvas = Canvas(str(file))
    canvas.drawString(72, 700, "Quote Q-0001")
    canvas.save()
    opened.workspace.context.show_paper(file.read_bytes(), "Quote Q-0001")
    (paper,) = opened.findChildren(PaperWindow)
    assert paper.isVisible()
    assert "Quote Q-0001" in paper.viewer.text()
    opened.close()
    assert not [w for w in QApplication.topLevelWidgets() if w.isVisible()]


def test_a_paper_that_is_not_there_is_a_sentence_in_the_strip(
    opened: MainWindow, settled: Callable[[], None]
) -> None:
    assert opened.workspace is not None
    opened.workspace.context.show_paper("I-9999", "Invoice I-9999", "invoice")
    settled()
    assert opened.messages.words.text() == "There is no invoice I-9999 in this shop. Check the number."


def test_a_fault_shows_a_calm_page_keeps_drafts_and_lets_one_go_on(
    opened: MainWindow, qtbot: QtBot, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page(opened, "people").form["name"].setText("half a na")
    put_back = went_wrong.watch_for_faults(opened, opened.keep_drafts)
    try:
        try:
            raise ValueError("the valve is not a number")
        except ValueError as error:
            sys.excepthook(type(error), error, error.__traceback__)
    finally:
        put_back()
    (shown,) = opened.findChildren(went_wrong.WentWrong)
    assert shown.isVisible()
    assert "the valve is not a number" in shown.details.toPlainText()
    assert "the valve is not a number" in capsys.readouterr().err
    assert any("half a na" in f.read_text(encoding="utf-8") for f in tmp_path.glob("drafts-*.json"))
    shown.accept()
    assert opened.isEnabled()


# The look, what is remembered, closing


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_the_window_fits_a_small_screen_at_every_text_size(
    opened: MainWindow, view: View, scale: float, qtbot: QtBot
) -> None:
    view.choose_scale(scale)
    opened.resize(1024, 768)
    qtbot.wait(50)
    assert opened.width() == 1024
    assert opened.height() == 768
    assert opened.workspace is not None
    for button in opened.workspace.rail.buttons:
        assert button.width() >= button.sizeHint().width()


def test_the_look_changes_at_once_and_is_remembered(
    opened: MainWindow, qtbot: QtBot, view: View, memory: Memory, qapp: QApplication
) -> None:
    light = qapp.palette().window().color().lightness()
    view.choose_scheme("dark")
    assert qapp.palette().window().color().lightness() < light
    size = qapp.font().pointSizeF()
    qtbot.keyClick(opened, Qt.Key.Key_Equal, Qt.KeyboardModifier.ControlModifier)
    assert qapp.font().pointSizeF() > size
    again = View(qapp, memory)
    assert (again.scheme, again.scale) == ("dark", 1.1)
    qtbot.keyClick(opened, Qt.Key.Key_0, Qt.KeyboardModifier.ControlModifier)
    assert view.scale == 1.0


def test_the_last_place_is_open_the_next_time(
    opened: MainWindow, qtbot: QtBot, settled: Callable[[], None]
) -> None:
    assert opened.workspace is not None
    place = str(opened.workspace.context.seat.file.url.database)
    opened.workspace.desk.go("third")
    opened.leave_shop()
    assert opened.start.isVisible()
    with qtbot.waitSignal(opened._opening.opened):
        opened._opening.open(place)
    settled()
    assert here(opened) == "third"


def test_closing_finishes_changes_keeps_drafts_and_gives_the_shop_back(
    opened: MainWindow, tmp_path: Path, clock: FixedClock
) -> None:
    assert opened.workspace is not None
    place = str(opened.workspace.context.seat.file.url.database)
    people = page(opened, "people")
    people.form["name"].setText("Una Dahl")
    people.form.submit()
    opened.close()
    assert people.drafts_kept == 1
    seat = open_shop(place, clock)
    assert [row.name for row in staff(seat)] == ["Bo Lind", "Ida Kessler", "Una Dahl"]
    seat.file.close()
    assert list(tmp_path.glob("drafts-*.json"))


def test_every_control_of_the_window_can_be_named_by_a_screen_reader(
    opened: MainWindow, unnamed: Callable[[QWidget], list[Any]]
) -> None:
    opened.messages.show_message(Message("Kept.", False, "Undo", lambda: None))
    assert unnamed(opened) == []


# Without a display


@pytest.mark.parametrize("display", ["", ":4711"])
def test_without_a_display_there_is_a_sentence_and_two(display: str, tmp_path: Path) -> None:
    if not sys.platform.startswith("linux"):
        pytest.skip("only Linux can be without a display")
    bare = {k: v for k, v in os.environ.items() if k not in ("QT_QPA_PLATFORM", "WAYLAND_DISPLAY", "DISPLAY")}
    if display:
        bare["DISPLAY"] = display
    code = "import sys; from shopdesk.app import run; sys.exit(run(None, False))"
    done = subprocess.run(
        [sys.executable, "-c", code], env=bare, capture_output=True, text=True, check=False, timeout=60
    )
    assert done.returncode == 2
    assert len(done.stderr.strip().splitlines()) == 1
    assert done.stdout == ""
    assert "Traceback" not in done.stderr


def test_the_window_shows_before_sql_and_paper_are_loaded(tmp_path: Path) -> None:
    code = (
        "import sys\n"
        "from PySide6.QtWidgets import QApplication\n"
        "from shopdesk.app import open_window\n"
        "from shopdesk.domain.clock import now\n"
        "app = QApplication([])\n"
        "window = open_window(app, now)\n"
        "assert window.isVisible()\n"
        "print(sorted({'sqlalchemy', 'reportlab', 'ortools', 'alembic'} & set(sys.modules)))\n"
        "window.close()\n"
    )
    home = {"XDG_DATA_HOME": str(tmp_path / "data"), "XDG_CONFIG_HOME": str(tmp_path / "config")}
    done = subprocess.run(
        [sys.executable, "-c", code], env=os.environ | home, capture_output=True, text=True, check=True,
        timeout=60,
    )  # fmt: skip
    assert done.stdout.strip() == "[]"


def test_closing_keeps_a_copy_and_asks_before_it_closes_without_one(
    opened: MainWindow, dialogs: CannedDialogs, tmp_path: Path
) -> None:
    assert opened.workspace is not None
    seat = opened.workspace.context.seat
    (tmp_path / "blocked").write_text("a file where a folder should be")
    keep_setting(seat, Copies(folder=str(tmp_path / "blocked")))
    dialogs.agrees = False
    opened.close()
    assert opened.isVisible(), "the person stayed"
    assert "could not be written" in dialogs.asked[-1]
    keep_setting(seat, Copies(folder=str(tmp_path / "kept")))
    opened.close()
    assert not opened.isVisible()
    assert len(list((tmp_path / "kept").glob("*.db"))) == 1
