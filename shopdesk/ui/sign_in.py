"""Who is there: before a shop that asks is shown, and after the window was left alone."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QEvent, QObject, QTimer, Signal
from PySide6.QtGui import QWindow
from PySide6.QtWidgets import QFrame, QLineEdit, QWidget

from shopdesk.domain.problem import Problem
from shopdesk.ui.context import Context
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.fields import ChoiceField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading
from shopdesk.ui.workers import Workers
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat
    from shopdesk.services.signing_in import Person

SignedIn = Callable[["Seat"], None]
_TOUCHES = frozenset({
    QEvent.Type.KeyPress, QEvent.Type.MouseButtonPress, QEvent.Type.MouseMove, QEvent.Type.Wheel,
    QEvent.Type.TouchBegin, QEvent.Type.TabletPress,
})  # fmt: skip


class PassphraseField(TextField):
    """Shown as dots, and never kept as a draft."""

    def __init__(self) -> None:
        super().__init__()
        self.setEchoMode(QLineEdit.EchoMode.Password)

    def value(self) -> str:
        return self.text()


class SignInForm(QWidget):
    """A name and a passphrase; `signedIn` with the seat taken."""

    signedIn = Signal(object)

    def __init__(self, seat: "Seat", workers: Workers, title: str, first: int = 0) -> None:
        super().__init__()
        self._seat, self._workers, self._busy = seat, workers, False
        self.form = Form()
        self.form.add("person", say("&Name"), ChoiceField([]))
        self.form.add("passphrase", say("&Passphrase"), PassphraseField())
        self.form.on_save(say("&Sign in"), self._try, icon_name="person")
        self.form["passphrase"].returnPressed.connect(self.form.submit)
        self.form["person"].edited.connect(self.focusFirst)
        column = upright([Heading(title, "head"), self.form], gap="gap")
        self.setLayout(upright([STRETCH, level([STRETCH, column, STRETCH]), STRETCH], margin="gap"))
        self._first = first
        workers.ask(lambda: _people(seat), self._show, _raise, "who may sign in")

    def focusFirst(self) -> None:
        self.form["passphrase"].setFocus()

    def _show(self, people: "tuple[Person, ...]") -> None:
        self.form["person"].setChoices([(person.id, person.name) for person in people])
        if self._first:
            self.form["person"].setValue(self._first)
        self.focusFirst()

    def _try(self, values: dict[str, Any]) -> None:
        if self._busy:
            return
        self._busy = True
        seat, key, passphrase = self._seat, values["person"], values["passphrase"]
        self._workers.do(lambda: _sign_in(seat, key, passphrase), self._done, self._refused)

    def _done(self, seat: "Seat") -> None:
        self._busy = False
        self.form["passphrase"].clear()
        self.signedIn.emit(seat)

    def _refused(self, error: Exception) -> None:
        self._busy = False
        _raise(error) if not isinstance(error, Problem) else self.form.show_problem(error)
        self.form["passphrase"].selectAll()


class LockPane(QFrame):
    """Lies over the whole workspace until somebody signs in; what was open below stays as it is."""

    def __init__(self, context: Context, workers: Workers, over: QWidget) -> None:
        super().__init__(over)
        self.setAutoFillBackground(True)
        self._over = over
        self.sign_in = SignInForm(
            context.seat, workers, say("Locked: nobody was here for a while"), context.seat.acting.staff_id
        )
        self.setLayout(upright([self.sign_in]))
        over.installEventFilter(self)
        self.setGeometry(over.rect())
        self.show()
        self.raise_()
        self.sign_in.focusFirst()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self._over and event.type() == QEvent.Type.Resize:
            self.setGeometry(self._over.rect())
        return False


class IdleWatch(QObject):
    """`idle` once nobody touched the window for so many minutes; 0: never."""

    idle = Signal()

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.timer = QTimer(self)
        self.timer.setSingleShot(True)
        self.timer.timeout.connect(self.idle)
        self._window: QWindow | None = None

    def watch(self, window: QWindow | None, minutes: int) -> None:
        if self._window is not None:
            self._window.removeEventFilter(self)
        self._window = window if minutes > 0 else None
        self.timer.stop()
        if self._window is not None:
            self._window.installEventFilter(self)
            self.timer.start(minutes * 60_000)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() in _TOUCHES and self.timer.isActive():
            self.timer.start()
        return False


def _raise(error: Exception) -> None:
    raise error


def _people(seat: "Seat") -> "tuple[Person, ...]":
    from shopdesk.services.signing_in import people_here

    return people_here(seat)


def _sign_in(seat: "Seat", staff_id: int, passphrase: str) -> "Seat":
    from shopdesk.services.signing_in import sign_in

    return sign_in(seat, staff_id, passphrase)


def lock_after(seat: "Seat") -> int:
    """Minutes after which this shop asks again who is there; 0: it never asks."""
    from shopdesk.services.settings import Lock
    from shopdesk.services.shops import setting
    from shopdesk.services.signing_in import asks

    return setting(seat, Lock).after_minutes if asks(seat) else 0
