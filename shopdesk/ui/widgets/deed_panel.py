"""A form that opens in a page when something is to be done, and is gone when it is done."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget

from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading
from shopdesk.wording import say


class DeedPanel(QWidget):
    """Shows one form at a time under a heading; Escape leaves it. `opened` lets the page scroll to it."""

    opened = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.form: Form | None = None
        self._back: QWidget | None = None
        self._shown: list[QWidget] = []
        self._box = upright()
        self.setLayout(self._box)
        leave = QShortcut(QKeySequence("Esc"), self)
        leave.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        leave.activated.connect(self.leave)
        self.hide()

    def open(
        self, title: str, form: Form, above: Sequence[QWidget] = (), holder: QWidget | None = None
    ) -> None:
        """Shows a form, its main button already set, in place of the one before.

        `above` goes over it; `holder` is shown when the form stands inside another widget.
        """
        self._clear()
        self._back = self.window().focusWidget()
        self.form = form
        form.add_button(Button(say("Leave it"), self.leave))
        self._shown = [Heading(title), *above, holder or form]
        for widget in self._shown:
            self._box.addWidget(widget)
        self.show()
        form.focusFirst()
        self.opened.emit()

    def leave(self) -> None:
        """Closes it; the keyboard goes back to where it was."""
        back, self._back = self._back, None
        self._clear()
        self.hide()
        if back is not None and back.isVisible():
            back.setFocus(Qt.FocusReason.OtherFocusReason)

    def _clear(self) -> None:
        self.form = None
        for widget in self._shown:
            self._box.removeWidget(widget)
            widget.hide()
            widget.deleteLater()
        self._shown = []
