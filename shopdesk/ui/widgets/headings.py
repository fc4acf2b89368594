"""Texts of a page that follow the text scale: headings, quiet notes, a sentence beside a wrong field."""

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QAccessible, QAccessibleEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QApplication, QLabel, QWidget

from shopdesk.ui.look import colours_of, letters
from shopdesk.ui.look.letters import Role

LOOK_CHANGES = (
    QEvent.Type.ApplicationFontChange,
    QEvent.Type.ApplicationPaletteChange,
    QEvent.Type.PaletteChange,
    QEvent.Type.StyleChange,
)


class Words(QLabel):
    """A label in one of the few sizes and one of the colours of the look, by their names."""

    def __init__(
        self, text: str = "", role: Role = "body", colour: str = "text", parent: QWidget | None = None
    ) -> None:
        super().__init__(text, parent)
        self._role, self._colour = role, colour
        self._dressing = False
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(True)
        self._dress()

    def setText(self, text: str) -> None:
        super().setText(text)
        self._claim_height()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._claim_height()

    def _claim_height(self) -> None:
        """Nested layouts forget the height a wrapped text needs at its width; a least height they honour."""
        before = self.minimumHeight()
        self.setMinimumHeight(0)  # a height claimed at another width would count as needed
        needed = max(0, self.heightForWidth(self.width())) if self.wordWrap() else 0
        self.setMinimumHeight(needed)
        if needed != before:
            self.updateGeometry()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in LOOK_CHANGES:
            self._dress()

    def _dress(self) -> None:
        """Our own font and colour, made from the application's; setting them says so again to ourselves."""
        if self._dressing:
            return
        self._dressing = True
        self.setFont(letters(self._role, QApplication.font()))
        mine = QPalette()
        mine.setColor(
            QPalette.ColorRole.WindowText, getattr(colours_of(QApplication.palette()), self._colour)
        )
        self.setPalette(mine)
        self._dressing = False


class Heading(Words):
    """The heading of a page (`head`) or of a section (`title`)."""

    def __init__(self, text: str, role: Role = "title", parent: QWidget | None = None) -> None:
        super().__init__(text, role, parent=parent)
        self.setWordWrap(False)


class Note(Words):
    """A quiet line under a heading or a field."""

    def __init__(self, text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(text, "small", "muted", parent)


class ProblemText(Words):
    """The sentence beside a wrong field; hidden while nothing is wrong, and spoken when it appears."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("", "body", "problem", parent)
        self.hide()

    def show_text(self, text: str) -> None:
        """Shows the sentence, or with "" hides it."""
        self.setText(text)
        self.setAccessibleName(text)
        self.setVisible(bool(text))
        if text:
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.Alert))
