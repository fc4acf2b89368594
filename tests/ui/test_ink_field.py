"""The colour of a shop's papers as a field: an ink of the list, or one of its own that can be read."""

import pytest
from pytestqt.qtbot import QtBot

from shopdesk.domain.problem import Problem
from shopdesk.ui.pages.set_up.ink_field import OWN, InkField


def test_an_ink_of_the_list_and_one_of_its_own(qtbot: QtBot) -> None:
    field = InkField()
    qtbot.addWidget(field)
    field.show()
    assert field.value() == ""
    field.setValue("#7a1f1f")
    assert (field.choice.currentText(), field.own.isVisible()) == ("oxblood", False)
    field.setValue("#0a3d62")
    assert (field.choice.value(), field.own.isVisible(), field.value()) == (OWN, True, "#0a3d62")


def test_one_that_is_too_light_is_told_and_stays_typed(qtbot: QtBot) -> None:
    field = InkField()
    qtbot.addWidget(field)
    field.setTyped("#ffee00")
    with pytest.raises(Problem, match="too light"):
        field.value()
    assert field.typed() == "#ffee00"
