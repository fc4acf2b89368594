"""The field of weekdays: what it reads and shows, and that its days are ticked by keyboard."""

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from shopdesk.ui.widgets.weekdays_field import WeekdaysField


def test_days_are_shown_ticked_and_ticked_by_keyboard(qtbot: QtBot) -> None:
    field = WeekdaysField("en_US")
    qtbot.addWidget(field)
    field.setValue("25")
    assert [tick.accessibleName() for tick in field.ticks if tick.value()] == ["Tuesday", "Friday"]
    with qtbot.waitSignal(field.edited):
        qtbot.keyClick(field.ticks[0], Qt.Key.Key_Space)
    assert field.value() == "125"
    field.setTyped(field.typed())
    assert field.value() == "125"
