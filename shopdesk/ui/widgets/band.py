"""A band over the pages with a fact one must not forget; it cannot be closed."""

from PySide6.QtCore import QEvent
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QApplication, QLabel, QWidget

from shopdesk.ui.look import spacing
from shopdesk.ui.widgets.headings import LOOK_CHANGES


class Band(QLabel):
    """Text on the accent, as wide as the window."""

    _dressing = False

    def __init__(self, text: str, parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self.setWordWrap(True)
        self.setAutoFillBackground(True)
        self.setAccessibleName(text)
        self._dress()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in LOOK_CHANGES and not self._dressing:
            self._dress()

    def _dress(self) -> None:
        """Our own colours; setting them says so again to ourselves."""
        self._dressing = True
        look = QApplication.palette()
        mine = QPalette()
        mine.setColor(QPalette.ColorRole.Window, look.color(QPalette.ColorRole.Highlight))
        mine.setColor(QPalette.ColorRole.WindowText, look.color(QPalette.ColorRole.HighlightedText))
        self.setPalette(mine)
        sizes = spacing(QApplication.font())
        self.setContentsMargins(sizes.gap, sizes.hair, sizes.gap, sizes.hair)
        self._dressing = False
