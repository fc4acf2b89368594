"""Fields that read and show one value each: a text, an amount, hours, a day, a rate, a choice.

Every field has `value()`, which raises a Problem for what cannot be read, `setValue(value)`, and the
signal `edited`; `typed()` and `setTyped()` carry what stands there, readable or not, to a draft and back.
An empty field is None (texts: ""). The mouse wheel never changes one in passing.
"""

from collections.abc import Callable, Iterable, Sequence
from typing import Any, Protocol

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QFontMetrics, QKeyEvent
from PySide6.QtWidgets import QCheckBox, QLineEdit, QPlainTextEdit, QSizePolicy, QWidget

from shopdesk.domain.problem import Problem
from shopdesk.ui.widgets.steady import SteadyCombo, SteadySpin
from shopdesk.wording import Region, say
from shopdesk.wording.measures import Measure


class Field(Protocol):
    """What a form asks of a field."""

    edited: Any

    def value(self) -> Any: ...
    def setValue(self, value: Any) -> None: ...
    def typed(self) -> Any: ...
    def setTyped(self, typed: Any) -> None: ...


class TextField(QLineEdit):
    """One line of text, stripped at both ends."""

    edited = Signal()

    def __init__(self, value: str = "", parent: QWidget | None = None) -> None:
        super().__init__(value, parent)
        self.textEdited.connect(self.edited)

    def value(self) -> str:
        return self.text().strip()

    def setValue(self, value: str | None) -> None:
        self.setText(value or "")

    def typed(self) -> str:
        return self.text()

    def setTyped(self, typed: Any) -> None:
        self.setText(str(typed))


class NoteField(QPlainTextEdit):
    """Several lines of text; Tab leaves the field."""

    edited = Signal()

    def __init__(self, value: str = "", lines: int = 3, parent: QWidget | None = None) -> None:
        super().__init__(value, parent)
        self._lines = lines
        self._height = 0
        self.setTabChangesFocus(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self._fit()
        self.textChanged.connect(self._tell)

    def value(self) -> str:
        return self.toPlainText().strip()

    def setValue(self, value: str | None) -> None:
        if (value or "") != self.toPlainText():
            self.setPlainText(value or "")

    def typed(self) -> str:
        return self.toPlainText()

    def setTyped(self, typed: Any) -> None:
        self.setPlainText(str(typed))

    def _tell(self) -> None:
        if self.hasFocus():
            self.edited.emit()

    def _fit(self) -> None:
        frame = 2 * self.frameWidth() + 2 * round(self.document().documentMargin())
        self._height = QFontMetrics(self.font()).lineSpacing() * self._lines + frame
        self.setMinimumHeight(self._height)
        self.updateGeometry()

    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width(), self._height)

    def changeEvent(self, event: Any) -> None:
        super().changeEvent(event)
        if event.type() == event.Type.FontChange:
            self._fit()


class ParsedField(QLineEdit):
    """A line that is read by `parse` and written by `write`; tidied when the person leaves it."""

    edited = Signal()
    doubted = Signal(object)  # Problem, when what was typed cannot be read on leaving

    def __init__(
        self, parse: Callable[[str], Any], write: Callable[[Any], str], sample: str = "",
        parent: QWidget | None = None,
    ) -> None:  # fmt: skip
        super().__init__(parent)
        self._parse, self._write = parse, write
        self.setPlaceholderText(sample)
        self.textEdited.connect(self.edited)

    def value(self) -> Any:
        typed = self.text().strip()
        return self._parse(typed) if typed else None

    def setValue(self, value: Any) -> None:
        self.setText("" if value is None else self._write(value))

    def typed(self) -> str:
        return self.text()

    def setTyped(self, typed: Any) -> None:
        self.setText(str(typed))

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if not self.isModified():
            return
        try:
            self.setValue(self.value())
        except Problem as problem:
            self.doubted.emit(problem)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape gives back what stood there before."""
        if event.key() == Qt.Key.Key_Escape and self.isModified() and self.isUndoAvailable():
            while self.isUndoAvailable():
                self.undo()
            self.edited.emit()
            return
        super().keyPressEvent(event)


class MoneyField(ParsedField):
    """An amount in minor units of the shop's currency."""

    def __init__(self, region: Region, *, negative: bool = False, parent: QWidget | None = None) -> None:
        super().__init__(
            lambda typed: region.parse_money(typed, negative=negative), region.amount, parent=parent
        )


