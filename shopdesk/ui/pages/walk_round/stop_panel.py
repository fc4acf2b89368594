"""What stands in place of the walk once gas is smelled: what to do, and the deliberate way back."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QLabel, QWidget

from shopdesk.ui.look import colours_of, icon_pixmap, spacing
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.headings import Words
from shopdesk.wording import say


class StopPanel(QWidget):
    """`released` says that somebody was told they may go on; no single key does."""

    released = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)  # so that a screen reader speaks it
        self._sign = QLabel()
        title = Words(say("Stop the walk. A smell of gas."), "head", "problem")
        what = [
            say("Touch no switch and no plug. No flame. No telephone in here."),
            say("Leave now, and take everybody with you."),
            say("Call the gas supplier or the emergency number from outside."),
            say("Go back only when the gas supplier says so. The local code and the supplier decide."),
        ]
        kept = Words(say("It is kept with this walk-round; nothing is lost."), "body", "muted")
        self.button = Button(say("The supplier allows it: go on"), self.released.emit)
        lines = [Words(text, "title") for text in what]
        box = upright([self._sign, title, *lines, kept, self.button], gap="gap", margin="wide")
        box.addStretch(1)
        self.setLayout(box)
        self.setAccessibleName(" ".join([title.text(), *what]))

    def paintEvent(self, event: QPaintEvent) -> None:
        """A frame one sees from the corner of the eye."""
        colours = colours_of(self.palette())
        if self._sign.pixmap().isNull():
            self._sign.setPixmap(icon_pixmap("warning", spacing(self.font()).icon * 2, colours.problem))
        painter = QPainter(self)
        for edge in range(4):
            painter.setPen(QColor(colours.problem))
            painter.drawRect(self.rect().adjusted(edge, edge, -edge - 1, -edge - 1))
        painter.end()
