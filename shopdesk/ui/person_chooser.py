"""Who is acting: a chooser at the foot of the rail; a shop with one person shows none."""

from typing import Any

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QActionGroup, QResizeEvent
from PySide6.QtWidgets import QApplication, QMenu, QSizePolicy, QToolButton, QWidget

from shopdesk.ui.context import Context
from shopdesk.ui.look import icon, spacing
from shopdesk.wording import say


class PersonChooser(QToolButton):
    """A menu of the people of the shop; choosing one makes them act from then on."""

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextUnderIcon)
        self.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)  # a long name is cut
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._menu = QMenu(self)
        self.setMenu(self._menu)
        self._group = QActionGroup(self)
        self.hide()
        context.seatChanged.connect(self._show_acting)
        context.changed.connect(lambda topics: self.refresh() if topics & {"staff", "settings"} else None)
        self._dress()
        self.refresh()

    def refresh(self) -> None:
        self._context.ask(_everybody, self._show, key="who works here", owner=self)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.PaletteChange):
            self._dress()

    def _dress(self) -> None:
        side = spacing(QApplication.font()).icon
        self.setIcon(icon("person", QApplication.palette()))
        self.setIconSize(QSize(side, side))

    def _show(self, people: list[Any]) -> None:
        self._menu.clear()
        for person in people:
            action = self._menu.addAction(say("{name}, {role}", name=person.name, role=person.role))
            action.setCheckable(True)
            action.setData(person.id)
            self._group.addAction(action)
            action.triggered.connect(lambda _checked, person=person: self._take(person))
        self.setVisible(len(people) > 1)
        self._show_acting()

    def _take(self, person: Any) -> None:
        passphrase: str | None = ""
        if person.passphrase:
            passphrase = self._context.dialogs.passphrase(say("Passphrase of {name}", name=person.name))
        if passphrase is not None:
            self._context.do(
                lambda seat: _signed_in(seat, person.id, passphrase), self._context.take_seat, owner=self
            )

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._cut()

    def _cut(self) -> None:
        room = self.width() - 2 * spacing(QApplication.font()).gap
        name, letters = self._context.seat.acting.name, self.fontMetrics()
        if letters.horizontalAdvance(name) > room:
            name = name.split(maxsplit=1)[0]
        self.setText(letters.elidedText(name, Qt.TextElideMode.ElideRight, max(room, 1)))

    def _show_acting(self) -> None:
        acting = self._context.seat.acting
        self._cut()
        self.setAccessibleName(say("Acting: {name}. Choose who works here now.", name=acting.name))
        self.setToolTip(self.accessibleName())
        for action in self._menu.actions():
            action.setChecked(action.data() == acting.staff_id)


def _everybody(seat: Any) -> list[Any]:
    from shopdesk.services.signing_in import people_here

    return list(people_here(seat))


def _signed_in(seat: Any, staff_id: int, passphrase: str) -> Any:
    from shopdesk.services.signing_in import sign_in

    return sign_in(seat, staff_id, passphrase)
