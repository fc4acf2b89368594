"""The word about the agreed hours over a task: how much is left, or stop and ask first."""

from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QApplication, QFrame, QLabel, QWidget

from shopdesk.ui.look import colours_of, icon_pixmap, spacing
from shopdesk.ui.widgets.boxes import level
from shopdesk.ui.widgets.headings import Words


class HoursWarning(QFrame):
    """Hidden while nothing is to be said; a hand and a heavier frame when the bench is to stop."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._stop = False
        self.sign = QLabel()
        self.words = Words("", "strong")
        row = level([self.sign, self.words], margin="small")
        row.setStretchFactor(self.words, 1)
        row.setAlignment(self.sign, Qt.AlignmentFlag.AlignTop)
        self.setLayout(row)
        self.setObjectName("hours")
        self.hide()

    def show_text(self, text: str, *, stop: bool) -> None:
        self._stop = stop
        self.words.setText(text)
        self.setAccessibleName(text)
        self.setVisible(bool(text))
        self._dress()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.PaletteChange):
            self._dress()

    def _dress(self) -> None:
        colours = colours_of(QApplication.palette())
        ink = colours.problem if self._stop else colours.hold
        wide = 3 if self._stop else 1
        style = f"#hours {{ border: {wide}px solid {ink}; border-radius: 4px; }}"
        if style != self.styleSheet():
            self.setStyleSheet(style)
        name = "hand" if self._stop else "clock-start"
        self.sign.setPixmap(icon_pixmap(name, spacing(QApplication.font()).icon, ink))
