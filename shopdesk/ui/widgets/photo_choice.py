"""A field of a form that asks which pictures: small ones in a row, ticked by Space or a press on them."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QByteArray, QEvent, QSize, Qt, Signal
from PySide6.QtGui import QIcon, QPixmap
from PySide6.QtWidgets import QListView, QListWidget, QListWidgetItem, QWidget

from shopdesk.ui.widgets.photo_strip import Photo
from shopdesk.wording import say

_ICON = QSize(144, 108)
_ID, _WORDS = Qt.ItemDataRole.UserRole, Qt.ItemDataRole.AccessibleTextRole
_ON, _OFF = Qt.CheckState.Checked, Qt.CheckState.Unchecked
_BOX = {_ON: "☑", _OFF: "☐"}  # in the words, so that it shows in every scheme and size


class PhotoChoice(QListWidget):
    """Its value are the keys of the ticked pictures in order; `one` lets only a single one be ticked."""

    edited = Signal()

    def __init__(self, photos: Sequence[Photo], *, one: bool = False, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._one = one
        self.setViewMode(QListView.ViewMode.IconMode)
        self.setFlow(QListView.Flow.LeftToRight)
        self.setWrapping(False)
        self.setMovement(QListView.Movement.Static)
        self.setIconSize(_ICON)
        self.setStyleSheet("QListView::indicator { width: 0px; height: 0px; }")
        for photo in photos:
            self.addItem(_item(photo))
        self._fit()
        self.itemChanged.connect(self._changed)
        self.itemClicked.connect(lambda item: item.setCheckState(_OFF if item.checkState() is _ON else _ON))

    def value(self) -> list[int]:
        return [int(item.data(_ID)) for item in self._items() if item.checkState() is _ON]

    def setValue(self, value: Sequence[int]) -> None:
        self.blockSignals(True)
        for item in self._items():
            _tick(item, item.data(_ID) in value)
            if item.checkState() is _ON and self.currentRow() < 0:
                self.setCurrentItem(item)
        self.blockSignals(False)

    def typed(self) -> list[int]:
        return self.value()

    def setTyped(self, typed: Any) -> None:
        self.setValue([int(key) for key in typed] if isinstance(typed, list) else [])

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit()

    def _items(self) -> list[QListWidgetItem]:
        return [self.item(place) for place in range(self.count())]

    def _fit(self) -> None:
        """A picture, one line of words, and the scroll bar."""
        self.setFixedHeight(_ICON.height() + round(self.fontMetrics().height() * 3.2))

    def _changed(self, item: QListWidgetItem) -> None:
        """Ticked by Space or a press; of a single choice the other one goes."""
        if self._one and item.checkState() is _ON:
            self.setValue([int(item.data(_ID))])
        else:
            self.blockSignals(True)
            _tick(item, item.checkState() is _ON)
            self.blockSignals(False)
        self.viewport().update()
        self.edited.emit()


def _item(photo: Photo) -> QListWidgetItem:
    picture = QPixmap()
    picture.loadFromData(QByteArray(photo.thumbnail))
    words = photo.caption or say("Photograph {number}", number=photo.id)
    item = QListWidgetItem(QIcon(picture), words)
    item.setData(_ID, photo.id)
    item.setData(_WORDS, words)
    item.setToolTip(words)
    item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsUserCheckable)
    _tick(item, False)
    return item


def _tick(item: QListWidgetItem, on: bool) -> None:
    state = _ON if on else _OFF
    item.setCheckState(state)
    item.setText(f"{_BOX[state]} {item.data(_WORDS)}")
