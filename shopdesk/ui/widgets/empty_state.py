"""What an empty list says: what will stand here, and the first thing to do."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.headings import Words


class EmptyState(QWidget):
    """A quiet sentence in the middle, with a button when there is a first action."""

    def __init__(
        self, text: str, first: tuple[str, Callable[[], object]] | None = None, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._words = Words(text, "body", "muted")
        self._words.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.button = Button(first[0], first[1]) if first else None
        box = upright(margin="wide")
        box.addStretch(1)
        box.addWidget(self._words)
        if self.button:
            box.addWidget(self.button, 0, Qt.AlignmentFlag.AlignHCenter)
        box.addStretch(2)
        self.setLayout(box)

    def setText(self, text: str) -> None:
        """Another sentence, such as that nothing matches what was typed in the search."""
        self._words.setText(text)

    def has_focus(self) -> bool:
        return self.button is not None and self.button.hasFocus()

    def focusFirst(self) -> None:
        if self.button:
            self.button.setFocus(Qt.FocusReason.OtherFocusReason)