class HoursField(ParsedField):
    """Work time in whole minutes: 1:30, 1.5 or 90m."""

    def __init__(self, region: Region, parent: QWidget | None = None) -> None:
        super().__init__(region.parse_minutes, region.hours, say("1:30, 1.5 or 90m"), parent)


class DayField(ParsedField):
    """A business day (plain date)."""

    def __init__(self, region: Region, parent: QWidget | None = None) -> None:
        super().__init__(region.parse_day, region.day, parent=parent)


class PercentField(ParsedField):
    """A rate in hundredths as Decimal, 0 to 100; `whole` reads and gives int."""

    def __init__(self, region: Region, *, whole: bool = False, parent: QWidget | None = None) -> None:
        def parse(typed: str) -> Any:
            rate = region.parse_percent(typed)
            if not whole:
                return rate
            if rate != int(rate):
                raise Problem("{typed} is not a whole number of percent.", typed=typed)
            return int(rate)

        super().__init__(parse, region.percent, parent=parent)


class NumberField(ParsedField):
    """A plain reading (float)."""

    def __init__(self, region: Region, parent: QWidget | None = None) -> None:
        super().__init__(region.parse_number, region.number, parent=parent)


class MeasureField(ParsedField):
    """A measured value of LENGTH, WEIGHT, TEMPERATURE, PRESSURE or HEAT in the shop's units."""

    def __init__(self, region: Region, kind: Measure, parent: QWidget | None = None) -> None:
        unit = kind.us_unit if region.units == "us" else kind.metric_unit

        def write(value: float) -> str:
            return region.number(value if region.units == "us" else kind.to_metric(value))

        super().__init__(lambda typed: region.parse_measured(typed, kind), write, unit, parent)


class CountField(SteadySpin):
    """A whole number between two ends."""

    edited = Signal()

    def __init__(self, least: int = 0, most: int = 9999, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setRange(least, most)
        self.valueChanged.connect(self.edited)

    def typed(self) -> int:
        return self.value()

    def setTyped(self, typed: Any) -> None:
        self.setValue(typed if isinstance(typed, int) else self.minimum())


class TickField(QCheckBox):
    """Yes or no; the text stands beside the box, so a form gives it no label."""

    edited = Signal()

    def __init__(self, text: str, value: bool = False, parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self.setChecked(value)
        self.clicked.connect(self.edited)

    def value(self) -> bool:
        return self.isChecked()

    def setValue(self, value: bool) -> None:
        self.setChecked(bool(value))

    def typed(self) -> bool:
        return self.isChecked()

    def setTyped(self, typed: Any) -> None:
        self.setChecked(bool(typed))


class ChoiceField(SteadyCombo):
    """One of several (key, text); keys are what `value()` gives, such as members of an enum or record ids."""

    edited = Signal()

    def __init__(
        self, choices: Iterable[tuple[Any, str]] = (), value: Any = None, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._keys: list[Any] = []
        self.setChoices(list(choices))
        if value is not None:
            self.setValue(value)
        self.activated.connect(self.edited)

    def setChoices(self, choices: Sequence[tuple[Any, str]]) -> None:
        """New choices; what was chosen stays chosen if it is still among them."""
        chosen = self.value()
        self.clear()
        self._keys = [key for key, _ in choices]
        self.addItems([text for _, text in choices])
        self.setValue(chosen if chosen in self._keys else next(iter(self._keys), None))

    def value(self) -> Any:
        place = self.currentIndex()
        return self._keys[place] if 0 <= place < len(self._keys) else None

    def setValue(self, value: Any) -> None:
        self.setCurrentIndex(self._keys.index(value) if value in self._keys else -1)

    def typed(self) -> str:
        return self.currentText()

    def setTyped(self, typed: Any) -> None:
        self.setCurrentIndex(self.findText(str(typed)))
