"""Combo and spin boxes the mouse wheel cannot change in passing: the wheel scrolls the page instead."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QFocusEvent, QWheelEvent
from PySide6.QtWidgets import QComboBox, QSpinBox, QWidget


class SteadyCombo(QComboBox):
    """Takes the wheel only while its list is open."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(12)

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()


class SteadySpin(QSpinBox):
    """Takes keys and its arrows, never the wheel."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """What stands there is chosen, however the keyboard came, so that typing replaces it."""
        super().focusInEvent(event)
        if event.reason() != Qt.FocusReason.MouseFocusReason:
            self.selectAll()

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()
