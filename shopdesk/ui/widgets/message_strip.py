"""The strip at the foot of the window: what happened, to which record, and what can be done about it.

It never takes the keyboard. A result leaves by itself; a problem stays until it is closed or replaced.
"""

from PySide6.QtCore import QTimer
from PySide6.QtGui import QAccessible, QAccessibleEvent
from PySide6.QtWidgets import QFrame, QLabel, QWidget

from shopdesk.ui.context import Message
from shopdesk.ui.look import icon_pixmap, spacing
from shopdesk.ui.widgets.boxes import level
from shopdesk.ui.widgets.buttons import Button, QuietButton
from shopdesk.ui.widgets.headings import Words
from shopdesk.wording import say

SHOWN_MS = 12_000


class MessageStrip(QFrame):
    """Hidden while there is nothing to say."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("messages")
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAutoFillBackground(True)
        self._message: Message | None = None
        self._sign = QLabel()
        self.words = Words()
        self.step = Button("", self._take_step)
        self.close_button = QuietButton(say("Close message"), self.clear, icon_name="close")
        self.close_button.setText("")
        row = level([self._sign, self.words, self.step, self.close_button], margin="small")
        row.setStretchFactor(self.words, 1)
        self.setLayout(row)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self.clear)
        self.hide()

    @property
    def message(self) -> Message | None:
        """What is shown now."""
        return self._message

    def show_message(self, message: Message) -> None:
        """Shows it instead of what stood there."""
        self._message = message
        self.words.setText(message.text)
        self._sign.setVisible(message.problem)
        if message.problem:
            colour = self.palette().color(self.foregroundRole()).name()
            self._sign.setPixmap(icon_pixmap("warning", spacing(self.font()).icon, colour))
            self._sign.setAccessibleName(say("Problem"))
        self.step.setText(message.step_name)
        self.step.setAccessibleName(message.step_name.replace("&", ""))
        self.step.setVisible(message.step is not None)
        self.setAccessibleName(message.text)
        self.show()
        self._timer.stop()
        if not message.problem:
            self._timer.start(SHOWN_MS)
        QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.Alert))

    def clear(self) -> None:
        self._message = None
        self._timer.stop()
        self.hide()

    def _take_step(self) -> None:
        message = self._message
        self.clear()
        if message is not None and message.step is not None:
            message.step()
