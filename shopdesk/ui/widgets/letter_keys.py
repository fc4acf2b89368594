"""Single keys on a list, before the list takes them for a search of its own."""

from collections.abc import Callable, Mapping

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

_PLAIN = (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier)


class LetterKeys(QObject):
    """Belongs to `view`; what is not among `deeds`, or held with another key, passes on."""

    def __init__(self, view: QWidget, deeds: Mapping[Qt.Key, Callable[[], object]]) -> None:
        super().__init__(view)
        self._deeds = dict(deeds)
        view.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if not isinstance(event, QKeyEvent) or event.type() != QEvent.Type.KeyPress:
            return False
        return self.act(event)

    def act(self, event: QKeyEvent) -> bool:
        """Does what the key stands for; False when it stands for nothing here."""
        deed = self._deeds.get(Qt.Key(event.key()))
        if deed is None or event.modifiers() not in _PLAIN:
            return False
        deed()
        return True
