"""A field with words under it that one touches instead of typing. Knows fields; no records."""

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.large_buttons import TapWords


class Tapped(QWidget):
    """A Field itself. A touched word is set as if it were typed, or handed to `take`."""

    edited = Signal()

    def __init__(
        self, field: Any, words: Sequence[str], take: Callable[[str], object] | None = None,
        parent: QWidget | None = None,
    ) -> None:  # fmt: skip
        super().__init__(parent)
        self.field = field
        self._take = take or field.setTyped
        self.words = TapWords(words, self._tapped)
        self.setLayout(upright([field, self.words], gap="hair"))
        self.setFocusProxy(field)
        field.edited.connect(self.edited)

    def value(self) -> Any:
        return self.field.value()

    def setValue(self, value: Any) -> None:
        self.field.setValue(value)

    def typed(self) -> Any:
        return self.field.typed()

    def setTyped(self, typed: Any) -> None:
        self.field.setTyped(typed)

    def selectAll(self) -> None:
        if hasattr(self.field, "selectAll"):
            self.field.selectAll()

    def setAccessibleName(self, name: str) -> None:
        super().setAccessibleName(name)
        self.field.setAccessibleName(name)

    def setAccessibleDescription(self, text: str) -> None:
        super().setAccessibleDescription(text)
        self.field.setAccessibleDescription(text)

    def _tapped(self, word: str) -> None:
        self._take(word)
        self.edited.emit()
        self.field.setFocus()
