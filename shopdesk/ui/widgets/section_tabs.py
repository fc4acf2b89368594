"""The tabs of a page with sections: the open one is underlined; a choice where the tabs have no room."""

from PySide6.QtCore import QEvent
from PySide6.QtGui import QFocusEvent, QResizeEvent
from PySide6.QtWidgets import QApplication, QTabBar, QWidget

from shopdesk.ui.look import colours_of, spacing
from shopdesk.ui.widgets.steady import SteadyCombo


class SectionTabs(QTabBar):
    """Left and Right walk, Alt and the underlined letter jump. A list where tabs would scroll."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.choice = SteadyCombo(self)
        self.setAccessibleName(name)
        self.setDrawBase(False)
        self.setExpanding(False)
        self.choice.setAccessibleName(name)
        self.choice.hide()
        self.choice.activated.connect(self.setCurrentIndex)
        self.currentChanged.connect(self.choice.setCurrentIndex)
        self._dress()

    def tabLayoutChange(self) -> None:
        super().tabLayoutChange()
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.PaletteChange):
            self._dress()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._dress()
        if not self.choice.isHidden():
            self.choice.setFocus(event.reason())

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self._dress()

    def _fit(self) -> None:
        """All tabs, or the choice over them."""
        texts = [self.tabText(place).replace("&", "") for place in range(self.count())]
        if texts != [self.choice.itemText(place) for place in range(self.choice.count())]:
            self.choice.clear()
            self.choice.addItems(texts)
            self.choice.setCurrentIndex(self.currentIndex())
        needed = sum(self.tabSizeHint(place).width() for place in range(self.count()))
        self.choice.setGeometry(self.rect())
        self.choice.setVisible(needed > self.width() + 1)

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
