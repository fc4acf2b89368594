"""The colour of a shop's papers: one of a few inks, or one of its own by its figures."""

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtGui import QColor, QIcon, QPixmap
from PySide6.QtWidgets import QWidget

from shopdesk.domain.colour import ink
from shopdesk.ui.look import spacing
from shopdesk.ui.widgets.boxes import STRETCH, level
from shopdesk.ui.widgets.fields import ChoiceField, TextField
from shopdesk.wording import say

OWN = "own"


class InkField(QWidget):
    """Gives `#rrggbb`, or "" for the program's own blue-black; a Problem for what cannot be read on white."""

    edited = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.choice = ChoiceField(_inks(), "")
        self.own = TextField("")
        self.own.setPlaceholderText("#1c2b45")
        self.own.setAccessibleName(say("Its six figures"))
        self.choice.edited.connect(self._chosen)
        self.own.edited.connect(self.edited)
        self.setLayout(level([self.choice, self.own, STRETCH]))
        self.setFocusProxy(self.choice)
        side = spacing(self.font()).icon
        for place, (colour, _) in enumerate(_inks()):
            if colour.startswith("#"):
                swatch = QPixmap(side, side)
                swatch.fill(QColor(colour))
                self.choice.setItemIcon(place, QIcon(swatch))
        self._show()

    def setAccessibleName(self, name: str) -> None:
        super().setAccessibleName(name)
        self.choice.setAccessibleName(name)

    def value(self) -> str:
        return ink(self.own.value() if self.choice.value() == OWN else str(self.choice.value()))

    def setValue(self, value: str | None) -> None:
        known = {colour for colour, _ in _inks()} - {OWN}
        self.choice.setValue((value or "") if (value or "") in known else OWN)
        self.own.setText(value or "")
        self._show()

    def typed(self) -> str:
        return self.own.text() if self.choice.value() == OWN else str(self.choice.value())

    def setTyped(self, typed: Any) -> None:
        self.setValue(str(typed))

    def _chosen(self) -> None:
        self._show()
        self.edited.emit()

    def _show(self) -> None:
        self.own.setVisible(self.choice.value() == OWN)


def _inks() -> list[tuple[str, str]]:
    return [
        ("", say("blue-black")),
        ("#23262b", say("black")),
        ("#7a1f1f", say("oxblood")),
        ("#1f4d36", say("bottle green")),
        ("#4a3a1a", say("umber")),
        ("#2f4f7f", say("slate blue")),
        ("#5b2a54", say("aubergine")),
        (OWN, say("one of our own")),
    ]
