"""Fields of several lines: a low, a likely and a high amount; skills to tick; a logo."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from PySide6.QtCore import QByteArray, Qt, Signal
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QLabel, QWidget

from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem
from shopdesk.ui.dialogs import Dialogs
from shopdesk.ui.look import spacing
from shopdesk.ui.widgets.boxes import level, upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import MoneyField, TickField
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import Region, say


class SpreadField(QWidget):
    """Three amounts side by side; all or none."""

    edited = Signal()

    def __init__(self, region: Region, name: str) -> None:
        super().__init__()
        self.parts = tuple(MoneyField(region) for _ in range(3))
        words = (say("low"), say("likely"), say("high"))
        for part, word in zip(self.parts, words, strict=True):
            part.setPlaceholderText(word)
            part.setAccessibleName(f"{name}, {word}")
            part.edited.connect(self.edited)
        self.setLayout(level(list(self.parts)))
        self.setFocusProxy(self.parts[0])

    def value(self) -> Spread | None:
        values = [part.value() for part in self.parts]
        if all(value is None for value in values):
            return None
        if None in values:
            raise Problem("Write all three amounts, or none.")
        low, likely, high = values
        if not low <= likely <= high:
            raise Problem("The three amounts go up: low, likely, high.")
        return Spread(low, likely, high)

    def setValue(self, value: Spread | None) -> None:
        amounts = (value.low, value.likely, value.high) if value else (None, None, None)
        for part, amount in zip(self.parts, amounts, strict=True):
            part.setValue(amount)

    def typed(self) -> list[str]:
        return [part.typed() for part in self.parts]

    def setTyped(self, typed: Any) -> None:
        for part, text in zip(self.parts, typed if isinstance(typed, list) else ["", "", ""], strict=False):
            part.setTyped(text)

    def selectAll(self) -> None:
        self.parts[0].selectAll()


class TicksField(QWidget):
    """Several of some words; its value is a tuple of their keys."""

    edited = Signal()

    def __init__(self, choices: Sequence[tuple[str, str]]) -> None:
        super().__init__()
        self.ticks = {key: TickField(text) for key, text in choices}
        for tick in self.ticks.values():
            tick.edited.connect(self.edited)
        boxes = list(self.ticks.values())
        self.setLayout(upright([WrappedRow(boxes)]))
        if boxes:
            self.setFocusProxy(boxes[0])

    def value(self) -> tuple[str, ...]:
        return tuple(key for key, tick in self.ticks.items() if tick.value())

    def setValue(self, value: Sequence[str]) -> None:
        for key, tick in self.ticks.items():
            tick.setValue(key in value)

    def typed(self) -> list[str]:
        return list(self.value())

    def setTyped(self, typed: Any) -> None:
        self.setValue(typed if isinstance(typed, list) else [])


class LogoField(QWidget):
    """A picture as base64 text; `read` looks at a file and answers the text, or raises a Problem."""

    edited = Signal()
    doubted = Signal(object)  # Problem

    def __init__(self, dialogs: Dialogs, read: Callable[[Path], str]) -> None:
        super().__init__()
        self._dialogs, self._read, self._text = dialogs, read, ""
        self.picture = QLabel()
        self.picture.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.choose_button = Button(say("Choose a picture"), self.choose, icon_name="photo")
        self.off_button = Button(say("Take it off"), self.take_off)
        self.setLayout(
            upright([self.picture, WrappedRow([self.choose_button, self.off_button])], gap="small")
        )
        self.setFocusProxy(self.choose_button)
        self._show()

    def choose(self) -> None:
        path = self._dialogs.open_file(say("Choose the logo"), say("PNG pictures"), "*.png *.PNG")
        if path is None:
            return
        try:
            text = self._read(path)
        except Problem as problem:
            self.doubted.emit(problem)
            return
        self.setValue(text)
        self.edited.emit()

    def take_off(self) -> None:
        self.setValue("")
        self.edited.emit()

    def value(self) -> str:
        return self._text

    def setValue(self, value: str | None) -> None:
        self._text = value or ""
        self._show()

    def typed(self) -> str:
        return self._text

    def setTyped(self, typed: Any) -> None:
        self.setValue(str(typed))

    def _show(self) -> None:
        pixmap = QPixmap()
        if self._text:
            pixmap.loadFromData(QByteArray.fromBase64(self._text.encode("ascii", "ignore")))
        high = spacing(self.font()).big_target * 2
        if pixmap.isNull():
            self.picture.clear()
            self.picture.setText(say("No logo; the name prints alone."))
        else:
            self.picture.setPixmap(
                pixmap.scaled(high * 3, high, Qt.AspectRatioMode.KeepAspectRatio,
                              Qt.TransformationMode.SmoothTransformation)
            )  # fmt: skip
        self.picture.setAccessibleName(say("Logo") if self._text else say("No logo"))
        self.off_button.setVisible(bool(self._text))
