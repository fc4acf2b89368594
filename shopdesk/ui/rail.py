"""The rail of places on the left: one is open; arrow keys walk, Ctrl+1 and on or Alt and a letter jump."""

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import (
    QApplication,
    QButtonGroup,
    QFrame,
    QScrollArea,
    QSizePolicy,
    QToolButton,
    QWidget,
)

from shopdesk.ui.look import icon, spacing
from shopdesk.ui.places import Place
from shopdesk.ui.widgets.boxes import STRETCH, Part, upright

_STRIP_LINES = 5  # at least so high is the strip of a message under the pages
NARROW = 90  # letters in the window's width, below which the rail takes no room for icons


class PlaceButton(QToolButton):
    """An icon with its word below; the tip names the shortcut."""

    def __init__(self, place: Place, number: int) -> None:
        super().__init__()
        self.place = place
        keys = QKeySequence(f"Ctrl+{number}").toString(QKeySequence.SequenceFormat.NativeText)
        self.setText(place.title)
        self.setCheckable(True)
        self.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextUnderIcon)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(place.name)
        self.setAccessibleDescription(keys)
        self.setToolTip(f"{place.name} ({keys})")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._low = False
        self.dress()

    def set_low(self, low: bool, *, narrow: bool) -> None:
        """The icon before its word instead of above it; the word alone where every letter counts."""
        styles = Qt.ToolButtonStyle
        beside = styles.ToolButtonTextOnly if narrow else styles.ToolButtonTextBesideIcon
        wanted = beside if low else styles.ToolButtonTextUnderIcon
        if wanted != self.toolButtonStyle():
            self._low = low
            self.setToolButtonStyle(wanted)
            self.dress()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.PaletteChange):
            self.dress()

    def dress(self) -> None:
        side = round(spacing(QApplication.font()).icon * (1 if self._low else 1.35))
        self.setIcon(icon(self.place.icon, QApplication.palette()))
        self.setIconSize(QSize(side, side))


class Rail(QFrame):
    """One button can be reached by Tab, the open place; the arrows go on from there."""

    placeAsked = Signal(str)

    def __init__(self, places: Sequence[Place], foot: Sequence[Part] = (), parent: QWidget | None = None):
        super().__init__(parent)
        self.setObjectName("rail")
        self.buttons = [PlaceButton(place, number) for number, place in enumerate(places, 1)]
        self._group = QButtonGroup(self)
        for number, button in enumerate(self.buttons, 1):
            self._group.addButton(button)
            button.clicked.connect(partial(self.placeAsked.emit, button.place.key))
            button.installEventFilter(self)
            jump = QShortcut(QKeySequence(f"Ctrl+{number}"), self)
            jump.setContext(Qt.ShortcutContext.WindowShortcut)
            jump.activated.connect(partial(self.placeAsked.emit, button.place.key))
        self.setLayout(upright([self._scrolled(), *foot], gap="small"))
        self._rove(self.buttons[0] if self.buttons else None)

    def show_open(self, key: str) -> None:
        """Marks the open place; a page that has no button leaves none marked."""
        self._group.setExclusive(False)
        for button in self.buttons:
            button.setChecked(button.place.key == key)
            if button.isChecked():
                self._rove(button)
        self._group.setExclusive(True)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress and watched in self.buttons:
            step = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(Qt.Key(event.key()))
            if step:
                self._walk(self.buttons.index(watched) + step)
                return True
            if event.key() in (Qt.Key.Key_Home, Qt.Key.Key_End):
                self._walk(0 if event.key() == Qt.Key.Key_Home else len(self.buttons) - 1)
                return True
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self.placeAsked.emit(watched.place.key)
                return True
        return False

    def _walk(self, to: int) -> None:
        button = self.buttons[to % len(self.buttons)]
        self._rove(button)
        button.setFocus(Qt.FocusReason.TabFocusReason)

    def _rove(self, reachable: PlaceButton | None) -> None:
        for button in self.buttons:
            tab = Qt.FocusPolicy.StrongFocus if button is reachable else Qt.FocusPolicy.ClickFocus
            button.setFocusPolicy(tab)

    def _scrolled(self) -> QWidget:
        """The places, scrolling when the window is lower than they are."""
        holder = QWidget()
        holder.setLayout(upright([*self.buttons, STRETCH], gap="hair"))
        return _RailScroll(holder, self.buttons)


class _RailScroll(QScrollArea):
    """As wide as the places, and as its scroll bar besides while that is there.

    Where the window is lower than the places, these become lower first and scroll only then.
    """

    def __init__(self, holder: QWidget, buttons: Sequence[PlaceButton]) -> None:
        super().__init__()
        self._holder, self._buttons = holder, buttons
        self._high = 0  # what the places need with their words under the icons; 0: not measured
        self._low = False
        self.setWidget(holder)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.viewport().setAutoFillBackground(False)
        holder.setAutoFillBackground(False)
        holder.installEventFilter(self)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.LayoutRequest:
            self._fit()
        return False

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._high, self._low = 0, False
            self._set_low(False)

    def _set_low(self, low: bool) -> None:
        narrow = self.window().width() < NARROW * self.fontMetrics().averageCharWidth()
        for button in self._buttons:
            button.set_low(low, narrow=narrow)

    def _fit(self) -> None:
        if not self._high and self.height() and self._buttons:
            self._high = self._holder.minimumSizeHint().height()
        slack = _STRIP_LINES * self.fontMetrics().height() if self._low else 0  # a message comes and goes
        self._low = self._high > self.height() - slack
        self._set_low(self._low)
        needed = self._holder.minimumSizeHint()
        bar = self.verticalScrollBar().sizeHint().width() if needed.height() > self.height() else 0
        self.setMinimumWidth(needed.width() + bar)
