"""Every page in a small window at the largest text: nothing wider than the window, everything named."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from conftest import CannedDialogs  # type: ignore[import-not-found]
from copied_shop import MadeShop, make_shop
from fixed_clock import FixedClock
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QApplication, QScrollArea, QWidget
from pytestqt.qtbot import QtBot

from shopdesk.ui.deeds_found import deeds_anywhere
from shopdesk.ui.memory import Memory
from shopdesk.ui.opening import Opening
from shopdesk.ui.pages.set_up.page import known_sections
from shopdesk.ui.places import Place, places
from shopdesk.ui.rail import Rail
from shopdesk.ui.view import View
from shopdesk.ui.window import MainWindow
from shopdesk.ui.workers import Workers

WIDE, HIGH = 1024, 768
SECTIONS = {
    "stores": ("needs", "orders", "shelf", "donors", "wants", "outwork", "firms"),
    "plan": ("calendar", "promises", "what-if", "appointments", "hours"),
    "set-up": tuple(known.key for known in known_sections()),
}


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> MadeShop:
    return make_shop(tmp_path_factory.mktemp("pages") / "shop.db")


@pytest.fixture
def window(
    qtbot: QtBot, workers: Workers, clock: FixedClock, dialogs: CannedDialogs, memory: Memory, view: View,
    tmp_path: Path, made: MadeShop, settled: Callable[[], None],
) -> Iterator[MainWindow]:  # fmt: skip
    made.copy(tmp_path / "shop.db", clock).file.close()
    opening = Opening(workers, clock)
    window = MainWindow(workers, opening, dialogs, memory, view, folder=tmp_path, sample_here=False)
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    with qtbot.waitSignal(opening.opened, timeout=10_000):
        opening.open(str(tmp_path / "shop.db"))
    settled()
    yield window
    window.close()
    window.deleteLater()


def ways(made: MadeShop) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every place with something open in it, and every section of those that have sections."""
    job, range_id = made.work.agreed.job_id, made.work.agreed.range_id
    for place in places():
        if place.key == "jacket":
            yield place.key, {"range_id": range_id}
        elif place.key in SECTIONS:
            yield from ((place.key, {"section": section}) for section in SECTIONS[place.key])
        else:
            yield place.key, {"job_id": job}
    yield "floor", {"book_in": True}


def test_no_page_is_wider_than_the_smallest_window_and_all_is_named(
    window: MainWindow, view: View, qtbot: QtBot, settled: Callable[[], None], made: MadeShop,
    unnamed: Callable[[QWidget], list[Any]],
) -> None:  # fmt: skip
    assert window.workspace is not None
    view.choose_scale(2.0)
    window.resize(WIDE, HIGH)
    wrong: list[str] = []
    for key, what in ways(made):
        window.workspace.desk.go(key, what)
        settled()
        QApplication.processEvents()
        settled()
        told = f"{key} {what}"
        if window.minimumSizeHint().width() > WIDE or window.width() > WIDE:
            wrong.append(f"{told}: {window.minimumSizeHint().width()} wide")
            window.resize(WIDE, HIGH)
        if window.height() > HIGH:
            wrong.append(f"{told}: {window.height()} high")
            window.resize(WIDE, HIGH)
        for area in window.findChildren(QScrollArea):
            if area.isVisible() and area.horizontalScrollBar().maximum():
                wrong.append(f"{told}: scrolls sideways")
        wrong += [f"{told}: {type(w).__name__} has no name" for w in unnamed(window) if w.isVisible()]
        wrong += [f"{told}: “{text}” is cut" for text in cut_buttons(window)]
    assert wrong == []


def cut_buttons(window: QWidget) -> list[str]:
    return [
        button.text()
        for button in window.findChildren(QAbstractButton)
        if button.isVisible() and button.text() and not button.visibleRegion().isEmpty()
        and button.sizePolicy().horizontalPolicy() != button.sizePolicy().Policy.Ignored
        and button.width() + 1 < button.minimumSizeHint().width()
    ]  # fmt: skip


def test_ten_places_stand_on_the_rail_of_a_low_window_without_scrolling(
    window: MainWindow, qtbot: QtBot
) -> None:
    ten = [Place(f"place {n}", f"Place {n}", "floor", "", "") for n in range(10)]
    foot = QWidget()
    foot.setFixedHeight(140)
    rail = Rail(ten, [foot])
    qtbot.addWidget(rail)
    rail.resize(rail.sizeHint().width(), HIGH - 60)  # under the message strip
    rail.show()
    QApplication.processEvents()
    area = rail.findChildren(QScrollArea)[0]
    assert area.verticalScrollBar().maximum() == 0
    assert all(b.toolButtonStyle() != Qt.ToolButtonStyle.ToolButtonTextUnderIcon for b in rail.buttons)
    rail.resize(rail.width(), 1400)
    QApplication.processEvents()
    assert all(b.toolButtonStyle() == Qt.ToolButtonStyle.ToolButtonTextUnderIcon for b in rail.buttons)


def test_the_deeds_of_the_open_place_are_found_by_name_with_their_keys_and_run(
    window: MainWindow, qtbot: QtBot, settled: Callable[[], None]
) -> None:
    space = window.workspace
    assert space is not None
    space.desk.go("floor")
    settled()
    qtbot.keyClick(space, Qt.Key.Key_K, Qt.KeyboardModifier.ControlModifier)
    qtbot.keyClicks(space.finder.words, "book range in")
    settled()
    told = [space.finder.list.item(row).text() for row in range(space.finder.list.count())]
    assert told[0] == "Floor: Book a range in (Ctrl+N)"
    qtbot.keyClick(space.finder.words, Qt.Key.Key_Return)
    settled()
    page = space.desk.page("floor")
    assert page is not None
    assert getattr(page, "booking", None) is not None, "it was done, not only named"
    qtbot.keyClick(space, Qt.Key.Key_K, Qt.KeyboardModifier.ControlModifier)
    qtbot.keyClicks(space.finder.words, "stores firms")
    settled()
    qtbot.keyClick(space.finder.words, Qt.Key.Key_Return)
    settled()
    assert space.desk.here == "stores"


def test_every_section_of_the_set_up_can_be_gone_to_by_name(window: MainWindow) -> None:
    assert window.workspace is not None
    told = {deed.text for deed in deeds_anywhere(window.workspace.context, places())}
    for known in known_sections():
        assert f"Go to Set-up: {known.name}" in told
