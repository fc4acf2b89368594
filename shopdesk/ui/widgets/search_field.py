"""A field that narrows a list while one types."""

from PySide6.QtCore import QEvent, Qt, QTimer, Signal
from PySide6.QtGui import QAction, QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from shopdesk.ui.look import icon


class SearchField(QLineEdit):
    """`searched` follows the typing a short moment later; Escape clears, Down goes to the list."""

    searched = Signal(str)

    def __init__(self, prompt: str, list_below: QWidget | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._below = list_below
        self._said = ""
        self.setPlaceholderText(prompt)
        self.setAccessibleName(prompt)
        self.setClearButtonEnabled(True)
        self._sign = QAction(icon("search"), "", self)
        self.addAction(self._sign, QLineEdit.ActionPosition.LeadingPosition)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(150)
        self._timer.timeout.connect(self._say)
        self.textChanged.connect(lambda _text: self._timer.start())

    def words(self) -> str:
        """What is searched for now."""
        return self.text().strip()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.text():
            self.clear()
        elif event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._say()
            if self._below is not None:
                getattr(self._below, "focusFirst", self._below.setFocus)()
        else:
            super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._sign.setIcon(icon("search"))

    def _say(self) -> None:
        self._timer.stop()
        if self.words() != self._said:
            self._said = self.words()
            self.searched.emit(self._said)
