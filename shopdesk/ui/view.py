"""How the person wants the window to look: light, dark or high contrast, and how large its text."""

from functools import partial

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QActionGroup, QKeySequence, QShortcut
from PySide6.QtWidgets import QApplication, QMenu, QSizePolicy, QToolButton, QWidget

from shopdesk.ui.look import LARGEST, WISHES, Wish, apply_look
from shopdesk.ui.memory import Memory
from shopdesk.wording import say

STEP = 0.1
SMALLEST = 0.8


class View(QObject):
    """Puts the look on and remembers it; `changed` after either half changed."""

    changed = Signal()

    def __init__(self, app: QApplication, memory: Memory, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._app, self._memory = app, memory
        kept = memory.text("view/scheme", "system")
        self.scheme: Wish = next((wish for wish in WISHES if wish == kept), "system")
        self.scale = min(LARGEST, max(SMALLEST, memory.number("view/scale", 1.0)))
        self.put_on()

    def put_on(self) -> None:
        apply_look(self._app, self.scheme, self.scale)

    def choose_scheme(self, scheme: Wish) -> None:
        self.scheme = scheme
        self._memory.keep("view/scheme", scheme)
        self._changed()

    def choose_scale(self, scale: float) -> None:
        """The text scale, held between 80 and 200 percent."""
        self.scale = round(min(LARGEST, max(SMALLEST, scale)), 2)
        self._memory.keep("view/scale", self.scale)
        self._changed()

    def next_scheme(self) -> None:
        """The one after: for a shortcut."""
        self.choose_scheme(WISHES[(WISHES.index(self.scheme) + 1) % len(WISHES)])

    def larger(self) -> None:
        self.choose_scale(self.scale + STEP)

    def smaller(self) -> None:
        self.choose_scale(self.scale - STEP)

    def plain(self) -> None:
        self.choose_scale(1.0)

    def add_shortcuts(self, window: QWidget) -> None:
        """Ctrl+Plus, Ctrl+Minus, Ctrl+0 for the text; Ctrl+Shift+L for the next scheme."""
        keys = (
            (QKeySequence(QKeySequence.StandardKey.ZoomIn), self.larger),
            (QKeySequence("Ctrl+="), self.larger),
            (QKeySequence(QKeySequence.StandardKey.ZoomOut), self.smaller),
            (QKeySequence("Ctrl+0"), self.plain),
            (QKeySequence("Ctrl+Shift+L"), self.next_scheme),
        )
        for sequence, act in keys:
            QShortcut(sequence, window).activated.connect(act)

    def _changed(self) -> None:
        self.put_on()
        self.changed.emit()


class ViewButton(QToolButton):
    """The menu of looks at the foot of the rail."""

    def __init__(self, view: View, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self.setText(say("&View"))
        self.setAccessibleName(say("View: colours and text size"))
        self.setToolTip(self.accessibleName())
        self.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextOnly)
        self.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._menu = self._make_menu()
        self.setMenu(self._menu)

    def _make_menu(self) -> QMenu:
        menu = QMenu(self)
        group = QActionGroup(self)
        names: dict[Wish, str] = {
            "system": say("As the computer is set"),
            "light": say("Light"),
            "dark": say("Dark"),
            "contrast": say("High contrast"),
        }
        for wish, name in names.items():
            action = menu.addAction(name)
            action.setCheckable(True)
            action.setChecked(wish == self._view.scheme)
            action.setData(wish)
            group.addAction(action)
            action.triggered.connect(partial(self._view.choose_scheme, wish))
        self._view.changed.connect(self._mark)
        menu.addSeparator()
        for name, keys, act in (
            (say("Larger text"), "Ctrl++", self._view.larger),
            (say("Smaller text"), "Ctrl+-", self._view.smaller),
            (say("Text as it came"), "Ctrl+0", self._view.plain),
        ):
            # Shown behind a tab, not set: the window has these shortcuts, and two of one kind fire neither.
            shown = QKeySequence(keys).toString(QKeySequence.SequenceFormat.NativeText)
            menu.addAction(f"{name}\t{shown}", act)
        return menu

    def _mark(self) -> None:
        for action in self._menu.actions():
            if action.isCheckable():
                action.setChecked(action.data() == self._view.scheme)
