"""The tabs of a page with sections: the open one is underlined, in every scheme."""

from PySide6.QtCore import QEvent
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QApplication, QTabBar, QWidget

from shopdesk.ui.look import colours_of, spacing


class SectionTabs(QTabBar):
    """Left and Right walk, Alt and the underlined letter jump."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setDrawBase(False)
        self.setExpanding(False)
        self._dress()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.PaletteChange):
            self._dress()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._dress()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self._dress()

    def _dress(self) -> None:
        colours = colours_of(QApplication.palette())
        sizes = spacing(QApplication.font())
        ring = colours.focus if self.hasFocus() else "transparent"
        style = (
            f"QTabBar::tab {{ background: transparent; color: {colours.text}; padding: {sizes.small}px"
            f" {sizes.gap}px; border: 2px solid transparent; border-bottom: 4px solid transparent; }}"
            f" QTabBar::tab:selected {{ border: 2px solid {ring};"
            f" border-bottom: 4px solid {colours.accent}; }}"
            f" QTabBar::tab:hover {{ background: {colours.button}; }}"
        )
        if style != self.styleSheet():
            self.setStyleSheet(style)
