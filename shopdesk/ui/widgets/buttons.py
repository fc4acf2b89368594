"""Buttons: the main deed of a form, the others, and quiet ones that look like text."""

from collections.abc import Callable, Iterable

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence, QPalette, QShortcut
from PySide6.QtWidgets import QApplication, QMenu, QPushButton, QSizePolicy, QWidget

from shopdesk.ui.look import colours_of, icon, spacing


class Button(QPushButton):
    """A button with a word, and an icon of ours if named; `shortcut` shows in its tip."""

    def __init__(
        self, text: str, pressed: Callable[[], object], *, icon_name: str = "", shortcut: str = "",
        tip: str = "", parent: QWidget | None = None,
    ) -> None:  # fmt: skip
        super().__init__(text, parent)
        self._icon_name = icon_name
        self.setAutoDefault(False)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self.clicked.connect(lambda _checked: pressed())
        if shortcut:
            keys = QKeySequence(shortcut)
            # A key of its own: setShortcut would take the underlined letter's away.
            QShortcut(keys, self, self.click)
            tip = f"{tip} ({keys.toString(QKeySequence.SequenceFormat.NativeText)})".strip()
        self.setToolTip(tip)
        self.setAccessibleName(text.replace("&", ""))
        self._dress()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Return presses the button that has the keyboard, as Space does."""
        plain = event.modifiers() in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier)
        if plain and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
            return
        super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.PaletteChange):
            self._dress()

    def _dress(self) -> None:
        size = spacing(QApplication.font())
        self.setMinimumHeight(size.target)
        if self._icon_name:
            self.setIcon(icon(self._icon_name, QApplication.palette()))
            self.setIconSize(QSize(size.icon, size.icon))


def fill_menu(menu: QMenu, buttons: Iterable[Button]) -> None:
    """The deeds of these buttons as they stand now, for the menu of a row: the same words, the same keys."""
    for button in buttons:
        if not button.isHidden() and button.isEnabled():
            menu.addAction(button.icon(), button.text(), button.click)


class MainButton(Button):
    """The one deed a form is for; filled with the accent."""

    def _dress(self) -> None:
        super()._dress()
        colours = colours_of(QApplication.palette())
        style = (
            f"QPushButton {{ background: {colours.accent}; color: {colours.accent_text}; padding: 4px 14px;"
            f" border: 2px solid {colours.accent}; border-radius: 4px; font-weight: 600; }}"
            f" QPushButton:focus {{ border-color: {colours.focus}; outline: none; }}"
            f" QPushButton:pressed {{ background: {colours.focus}; }}"
        )
        if style != self.styleSheet():
            self.setStyleSheet(style)
        if self._icon_name:
            self.setIcon(icon(self._icon_name, _on_accent()))


class ToolButton(Button):
    """One of several tools; the one in hand has a strong frame, in light and in dark."""

    def __init__(self, text: str, pressed: Callable[[], object], parent: QWidget | None = None) -> None:
        super().__init__(text, pressed, parent=parent)
        self.setCheckable(True)

    def _dress(self) -> None:
        super()._dress()
        colours = colours_of(QApplication.palette())
        style = (
            f"QPushButton {{ background: {colours.button}; color: {colours.text}; padding: 4px 12px;"
            f" border: 2px solid {colours.line}; border-radius: 4px; }}"
            f" QPushButton:checked {{ border-color: {colours.text}; }}"
            f" QPushButton:focus {{ border-color: {colours.focus}; outline: none; }}"
        )
        if style != self.styleSheet():
            self.setStyleSheet(style)


class QuietButton(Button):
    """A deed beside the main one, without a frame until it has focus or the mouse."""

    align = "center"

    def _dress(self) -> None:
        super()._dress()
        self.setFlat(True)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        colours = colours_of(QApplication.palette())
        style = (
            "QPushButton { border: 2px solid transparent; border-radius: 4px; padding: 2px 6px;"
            f" text-align: {self.align}; }}"
            f" QPushButton:focus {{ border-color: {colours.focus}; }}"
            f" QPushButton:hover, QPushButton:pressed {{ background: {colours.button}; }}"
        )
        if style != self.styleSheet():
            self.setStyleSheet(style)


def _on_accent() -> QPalette:
    palette = QApplication.palette()
    palette.setColor(palette.ColorRole.ButtonText, palette.color(palette.ColorRole.HighlightedText))
    return palette
