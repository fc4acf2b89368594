"""A text of several lines is written and agreed to by keyboard alone."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QPlainTextEdit
from pytestqt.qtbot import QtBot

from shopdesk.ui.dialogs import written_in
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.wrapped_row import WrappedRow


def test_tab_leaves_the_text_and_control_return_agrees_to_it(qtbot: QtBot) -> None:
    dialog = written_in(None, "Move the promise", "Why it changes", "")
    qtbot.addWidget(dialog)
    with qtbot.waitActive(dialog):
        dialog.show()
        dialog.activateWindow()
    field = dialog.findChild(QPlainTextEdit)
    field.setFocus()
    qtbot.keyClicks(field, "The plater is late.")
    qtbot.keyClick(field, Qt.Key.Key_Tab)
    assert not field.hasFocus()
    assert dialog.textValue() == "The plater is late."
    qtbot.keyClick(field, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert dialog.result() == QDialog.DialogCode.Accepted


def test_a_button_that_got_longer_words_while_hidden_has_room_for_them(qtbot: QtBot) -> None:
    button = Button("Go", lambda: None)
    row = WrappedRow([button])
    qtbot.addWidget(row)
    row.resize(600, 60)
    row.show()
    row.hide()
    button.setText("Move the promise to another day")
    row.show()
    assert button.width() >= button.sizeHint().width()
