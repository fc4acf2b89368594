"""Finding anything by one shortcut, and taking deeds back from the rail, in the real window."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from conftest import CannedDialogs  # type: ignore[import-not-found]
from copied_shop import MadeShop, make_shop
from fixed_clock import FixedClock
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from shopdesk.services import people
from shopdesk.ui.memory import Memory
from shopdesk.ui.opening import Opening
from shopdesk.ui.view import View
from shopdesk.ui.window import MainWindow
from shopdesk.ui.workers import Workers
from shopdesk.ui.workspace import Workspace

CONTROL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> MadeShop:
    return make_shop(tmp_path_factory.mktemp("finding") / "shop.db")


@pytest.fixture
def space(
    qtbot: QtBot, workers: Workers, clock: FixedClock, dialogs: CannedDialogs, memory: Memory, view: View,
    tmp_path: Path, made: MadeShop, settled: Callable[[], None],
) -> Iterator[Workspace]:  # fmt: skip
    seat = made.copy(tmp_path / "shop.db", clock)
    people.keep_party(seat, people.PartyDraft(name="Hesper Dunmarrow", phone="555 0101"))
    seat.file.close()
    opening = Opening(workers, clock)
    window = MainWindow(
        workers, opening, dialogs, memory, view, folder=tmp_path, sample_here=False
    )  # fmt: skip
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    with qtbot.waitSignal(opening.opened, timeout=10_000):
        opening.open(str(tmp_path / "shop.db"))
    settled()
    assert window.workspace is not None
    yield window.workspace
    window.close()
    window.deleteLater()


def find(space: Workspace, qtbot: QtBot, settled: Callable[[], None], words: str) -> list[str]:
    qtbot.keyClick(space, Qt.Key.Key_K, CONTROL)
    assert QApplication.focusWidget() is space.finder.words
    qtbot.keyClicks(space.finder.words, words)
    settled()
    return [space.finder.list.item(row).text() for row in range(space.finder.list.count())]


def test_a_range_is_opened_by_a_few_letters_and_enter(
    space: Workspace, qtbot: QtBot, settled: Callable[[], None], made: MadeShop
) -> None:
    told = find(space, qtbot, settled, "r1")
    assert told[0].startswith("R-0001 ")
    qtbot.keyClick(space.finder.words, Qt.Key.Key_Return)
    settled()
    assert space.desk.here == "jacket"
    assert not space.finder.isVisible()


def test_a_person_a_slip_and_a_deed_are_found_and_nothing_is_said(
    space: Workspace, qtbot: QtBot, settled: Callable[[], None]
) -> None:
    assert find(space, qtbot, settled, "dunmarow") == ["Hesper Dunmarrow - 555 0101 (much like it)"]
    qtbot.keyClick(space.finder.words, Qt.Key.Key_Return)
    settled()
    assert space.desk.here == "counter"
    assert "Book a range in" in find(space, qtbot, settled, "book")
    qtbot.keyClick(space.finder.words, Qt.Key.Key_Escape)
    assert not space.finder.isVisible()
    assert find(space, qtbot, settled, "zzzzz") == ["Nothing in this shop has these words."]
    qtbot.keyClick(space.finder.words, Qt.Key.Key_Return)
    assert space.finder.isVisible(), "nothing to open leaves the panel there"


def test_escape_gives_the_keyboard_back_to_where_it_was(
    space: Workspace, qtbot: QtBot, settled: Callable[[], None]
) -> None:
    space.desk.go("counter")
    settled()
    before = QApplication.focusWidget()
    find(space, qtbot, settled, "corv")
    qtbot.keyClick(space.finder.words, Qt.Key.Key_Escape)
    assert QApplication.focusWidget() is before


@pytest.mark.qt_log_ignore("does not support (raise|grabbing)", extend=True)  # of menus without a screen
def test_the_last_deed_is_named_and_taken_back_and_can_come_again(
    space: Workspace, qtbot: QtBot, settled: Callable[[], None]
) -> None:
    def first() -> Any:
        qtbot.keyClick(space, Qt.Key.Key_Z, CONTROL | Qt.KeyboardModifier.AltModifier)
        settled()
        action = space.undo.menu_of_deeds.actions()[0]
        space.undo.menu_of_deeds.close()
        return action

    def names() -> list[str]:
        return [row.name for row in people.parties(space.context.seat, "dunmarrow")]

    deed = first()
    assert "wrote down a person or a firm" in deed.text()
    assert "(Ida Kessler)" in deed.text()
    deed.trigger()
    settled()
    assert names() == []
    again = first()
    assert "took a deed back" in again.text()
    again.trigger()
    settled()
    assert names() == ["Hesper Dunmarrow"]
