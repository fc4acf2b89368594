"""The list of the Bench: arrows go from task to task, the square ticks, Return opens; letters pass on."""

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import (
    QEvent,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QListView, QStackedLayout, QWidget

from shopdesk.ui.pages.bench.row_drawing import RowDrawing, row_height, tick_box
from shopdesk.ui.pages.bench.shown import Key, RangeRow, Row, TaskRow
from shopdesk.ui.widgets.empty_state import EmptyState
from shopdesk.ui.widgets.rows import ROW, Column, Rows
from shopdesk.wording import say

Index = QModelIndex | QPersistentModelIndex
_ENDS = (Qt.Key.Key_Home, Qt.Key.Key_End)


class _Model(Rows):
    """Headings cannot be chosen, but a range that folds can."""

    def flags(self, index: Index) -> Qt.ItemFlag:
        row = index.data(ROW)
        if isinstance(row, TaskRow) or (isinstance(row, RangeRow) and row.folds):
            return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        return Qt.ItemFlag.NoItemFlags

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if role == Qt.ItemDataRole.SizeHintRole:
            return QSize(100, row_height(index.data(ROW), self.font))
        return super().data(index, role)

    def setFont(self, font: Any) -> None:
        self.font = font
        super().setFont(font)


class _View(QListView):
    """Leaves letters and Space to the page; the square under the mouse ticks."""

    boxPressed = Signal()
    foldPressed = Signal()
    returnPressed = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.returnPressed.emit()
        elif event.key() in (Qt.Key.Key_Left, Qt.Key.Key_Right) and self._folds(self.currentIndex()):
            self.foldPressed.emit()
        elif event.key() in _ENDS:
            self._to_end(event.key() == Qt.Key.Key_Home)
        elif event.text() and (event.text().isalnum() or event.text() == " "):
            event.ignore()
        else:
            super().keyPressEvent(event)

    def _to_end(self, first: bool) -> None:
        """The first or last row that can be chosen; headings cannot."""
        count = self.model().rowCount()
        for place in range(count) if first else reversed(range(count)):
            index = self.model().index(place, 0)
            if self.model().flags(index) != Qt.ItemFlag.NoItemFlags:
                self.setCurrentIndex(index)
                self.scrollToTop() if first else self.scrollToBottom()
                return

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Qt makes a row current when the keyboard comes in; it is chosen as well."""
        super().focusInEvent(event)
        if self.currentIndex().isValid() and not self.selectionModel().hasSelection():
            chosen = QItemSelectionModel.SelectionFlag.ClearAndSelect
            self.selectionModel().select(self.currentIndex(), chosen)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        index = self.indexAt(event.position().toPoint())
        if event.button() != Qt.MouseButton.LeftButton or not index.isValid():
            return
        row = index.data(ROW)
        grown = tick_box(QRectF(self.visualRect(index)), self.font()).adjusted(-12, -12, 12, 12)
        if isinstance(row, TaskRow) and grown.contains(event.position()):
            self.boxPressed.emit()
        elif self._folds(index):
            self.foldPressed.emit()

    def _folds(self, index: QModelIndex) -> bool:
        row = index.data(ROW) if index.isValid() else None
        return isinstance(row, RangeRow) and row.folds


class TaskList(QWidget):
    """`chosen` follows the keyboard; `ticked` and `opened` are about the current task."""

    chosen = Signal(object)  # TaskRow or None
    ticked = Signal()
    opened = Signal(object)  # TaskRow
    folded = Signal(object)  # job id

    def __init__(self, show_everybodys: Callable[[], object], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = Column("task", say("Task"), lambda row: row.spoken(), spoken=lambda row: row.spoken())
        self.model = _Model([column], key=lambda row: row.key, parent=self)
        self.view = _View(self)
        self.view.setModel(self.model)
        self.view.setItemDelegate(RowDrawing(self.view))
        self.view.setAccessibleName(say("Tasks"))
        self.view.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.view.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.view.setResizeMode(QListView.ResizeMode.Adjust)
        self.empty = EmptyState(
            say("Tasks of agreed work will stand here, what can be done now first."),
            (say("Show everybody’s tasks"), show_everybodys),
        )
        self._stack = QStackedLayout(self)
        self._stack.addWidget(self.view)
        self._stack.addWidget(self.empty)
        self._stack.setCurrentWidget(self.empty)
        self._told: object = None
        self._wants_keyboard = False  # asked to have it before there were rows
        self.model.setFont(self.font())
        self.view.selectionModel().currentChanged.connect(lambda _now, _before: self._tell())
        self.view.boxPressed.connect(self.ticked)
        self.view.foldPressed.connect(self._fold)
        self.view.returnPressed.connect(self._open)
        self.view.doubleClicked.connect(lambda _index: self._open())

    def show_rows(self, rows: Sequence[Row], *, leave: bool = False) -> None:
        """Shows these; the current row stays, or with `leave` the one in its place takes over."""
        place = self.view.currentIndex().row()
        had_focus = self.view.hasFocus() or self.empty.has_focus() or self._wants_keyboard
        self._wants_keyboard = self._wants_keyboard and not rows
        self.model.show(rows)
        self._stack.setCurrentWidget(self.view if rows else self.empty)
        if rows and (leave or not self.view.currentIndex().isValid()):
            self._take_place(max(0, place))
        if had_focus and rows:
            self.view.setFocus(Qt.FocusReason.OtherFocusReason)
        if self.view.currentIndex().row() != place:
            self.view.scrollTo(self.view.currentIndex())
        self._tell()

    def current(self) -> TaskRow | None:
        """The task the keyboard is on."""
        index = self.view.currentIndex()
        row = index.data(ROW) if index.isValid() else None
        return row if isinstance(row, TaskRow) else None

    def select(self, key: Key) -> bool:
        """Puts the keyboard on a row; False when it is not here."""
        place = self.model.place_of(key)
        if place is None:
            return False
        self.view.setCurrentIndex(self.model.index(place, 0))
        self.view.scrollTo(self.view.currentIndex())
        return True

    def focusFirst(self) -> None:
        self._wants_keyboard = not self.model.rowCount()
        if not self.model.rowCount():
            self.empty.focusFirst()
        else:
            if not self.view.currentIndex().isValid():
                self._take_place(0)
            self.view.setFocus(Qt.FocusReason.OtherFocusReason)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.view.scheduleDelayedItemsLayout()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.model.setFont(self.font())
            self.view.scheduleDelayedItemsLayout()

    def _take_place(self, place: int) -> None:
        """The nearest row that can be chosen, from a place downwards, else upwards."""
        count = self.model.rowCount()
        order = [*range(min(place, count - 1), count), *range(min(place, count) - 1, -1, -1)]
        for at in order:
            index = self.model.index(at, 0)
            if self.model.flags(index) != Qt.ItemFlag.NoItemFlags:
                self.view.setCurrentIndex(index)
                self.view.scrollTo(index)
                return

    def _tell(self) -> None:
        row = self.current()
        if row != self._told:
            self._told = row
            self.chosen.emit(row)

    def _open(self) -> None:
        row = self.current()
        if row is not None:
            self.opened.emit(row)
        else:
            self._fold()

    def _fold(self) -> None:
        index = self.view.currentIndex()
        row = index.data(ROW) if index.isValid() else None
        if isinstance(row, RangeRow) and row.folds:
            self.folded.emit(int(row.key[2]))
