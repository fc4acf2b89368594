"""Buttons as high as a gloved finger asks for, in as many columns as there is room; and words to tap."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QApplication, QPushButton, QSizePolicy, QWidget

from shopdesk.ui.look import spacing
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.ui.widgets.wrapped_row import WrappedRow


class LargeButton(Button):
    """Takes the width it is given."""

    def _dress(self) -> None:
        super()._dress()
        self.setMinimumHeight(spacing(QApplication.font()).big_target)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)


class SentenceButton(LargeButton):
    """A whole sentence on it, in as many lines as its width asks for."""

    def __init__(self, text: str, pressed: Callable[[], object], *, icon_name: str = "") -> None:
        self._sentence = text
        super().__init__(text, pressed, icon_name=icon_name)

    def _dress(self) -> None:
        super()._dress()
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setStyleSheet("text-align: left; padding-left: 12px;")
        self._break()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._break()

    def _break(self) -> None:
        letters, sizes = self.fontMetrics(), spacing(QApplication.font())
        room = self.width() - 2 * sizes.gap - (0 if self.icon().isNull() else sizes.icon) - 12
        lines = [""]
        for word in self._sentence.split(" "):
            longer = f"{lines[-1]} {word}" if lines[-1] else word
            if lines[-1] and letters.horizontalAdvance(longer) > room:
                lines.append(word)
            else:
                lines[-1] = longer
        self.setText("\n".join(lines))
        self.setMinimumHeight(max(sizes.big_target, len(lines) * letters.lineSpacing() + 2 * sizes.small))


class LargeMainButton(MainButton):
    """The deed that is meant first."""

    def _dress(self) -> None:
        super()._dress()
        self.setMinimumHeight(spacing(QApplication.font()).big_target)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)


class ButtonGrid(QWidget):
    """Lays its buttons out in one to `most` columns of one width; hidden ones leave no hole."""

    def __init__(
        self, buttons: Sequence[QPushButton], *, most: int = 4, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.buttons = list(buttons)
        self._most = most
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        for button in self.buttons:
            button.setParent(self)
            button.show()
        self.lay()

    def offer(self, shown: Callable[[QPushButton], bool]) -> None:
        """Shows those of which it is true."""
        for button in self.buttons:
            button.setVisible(shown(button))
        self.lay()

    def lay(self) -> None:
        """Places the buttons anew, after the width, the letters or what is hidden changed."""
        here = [button for button in self.buttons if not button.isHidden()]
        gap = spacing(QApplication.font()).small
        columns = self._columns(here, gap)
        wide = (self.width() - gap * (columns - 1)) // columns
        high = max((button.minimumSizeHint().height() for button in here), default=0)
        high = max([high, *(button.minimumHeight() for button in here)])
        for place, button in enumerate(here):
            row, column = divmod(place, columns)
            button.setGeometry(column * (wide + gap), row * (high + gap), wide, high)
        rows = -(-len(here) // columns)
        height = max(0, rows * (high + gap) - gap)
        if self.minimumHeight() != height or self.maximumHeight() != height:
            self.setFixedHeight(height)

    def minimumSizeHint(self) -> QSize:
        widest = max((b.sizeHint().width() for b in self.buttons if not b.isHidden()), default=0)
        return QSize(widest, self.minimumHeight())

    def sizeHint(self) -> QSize:
        return self.minimumSizeHint()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.lay()

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.LayoutRequest:
            self.lay()
        return super().event(event)

    def _columns(self, here: Sequence[QPushButton], gap: int) -> int:
        """As many as fit the widest of them, and no more than there are."""
        widest = max((button.sizeHint().width() for button in here), default=1)
        fitting = (self.width() + gap) // (widest + gap)
        return max(1, min(self._most, len(here) or 1, fitting))


class TapWords(WrappedRow):
    """Words one touches instead of typing them; each goes to `take`. The keyboard types, and passes by."""

    def __init__(self, words: Sequence[str], take: Callable[[str], object]) -> None:
        self._take = take
        super().__init__([self._button(word) for word in words])

    def show_words(self, words: Sequence[str]) -> None:
        self.show_parts([self._button(word) for word in words])

    def _button(self, word: str) -> Button:
        button = Button(word, lambda: self._take(word))
        button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        return button
