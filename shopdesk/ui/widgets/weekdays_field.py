"""Seven ticks for the days of a week, kept as `25` for Tuesday and Friday (Monday 1 to Sunday 7)."""

from typing import Any

from babel import Locale
from PySide6.QtCore import Signal
from PySide6.QtWidgets import QSizePolicy, QWidget

from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.fields import TickField
from shopdesk.ui.widgets.wrapped_row import WrappedRow


class WeekdaysField(QWidget):
    """A field of a form; the days go on in a second line where it is narrow."""

    edited = Signal()

    def __init__(self, locale: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        days = Locale.parse(locale).days["format"]
        self.ticks = [TickField(str(days["abbreviated"][n])) for n in range(7)]
        for n, tick in enumerate(self.ticks):
            tick.setAccessibleName(str(days["wide"][n]))
            tick.edited.connect(self.edited)
        self.setLayout(upright([WrappedRow(self.ticks)]))
        self.setFocusProxy(self.ticks[0])
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def value(self) -> str:
        return "".join(str(n + 1) for n, tick in enumerate(self.ticks) if tick.value())

    def setValue(self, value: str | None) -> None:
        for n, tick in enumerate(self.ticks):
            tick.setValue(str(n + 1) in (value or ""))

    def typed(self) -> str:
        return self.value()

    def setTyped(self, typed: Any) -> None:
        self.setValue(str(typed))
