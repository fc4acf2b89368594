"""F1: the help opens at the page one is on, is searched by words, and gives the keyboard back."""

from collections.abc import Callable
from pathlib import Path

import pytest
from conftest import CannedDialogs  # type: ignore[import-not-found]
from fixed_clock import FixedClock
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from shopdesk.ui.help_window import TOPIC_OF, HelpWindow
from shopdesk.ui.memory import Memory
from shopdesk.ui.opening import Opening
from shopdesk.ui.places import places
from shopdesk.ui.view import View
from shopdesk.ui.window import MainWindow
from shopdesk.ui.workers import Workers
from shopdesk.wording.topics import topics


@pytest.fixture
def help_window(qtbot: QtBot, memory: Memory) -> HelpWindow:
    shown = HelpWindow(None, memory)  # type: ignore[arg-type]
    qtbot.addWidget(shown)
    return shown


def test_every_place_of_the_window_has_its_topic() -> None:
    keys = {topic.key for topic in topics()}
    assert {TOPIC_OF.get(place.key, place.key) for place in places()} <= keys


def test_f1_opens_it_and_escape_closes_it(
    qtbot: QtBot, workers: Workers, clock: FixedClock, dialogs: CannedDialogs, memory: Memory, view: View,
    tmp_path: Path, settled: Callable[[], None],
) -> None:  # fmt: skip
    window = MainWindow(
        workers, Opening(workers, clock), dialogs, memory, view, folder=tmp_path, sample_here=False
    )
    qtbot.addWidget(window)
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    window.show_start()
    qtbot.keyClick(window, Qt.Key.Key_F1)
    assert window.help is not None
    qtbot.waitUntil(window.help.isVisible)
    assert "A first range" in window.help.page.toPlainText()
    qtbot.waitUntil(lambda: QApplication.focusWidget() is window.help.search)
    qtbot.keyClick(window.help.search, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: not window.help.isVisible())
    settled()


def test_it_opens_on_the_topic_asked_for(help_window: HelpWindow) -> None:
    help_window.show_topic("bench")
    assert help_window.page.toPlainText().startswith("Bench: what can be done now")
    help_window.show_topic("nothing-like-it")
    assert help_window.page.toPlainText().startswith("A first range")


def test_words_narrow_the_topics_and_show_the_line_that_has_them(
    qtbot: QtBot, help_window: HelpWindow
) -> None:
    help_window.show_topic("floor")
    help_window.search.setText("red-tagged hand-over")
    qtbot.waitUntil(lambda: len(help_window.list.rows()) < len(topics()))
    help_window.search.setText("carbon monoxide")
    qtbot.waitUntil(lambda: {strip.key for strip in help_window.list.rows()} == {"proofs", "cautions"})
    assert all("carbon monoxide" in strip.second.casefold() for strip in help_window.list.rows())
    help_window.search.setText("no such words at all")
    qtbot.waitUntil(lambda: not help_window.list.rows())
