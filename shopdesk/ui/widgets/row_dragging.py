"""Rows of a list moved by hand: dragged to another place, or with Alt and the arrows."""

from collections.abc import Hashable

from PySide6.QtCore import QEvent, QMimeData, QObject, QPoint, QRect, Qt, Signal
from PySide6.QtGui import QDrag, QDragMoveEvent, QDropEvent, QKeySequence, QMouseEvent, QShortcut
from PySide6.QtWidgets import QApplication, QRubberBand

from shopdesk.ui.widgets.list_table import ListTable

_KIND = "application/x-shopdesk-row"


class RowDragging(QObject):
    """`moved` names the row and the row it goes before, None for the end; the page moves it."""

    moved = Signal(object, object)

    def __init__(self, table: ListTable) -> None:
        super().__init__(table)
        self._table, self._view = table, table.view
        self._from: QPoint | None = None
        self._line = QRubberBand(QRubberBand.Shape.Line, self._view.viewport())
        self._view.viewport().setAcceptDrops(True)
        self._view.viewport().installEventFilter(self)
        for keys, by in (("Alt+Up", -1), ("Alt+Down", 2)):
            shortcut = QShortcut(QKeySequence(keys), self._view)
            shortcut.setContext(Qt.ShortcutContext.WidgetShortcut)
            shortcut.activated.connect(lambda by=by: self.step(by))

    def step(self, by: int) -> None:
        """One place up (-1) or down (2: before the one after the next)."""
        key = self._table.current_key()
        here = self._table.model.place_of(key) if key is not None else None
        if here is not None and 0 <= here + by <= self._table.model.rowCount():
            self.moved.emit(key, self._key(here + by))

    def drop_at(self, key: Hashable, y: int) -> None:
        """As if the row of that key were let go at this height of the list."""
        place = self._place(y)
        here = self._table.model.place_of(key)
        if here is not None and place not in (here, here + 1):
            self.moved.emit(key, self._key(place))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        kinds = QEvent.Type
        if isinstance(event, QMouseEvent):
            self._follow_mouse(event)
        elif isinstance(event, QDropEvent) and event.mimeData().hasFormat(_KIND):
            if event.source() is not self._view:
                return False
            if event.type() == kinds.Drop:
                self._line.hide()
                self.drop_at(self._table.current_key(), round(event.position().y()))
            elif isinstance(event, QDragMoveEvent):
                self._show_line(round(event.position().y()))
            event.acceptProposedAction()
            return True
        elif event.type() == kinds.DragLeave:
            self._line.hide()
        return False

    def _follow_mouse(self, event: QMouseEvent) -> None:
        if event.type() == QEvent.Type.MouseButtonPress and event.button() == Qt.MouseButton.LeftButton:
            self._from = event.position().toPoint()
        elif event.type() == QEvent.Type.MouseButtonRelease:
            self._from = None
        elif event.type() == QEvent.Type.MouseMove and self._from is not None:
            way = event.position().toPoint() - self._from
            if way.manhattanLength() >= QApplication.startDragDistance() and self._table.current():
                self._from = None
                self._drag()

    def _drag(self) -> None:
        mime = QMimeData()
        mime.setData(_KIND, b"row")
        drag = QDrag(self._view)
        drag.setMimeData(mime)
        drag.exec(Qt.DropAction.MoveAction)
        self._line.hide()

    def _place(self, y: int) -> int:
        """Before which row a height lies; behind the last, how many there are."""
        index = self._view.indexAt(QPoint(4, y))
        if not index.isValid():
            return self._table.model.rowCount()
        rect = self._view.visualRect(index)
        return index.row() + (1 if y > rect.center().y() else 0)

    def _show_line(self, y: int) -> None:
        place, model = self._place(y), self._table.model
        last = self._view.visualRect(model.index(max(0, min(place, model.rowCount() - 1)), 0))
        top = last.top() if place < model.rowCount() else last.bottom()
        self._line.setGeometry(QRect(0, max(0, top - 1), self._view.viewport().width(), 3))
        self._line.show()

    def _key(self, place: int) -> Hashable | None:
        return self._table.model.key_at(place) if place < self._table.model.rowCount() else None
