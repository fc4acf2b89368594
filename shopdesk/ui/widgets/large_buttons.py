"""Buttons as high as a gloved finger asks for, in as many columns as there is room; and words to tap."""

from collections.abc import Callable, Sequence

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QApplication, QGridLayout, QPushButton, QSizePolicy, QWidget

from shopdesk.ui.look import spacing
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.ui.widgets.wrapped_row import WrappedRow

LETTERS = 18  # the width one button asks for


class LargeButton(Button):
    """Takes the width it is given."""

    def _dress(self) -> None:
        super()._dress()
        self.setMinimumHeight(spacing(QApplication.font()).big_target)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)


class LargeMainButton(MainButton):
    """The deed that is meant first."""

    def _dress(self) -> None:
        super()._dress()
        self.setMinimumHeight(spacing(QApplication.font()).big_target)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)


class ButtonGrid(QWidget):
    """Lays its buttons out in `least` to `most` columns; hidden ones leave no hole."""

    def __init__(
        self, buttons: Sequence[QPushButton], *, least: int = 1, most: int = 4, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.buttons = list(buttons)
        self._least, self._most = least, most
        self._laid: tuple[int, tuple[bool, ...]] | None = None
        self._grid = QGridLayout()
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(spacing(self.font()).small)
        self.setLayout(self._grid)
        self._lay(least)

    def offer(self, shown: Callable[[QPushButton], bool]) -> None:
        """Shows those of which it is true."""
        for button in self.buttons:
            button.setVisible(shown(button))
        self.lay()

    def lay(self) -> None:
        """Lays out again after buttons were shown or hidden."""
        one = self.fontMetrics().averageCharWidth() * LETTERS
        self._lay(max(self._least, min(self._most, self.width() // one)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.lay()

    def _lay(self, columns: int) -> None:
        shown = tuple(not button.isHidden() for button in self.buttons)
        if (columns, shown) == self._laid:
            return
        self._laid = (columns, shown)
        for button in self.buttons:
            self._grid.removeWidget(button)
        here = [b for b, is_here in zip(self.buttons, shown, strict=True) if is_here]
        for place, button in enumerate(here):
            self._grid.addWidget(button, place // columns, place % columns)
            button.setVisible(True)  # a layout may hide what it takes in again
        for column in range(self._most):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)


class TapWords(WrappedRow):
    """Words one touches instead of typing them; each goes to `take`."""

    def __init__(self, words: Sequence[str], take: Callable[[str], object]) -> None:
        self._take = take
        super().__init__([self._button(word) for word in words])

    def show_words(self, words: Sequence[str]) -> None:
        self.show_parts([self._button(word) for word in words])

    def _button(self, word: str) -> Button:
        return Button(word, lambda: self._take(word))
