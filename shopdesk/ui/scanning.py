"""A scanner that types like a keyboard, or a pasted code, opens what it names, wherever the keyboard is.

Away from text fields letters are commands, and a scanner's burst of them must not be. So a letter is
held for a blink: what follows faster than fingers belongs to a scan, anything else is typed after all.
In a text field a code goes in as text and is taken out again when Return follows it. Only codes of
our own are followed; anything else a scanner reads is shown as text.
"""

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QPlainTextEdit, QTextEdit, QWidget

from shopdesk.domain.codes import Code, code_at_end, read_code

HELD_MS = 35  # fingers leave more between two keys; scanners leave a few
LEAST = 5  # shorter bursts were fingers after all
_KEYS = (QEvent.Type.ShortcutOverride, QEvent.Type.KeyPress)
_RETURN = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_MODIFIERS = (
    Qt.Key.Key_Shift, Qt.Key.Key_Control, Qt.Key.Key_Alt, Qt.Key.Key_AltGr, Qt.Key.Key_Meta,
    Qt.Key.Key_CapsLock, Qt.Key.Key_NumLock,
)  # fmt: skip
_QUIET = Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier


class Scanner(QObject):
    """Watches the keys of one window. `opens` gets a code of ours, `told` a text that is none."""

    def __init__(
        self, window: QWidget, opens: Callable[[Code], object], told: Callable[[str], object]
    ) -> None:
        super().__init__(window)
        self._window, self._opens, self._told = window, opens, told
        self._held: list[tuple[Qt.Key, Qt.KeyboardModifier, str]] = []
        self._typing = False
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(HELD_MS)
        self._timer.timeout.connect(self._let_go)
        QApplication.instance().installEventFilter(self)  # type: ignore[union-attr]

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() not in _KEYS or self._typing or not self._here():
            return False
        assert isinstance(event, QKeyEvent)
        if isinstance(watched, QWidget) and _text_of(watched) is not None and not watched.hasFocus():
            return False  # sent to a text field that is not the one with the keyboard
        if event.type() == QEvent.Type.ShortcutOverride:
            return self._overridden(event)
        if event.type() == QEvent.Type.KeyPress:
            return self._pressed(event)
        return False

    def _here(self) -> bool:
        """Keys of another window, such as a dialog, are none of ours."""
        focus = QApplication.focusWidget()
        return focus is not None and focus.window() is self._window.window()

    def _overridden(self, event: QKeyEvent) -> bool:
        """Keeps a key that may belong to a scan, or a pasted code, from being a command."""
        mine = self._may_be_scanned(event) or self._pasted(event) is not None
        if mine:
            event.accept()
        return mine

    def _pressed(self, event: QKeyEvent) -> bool:
        focus = QApplication.focusWidget()
        if event.key() in _RETURN and _text_of(focus) is not None:
            return self._taken_out_of(focus)
        pasted = self._pasted(event)
        if pasted is not None:
            self._opens(pasted)
            return True
        if not self._may_be_scanned(event):
            if event.key() not in _MODIFIERS:  # Shift belongs to the capital that follows
                self._hurry()
            return False
        if event.key() in _RETURN:
            self._ended()
        else:
            self._held.append((Qt.Key(event.key()), event.modifiers(), event.text()))
            self._timer.start()
        return True

    def _hurry(self) -> None:
        """A key that is no letter comes after the letters held, not before them."""
        if self._held:
            self._timer.stop()
            self._let_go()

    def _may_be_scanned(self, event: QKeyEvent) -> bool:
        """A letter away from text fields; or Return that ends a burst."""
        if (
            event.modifiers() & ~_QUIET
            or event.isAutoRepeat()
            or _text_of(QApplication.focusWidget()) is not None
        ):
            return False
        if event.key() in _RETURN:
            return len(self._held) >= LEAST
        return len(event.text()) == 1 and event.text().isprintable() and event.text() != " "

    def _pasted(self, event: QKeyEvent) -> Code | None:
        """A code of ours in the clipboard, pasted where no text can be put."""
        if (
            not event.matches(QKeySequence.StandardKey.Paste)
            or _text_of(QApplication.focusWidget()) is not None
        ):
            return None
        return read_code(QGuiApplication.clipboard().text())

    def _ended(self) -> None:
        self._timer.stop()
        text = "".join(text for _, _, text in self._held)
        self._held = []
        self._open(text)

    def _open(self, text: str) -> None:
        code = read_code(text)
        if code is not None:
            self._opens(code)
        else:
            self._told(text)

    def _let_go(self) -> None:
        """No more came: fingers typed it, or a scanner that sends no Return."""
        held, self._held = self._held, []
        text = "".join(text for _, _, text in held)
        if len(held) >= LEAST:
            self._open(text)
            return
        self._typing = True
        try:
            for key, modifiers, _ in held:
                focus = QApplication.focusWidget()
                if focus is not None:  # as a keyboard would: with the shortcuts that listen for it
                    QTest.keyClick(focus, key, modifiers)
        finally:
            self._typing = False

    def _taken_out_of(self, field: QWidget | None) -> bool:
        """A code at the end of a text field, followed by Return, is opened and not kept as text."""
        found = code_at_end(_text_of(field) or "")
        if found is None or field is None:
            return False
        before, code = found
        if isinstance(field, QLineEdit):
            field.setText(before)
        elif isinstance(field, QPlainTextEdit):
            field.setPlainText(before)
        self._opens(code)
        return True


def _text_of(widget: QWidget | None) -> str | None:
    """What stands in a text field; None where letters are no text."""
    if isinstance(widget, QLineEdit):
        return None if widget.isReadOnly() else widget.text()
    if isinstance(widget, QPlainTextEdit | QTextEdit):
        return None if widget.isReadOnly() else widget.toPlainText()
    if isinstance(widget, QComboBox) and widget.isEditable():
        return widget.currentText()
    return None
