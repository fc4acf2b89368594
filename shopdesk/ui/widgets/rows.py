"""The model of a list: prepared display rows under keys, changed with as little stir as possible.

Rows are whatever a service answered; the columns say how a row is written. Selection, current row and
scroll survive because rows are taken away, moved and added, never reset.
"""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtGui import QFont, QIcon

Index = QModelIndex | QPersistentModelIndex
ROW = Qt.ItemDataRole.UserRole  # the service's row itself, for delegates that draw


@dataclass(frozen=True, slots=True)
class Column:
    """How one column is written; `width` counts characters, `sort` gives what to sort by."""

    name: str  # what it is remembered by
    title: str
    text: Callable[[Any], str]
    width: int = 14
    figures: bool = False  # set to the right, figures under each other
    stretch: bool = False
    sort: Callable[[Any], Any] | None = None
    icon: Callable[[Any], QIcon | None] | None = None
    tip: Callable[[Any], str] | None = None
    spoken: Callable[[Any], str] | None = None  # for screen readers, where the text is drawn or short
    strong: bool = False


class Rows(QAbstractTableModel):
    """`key` names a row for good, such as its record's id."""

    def __init__(
        self, columns: Sequence[Column], key: Callable[[Any], Hashable], parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.columns = tuple(columns)
        self._key = key
        self._rows: list[Any] = []
        self._keys: list[Hashable] = []
        self._font = QFont()

    def show(self, rows: Sequence[Any]) -> None:
        """Shows these rows instead; what stays the same is not touched."""
        fresh = {self._key(row): row for row in rows}
        order = list(fresh)
        self._take_away(fresh)
        self._bring_in_order(order)
        self._add(order, fresh)
        for place, key in enumerate(order):
            if self._rows[place] != fresh[key]:
                self._rows[place] = fresh[key]
                self.dataChanged.emit(self.index(place, 0), self.index(place, len(self.columns) - 1))

    def row(self, place: int) -> Any:
        """The service's row at a place of the list."""
        return self._rows[place]

    def key_at(self, place: int) -> Hashable:
        return self._keys[place]

    def key_of(self, row: Any) -> Hashable:
        """The key a row goes by, whether it is here or not."""
        return self._key(row)

    def place_of(self, key: Hashable) -> int | None:
        return self._keys.index(key) if key in self._keys else None

    def setFont(self, font: QFont) -> None:
        """The font strong columns derive from."""
        self._font = QFont(font)
        self._font.setWeight(QFont.Weight.DemiBold)

    # Qt's own questions

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        row, column = self._rows[index.row()], self.columns[index.column()]
        if role == Qt.ItemDataRole.DisplayRole:
            return column.text(row)
        if role == ROW:
            return row
        if role == Qt.ItemDataRole.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignRight if column.figures else Qt.AlignmentFlag.AlignLeft
            return side | Qt.AlignmentFlag.AlignVCenter
        if role == Qt.ItemDataRole.FontRole:
            return self._font if column.strong else None
        return _extra(row, column, role)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation == Qt.Orientation.Vertical or not 0 <= section < len(self.columns):
            return None
        column = self.columns[section]
        if role == Qt.ItemDataRole.DisplayRole:
            return column.title
        if role == Qt.ItemDataRole.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignRight if column.figures else Qt.AlignmentFlag.AlignLeft
            return side | Qt.AlignmentFlag.AlignVCenter
        return None

    # The three steps of `show`

    def _take_away(self, fresh: dict[Hashable, Any]) -> None:
        for place in reversed(range(len(self._keys))):
            if self._keys[place] not in fresh:
                self.beginRemoveRows(QModelIndex(), place, place)
                del self._rows[place], self._keys[place]
                self.endRemoveRows()

    def _bring_in_order(self, order: list[Hashable]) -> None:
        at = {key: place for place, key in enumerate(self._keys)}
        wanted = [key for key in order if key in at]
        if wanted == self._keys:
            return
        self.layoutAboutToBeChanged.emit()
        before = self.persistentIndexList()
        now = {key: place for place, key in enumerate(wanted)}
        after = [self.index(now[self._keys[i.row()]], i.column()) for i in before]
        self._rows = [self._rows[at[key]] for key in wanted]
        self._keys = wanted
        self.changePersistentIndexList(before, after)
        self.layoutChanged.emit()

    def _add(self, order: list[Hashable], fresh: dict[Hashable, Any]) -> None:
        place = 0
        while place < len(order):
            end = place
            while end < len(order) and (place >= len(self._keys) or order[end] != self._keys[place]):
                end += 1
            if end > place:
                self.beginInsertRows(QModelIndex(), place, end - 1)
                self._keys[place:place] = order[place:end]
                self._rows[place:place] = [fresh[key] for key in order[place:end]]
                self.endInsertRows()
            place = end + 1


def _extra(row: Any, column: Column, role: int) -> Any:
    if role == Qt.ItemDataRole.DecorationRole and column.icon:
        return column.icon(row)
    if role == Qt.ItemDataRole.ToolTipRole:
        return column.tip(row) if column.tip else None
    if role == Qt.ItemDataRole.AccessibleTextRole and column.spoken:
        return column.spoken(row)
    return None
