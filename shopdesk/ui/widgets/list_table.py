"""A list to look through by keyboard or mouse: fixed rows, remembered columns, words where it is empty."""

from collections.abc import Callable, Hashable, Sequence
from typing import Any

from PySide6.QtCore import QEvent, QItemSelectionModel, QModelIndex, QPoint, Qt, Signal
from PySide6.QtGui import QFocusEvent, QFontMetrics, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QMenu,
    QStackedLayout,
    QStyledItemDelegate,
    QTableView,
    QWidget,
)

from shopdesk.ui.look import spacing
from shopdesk.ui.memory import Memory
from shopdesk.ui.widgets.empty_state import EmptyState
from shopdesk.ui.widgets.rows import Column, Rows

LEAST_LETTERS = 16  # of a column that takes what room is left


class _View(QTableView):
    """Return opens the row; Tab leaves the list instead of walking its cells."""

    pressedReturn = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not event.modifiers():
            self.pressedReturn.emit()
            return
        super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Qt makes a row current when Tab comes in; it is chosen as well."""
        super().focusInEvent(event)
        if self.currentIndex().isValid() and not self.selectionModel().hasSelection():
            self.selectRow(self.currentIndex().row())


class ListTable(QWidget):
    """Shows rows of a service under keys. `name` is for screen readers, `remembered` for column widths."""

    opened = Signal(object)  # key: Return or double click
    chosen = Signal(object)  # key of the current row, or None
    menuAsked = Signal(object, object)  # the row and a QMenu to fill: right button or menu key

    def __init__(
        self, name: str, columns: Sequence[Column], key: Callable[[Any], Hashable], *,
        empty: str, first: tuple[str, Callable[[], object]] | None = None,
        memory: Memory | None = None, remembered: str = "", pictures: bool = False, several: bool = False,
        parent: QWidget | None = None,
    ) -> None:  # fmt: skip
        """`empty` says what will stand here, `first` names and does the first action.

        `pictures` makes rows high enough for a drawing; `several` lets many rows be selected.
        """
        super().__init__(parent)
        self.model = Rows(columns, key, self)
        self._memory, self._remembered, self._pictures = memory, remembered, pictures
        self._all: list[Any] = []
        self._sorted: tuple[int, bool] | None = None
        self._chosen: Hashable | None = None
        self._showing = False
        self.view = self._make_view(name, several)
        self.empty = EmptyState(empty, first)
        self._stack = QStackedLayout(self)
        self._stack.addWidget(self.view)
        self._stack.addWidget(self.empty)
        self._stack.setCurrentWidget(self.empty)
        self.setFocusProxy(self.view)
        self._letter = QFontMetrics(self.font()).averageCharWidth()
        self._widths: dict[int, int] = {}  # of columns, in sight or not, pixels
        self._restore_columns()
        self._restore_sorting()
        self._measure()

    # Rows

    def show_rows(self, rows: Sequence[Any]) -> None:
        """Shows these rows; the selected and current ones stay so if they are still there."""
        self._all = list(rows)
        had_focus = self.view.hasFocus() or self.empty.has_focus()
        self._showing = True  # what Qt makes current while rows go is not the person's choice
        self.model.show(self._in_order())
        self._showing = False
        self._stack.setCurrentWidget(self.view if self._all else self.empty)
        if had_focus:
            self.focusFirst()
        self._tell_chosen()

    def rows(self) -> list[Any]:
        """All rows, as they stand in the list."""
        return [self.model.row(place) for place in range(self.model.rowCount())]

    def current(self) -> Any:
        """The service's row the keyboard is on, or None."""
        index = self.view.currentIndex()
        return self.model.row(index.row()) if index.isValid() else None

    def current_key(self) -> Hashable | None:
        index = self.view.currentIndex()
        return self.model.key_at(index.row()) if index.isValid() else None

    def selected(self) -> list[Any]:
        """The selected rows, from top to bottom."""
        places = sorted(index.row() for index in self.view.selectionModel().selectedRows())
        return [self.model.row(place) for place in places]

    def select(self, key: Hashable) -> bool:
        """Puts the keyboard on a row and scrolls to it; False when it is not here."""
        place = self.model.place_of(key)
        if place is None:
            return False
        index = self.model.index(place, 0)
        flags = QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Rows
        self.view.selectionModel().setCurrentIndex(index, flags)
        self.view.scrollTo(index)
        return True

    def draw(self, column: str, delegate: QStyledItemDelegate) -> None:
        """Lets a column be drawn by a delegate; the row is its `ROW` data. The list keeps the delegate."""
        delegate.setParent(self.view)
        names = [c.name for c in self.model.columns]
        self.view.setItemDelegateForColumn(names.index(column), delegate)

    def focusFirst(self) -> None:
        """The keyboard on the current row, or the first, or the first action of an empty list."""
        if not self._all:
            self.empty.focusFirst()
            return
        if not self.view.currentIndex().isValid():
            self.select(self.model.key_at(0))  # before the focus, which would make a row current unchosen
        self.view.setFocus(Qt.FocusReason.OtherFocusReason)

    # Inside

    def _make_view(self, name: str, several: bool) -> _View:
        view = _View(self)
        view.setModel(self.model)
        view.setAccessibleName(name)
        modes = QAbstractItemView.SelectionMode
        view.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        view.setSelectionMode(modes.ExtendedSelection if several else modes.SingleSelection)
        view.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        view.setTabKeyNavigation(False)
        view.setWordWrap(False)
        view.setShowGrid(False)
        view.setAlternatingRowColors(True)
        view.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        view.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        view.verticalHeader().hide()
        view.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        header = view.horizontalHeader()
        header.setHighlightSections(False)
        header.setSectionsMovable(True)
        header.setSectionsClickable(True)
        header.setSortIndicatorShown(False)
        header.sectionClicked.connect(self._sort_by)
        header.sectionResized.connect(self._resized)
        header.sectionMoved.connect(self._keep_columns)
        view.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        view.customContextMenuRequested.connect(self._show_menu)
        view.pressedReturn.connect(self._open_current)
        view.doubleClicked.connect(lambda index: self.opened.emit(self.model.key_at(index.row())))
        view.selectionModel().currentRowChanged.connect(self._tell_chosen)
        return view

    def _open_current(self) -> None:
        key = self.current_key()
        if key is not None:
            self.opened.emit(key)

    def _show_menu(self, at: QPoint) -> None:
        """The row under the mouse, which becomes the current one; at the row itself for the menu key."""
        row = self.current()
        if row is None:
            return
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.menuAsked.emit(row, menu)
        if menu.isEmpty():
            menu.deleteLater()
            return
        menu.popup(self.view.viewport().mapToGlobal(at))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit_columns()

    def _fit_columns(self) -> None:
        """Where the width ends, the last columns go rather than that one scrolls sideways or names shrink."""
        header, columns = self.view.horizontalHeader(), self.model.columns
        if len(columns) < 2:
            return
        room = self.width() - 2 * self.view.frameWidth() - self.view.verticalScrollBar().sizeHint().width()
        kept = self._kept_columns(room)
        for place in range(len(columns)):
            if header.isSectionHidden(place) == (place in kept):
                header.setSectionHidden(place, place not in kept)

    def _kept_columns(self, room: int) -> set[int]:
        """The first two and names always; then what takes the room left, and the rest in their order."""
        header, columns = self.view.horizontalHeader(), self.model.columns
        needs = {
            place: self._letter * (min(column.width, LEAST_LETTERS) + 2)
            if column.stretch
            else self._widths.get(place) or header.sectionSize(place) or self._letter * (column.width + 2)
            for place, column in enumerate(columns)
        }
        kept = {p for p, column in enumerate(columns) if p < 2 or column.strong}
        left = room - sum(needs[place] for place in kept)
        stretched_first = sorted(range(len(columns)), key=lambda place: not columns[place].stretch)
        for place in stretched_first:
            if place in kept:
                continue
            left -= needs[place]
            if left < 0:
                break
            kept.add(place)
        return kept

    def _tell_chosen(self, _now: QModelIndex | None = None, _before: QModelIndex | None = None) -> None:
        key = self.current_key()
        if key != self._chosen and not self._showing:
            self._chosen = key
            self.chosen.emit(key)

    def _sort_by(self, place: int) -> None:
        """First up, then down, then as the service gave them."""
        if self.model.columns[place].sort is None:
            return
        steps = {None: (place, False), (place, False): (place, True), (place, True): None}
        self._sorted = steps.get(self._sorted, (place, False))
        self._keep_sorting()
        self._show_sorting()
        self.model.show(self._in_order())
        self.view.scrollTo(self.view.currentIndex())

    def _show_sorting(self) -> None:
        header = self.view.horizontalHeader()
        header.setSortIndicatorShown(self._sorted is not None)
        if self._sorted is not None:
            down = self._sorted[1]
            header.setSortIndicator(
                self._sorted[0], Qt.SortOrder.DescendingOrder if down else Qt.SortOrder.AscendingOrder
            )

    def _keep_sorting(self) -> None:
        if self._memory is None or not self._remembered:
            return
        if self._sorted is None:
            self._memory.forget(f"sorted/{self._remembered}")
        else:
            place, down = self._sorted
            self._memory.keep(f"sorted/{self._remembered}", f"{self.model.columns[place].name} {int(down)}")

    def _restore_sorting(self) -> None:
        """By the column it was sorted by last, if that is still here."""
        if self._memory is None or not self._remembered:
            return
        name, _, down = self._memory.text(f"sorted/{self._remembered}").rpartition(" ")
        for place, column in enumerate(self.model.columns):
            if column.name == name and column.sort is not None:
                self._sorted = (place, down == "1")
        self._show_sorting()

    def _in_order(self) -> list[Any]:
        """Rows without a value for the sorted column stand last either way."""
        sort = self.model.columns[self._sorted[0]].sort if self._sorted else None
        if sort is None or self._sorted is None:
            return self._all
        valued = [row for row in self._all if sort(row) is not None]
        rest = [row for row in self._all if sort(row) is None]
        return sorted(valued, key=sort, reverse=self._sorted[1]) + rest

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._measure()

    def _measure(self) -> None:
        sizes = spacing(self.font())
        height = sizes.picture_row if self._pictures else sizes.row
        rows = self.view.verticalHeader()
        rows.setMinimumSectionSize(height)
        rows.setDefaultSectionSize(height)
        self.model.setFont(self.font())
        letter = QFontMetrics(self.font()).averageCharWidth()
        if letter != self._letter:
            self._widen(letter / self._letter)
            self._letter = letter

    def _widen(self, by: float) -> None:
        """Columns grow and shrink with their text."""
        header = self.view.horizontalHeader()
        for place in range(len(self.model.columns)):
            width = round((self._widths.get(place) or header.sectionSize(place)) * by)
            self._widths[place] = width
            header.resizeSection(place, width)

    def _restore_columns(self) -> None:
        header = self.view.horizontalHeader()
        if not (self._memory and self._remembered and self._memory.parts(self._columns_name(), header)):
            for place, column in enumerate(self.model.columns):
                header.resizeSection(place, self._letter * (column.width + 2))
        for place in range(len(self.model.columns)):
            header.setSectionHidden(place, False)
            self._widths[place] = header.sectionSize(place)
        for place, column in enumerate(self.model.columns):
            if column.stretch:
                header.setSectionResizeMode(place, QHeaderView.ResizeMode.Stretch)
        header.setSortIndicatorShown(False)

    def _resized(self, place: int, _before: int, width: int) -> None:
        if width and not self.model.columns[place].stretch:
            self._widths[place] = width
        self._keep_columns()

    def _keep_columns(self) -> None:
        if self._memory and self._remembered and self.isVisible():
            self._memory.keep_parts(self._columns_name(), self.view.horizontalHeader())

    def _columns_name(self) -> str:
        """Widths of another set of columns are of no use, so the set is part of the name."""
        return f"{self._remembered}/{len(self.model.columns)}-{'-'.join(c.name for c in self.model.columns)}"
