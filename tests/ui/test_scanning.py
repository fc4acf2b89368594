"""A scanner opens what it reads from anywhere; fingers, foreign codes and text fields are left alone."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence, QShortcut
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit, QPushButton, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from shopdesk.domain.codes import Code, Thing
from shopdesk.ui.scanning import Scanner

PART = "shopdesk:part/S-0001"


class Bench(QWidget):
    """A window with a button (letters are commands there) and a text field."""

    def __init__(self) -> None:
        super().__init__()
        self.button, self.field = QPushButton("go"), QLineEdit()
        box = QVBoxLayout(self)
        box.addWidget(self.button)
        box.addWidget(self.field)
        self.opened: list[Code] = []
        self.told: list[str] = []
        self.deeds: list[str] = []
        for letter in "SHO":
            QShortcut(QKeySequence(letter), self).activated.connect(
                lambda letter=letter: self.deeds.append(letter)
            )
        self.scanner = Scanner(self, self.opened.append, self.told.append)


class _Order(QObject):
    """Notes an arrow among the deeds."""

    def __init__(self, deeds: list[str]) -> None:
        super().__init__()
        self._deeds = deeds

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        pressed = isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress
        if pressed and event.key() == Qt.Key.Key_Left:
            self._deeds.append("arrow")
        return False


@pytest.fixture
def bench(qtbot: QtBot) -> Iterator[Bench]:
    made = Bench()
    qtbot.addWidget(made)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.button.setFocus()
    yield made
    made.hide()


def scan(widget: QWidget, text: str, *, ended: bool = True) -> None:
    """As a scanner does it: every letter at once behind the other, then Return."""
    QTest.keyClicks(widget, text)
    if ended:
        QTest.keyClick(widget, Qt.Key.Key_Return)


def test_a_scan_away_from_text_opens_what_it_names_and_presses_no_command(bench: Bench) -> None:
    scan(bench.button, PART)
    assert bench.opened == [Code(Thing.PART, "S-0001")]
    assert (bench.deeds, bench.told) == ([], [])


def test_a_scanner_that_sends_no_return_is_understood_a_blink_later(bench: Bench, qtbot: QtBot) -> None:
    scan(bench.button, PART, ended=False)
    qtbot.waitUntil(lambda: bool(bench.opened), timeout=2000)
    assert bench.deeds == []


def test_a_single_letter_is_still_the_command_it_was(bench: Bench, qtbot: QtBot) -> None:
    QTest.keyClick(bench.button, Qt.Key.Key_S)
    qtbot.waitUntil(lambda: bench.deeds == ["S"], timeout=2000)
    QTest.keyClick(bench.button, Qt.Key.Key_H)
    qtbot.waitUntil(lambda: bench.deeds == ["S", "H"], timeout=2000)
    assert bench.opened == []


def test_a_letter_comes_before_the_arrow_pressed_right_after_it(bench: Bench) -> None:
    bench.button.installEventFilter(order := _Order(bench.deeds))
    QTest.keyClick(bench.button, Qt.Key.Key_S)
    QTest.keyClick(bench.button, Qt.Key.Key_Shift)
    assert bench.deeds == [], "a capital may follow"
    QTest.keyClick(bench.button, Qt.Key.Key_Left)
    assert bench.deeds == ["S", "arrow"]
    bench.button.removeEventFilter(order)


def test_a_link_in_a_code_is_shown_as_text_and_never_followed(bench: Bench) -> None:
    scan(bench.button, "https://example.org/SHOP")
    assert bench.told == ["https://example.org/SHOP"]
    assert (bench.opened, bench.deeds) == ([], [])


def test_in_a_text_field_a_code_is_opened_and_taken_out_and_other_text_stays(bench: Bench) -> None:
    bench.field.setFocus()
    QTest.keyClicks(bench.field, "two of ")
    scan(bench.field, PART)
    assert (bench.opened, bench.field.text()) == ([Code(Thing.PART, "S-0001")], "two of ")
    bench.field.setText("https://example.org")
    QTest.keyClick(bench.field, Qt.Key.Key_Return)
    assert (bench.field.text(), len(bench.opened)) == ("https://example.org", 1)


def test_a_pasted_code_opens_where_no_text_can_be_put(bench: Bench) -> None:
    QGuiApplication.clipboard().setText(f" {PART}\n")
    QTest.keySequence(bench.button, QKeySequence(QKeySequence.StandardKey.Paste))
    assert bench.opened == [Code(Thing.PART, "S-0001")]
    QGuiApplication.clipboard().setText("https://example.org")
    QTest.keySequence(bench.button, QKeySequence(QKeySequence.StandardKey.Paste))
    assert (len(bench.opened), bench.told) == (1, [])


def test_keys_of_another_window_are_none_of_its_business(bench: Bench, qtbot: QtBot) -> None:
    other = QPushButton("elsewhere")
    qtbot.addWidget(other)
    with qtbot.waitActive(other):
        other.show()
        other.activateWindow()
    other.setFocus()
    scan(other, PART)
    other.hide()
    assert bench.opened == []
