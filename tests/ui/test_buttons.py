"""Buttons answer to their letter and to their key."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from shopdesk.ui.widgets.buttons import Button


def test_a_button_with_a_key_answers_to_its_underlined_letter_too(qtbot: QtBot) -> None:
    pressed: list[int] = []
    window = QWidget()
    qtbot.addWidget(window)
    Button("Book a range &in", lambda: pressed.append(1), shortcut="Ctrl+N", parent=window)
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    qtbot.keyClick(window, Qt.Key.Key_I, Qt.KeyboardModifier.AltModifier)
    qtbot.waitUntil(lambda: pressed == [1])
    qtbot.keyClick(window, Qt.Key.Key_N, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: pressed == [1, 1])
