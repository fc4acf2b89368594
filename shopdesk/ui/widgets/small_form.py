"""A small form beside a list: a heading, fields, a way back. Return saves, Escape leaves it."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractSpinBox, QComboBox, QLineEdit, QWidget

from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading
from shopdesk.wording import say

Save = Callable[[dict[str, Any]], object]
Close = Callable[[], object]
_Held = Qt.KeyboardModifier
_WITH = _Held.ControlModifier | _Held.AltModifier | _Held.MetaModifier


class SmallForm(QWidget):
    """Made when it is asked for, gone when it is saved or left. Add fields to `form`, then call `ready`."""

    keeps_draft = True  # what is typed and not saved is there again when the form is opened the next time

    def __init__(self, title: str, save_text: str, save: Save, close: Close, *, columns: int = 1) -> None:
        super().__init__()
        self._close = close
        self._save_text, self._save = save_text, save
        self.heading = Heading(title)
        self.heading.setWordWrap(True)
        self.form = Form(columns=columns)
        self.box = upright([self.heading, self.form], gap="small")
        self.setLayout(self.box)

    def ready(self) -> "SmallForm":
        """Puts the buttons under the fields."""
        self.form.on_save(self._save_text, self._save)
        self.form.add_button(Button(say("Leave it (Esc)"), self._close))
        self.listen()
        return self

    def listen(self) -> None:
        """Return in any line, count or choice saves from now on."""
        for kind in (QLineEdit, QAbstractSpinBox, QComboBox):
            for field in self.findChildren(kind):
                field.installEventFilter(self)

    def focusFirst(self) -> None:
        self.form.focusFirst()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if (
            isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.KeyPress
            and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
            and not (isinstance(watched, QComboBox) and watched.view().isVisible())
        ):
            self.form.submit()
            return True
        return False

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """A letter beside the fields is no deed of the page behind the form; other keys pass on."""
        if event.key() == Qt.Key.Key_Escape:
            self._close()
        elif not event.text().isprintable() or not event.text() or event.modifiers() & _WITH:
            super().keyPressEvent(event)
