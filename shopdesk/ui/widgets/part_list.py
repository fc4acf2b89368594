"""The parts of a drawing as a list, for those who do not see the drawing. Knows that widget only."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QWidget

from shopdesk.ui.widgets.range_drawing import RangeDrawing
from shopdesk.wording import say


class PartList(QListWidget):
    """The parts of a drawing as a list with their pins in words, kept in step with it."""

    def __init__(self, drawing: RangeDrawing, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._drawing = drawing
        self.setAccessibleName(say("Parts of the drawing"))
        self.itemActivated.connect(self._chosen)
        self.currentItemChanged.connect(self._moved)
        drawing.partFocused.connect(self._follow)
        self.refresh()

    def refresh(self) -> None:
        """Fill again after the drawing or its pins changed; the current part stays."""
        self.blockSignals(True)
        self.clear()
        for part in self._drawing.parts():
            item = QListWidgetItem(self._drawing.words(part))
            item.setData(Qt.ItemDataRole.UserRole, part)
            self.addItem(item)
        self.blockSignals(False)
        self._follow(self._drawing.currentPart())

    def _follow(self, part: str) -> None:
        for row in range(self.count()):
            if self.item(row).data(Qt.ItemDataRole.UserRole) == part:
                self.setCurrentRow(row)
                return

    def _moved(self, item: QListWidgetItem | None) -> None:
        if item is not None:
            self._drawing.setCurrentPart(str(item.data(Qt.ItemDataRole.UserRole)))

    def _chosen(self, item: QListWidgetItem) -> None:
        self._drawing.partActivated.emit(str(item.data(Qt.ItemDataRole.UserRole)))
