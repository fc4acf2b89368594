"""The main window: puts the start page or an open shop in it, and closes what it opened.

An assembler only: what a part does stands in the part.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QMainWindow, QStackedWidget, QWidget

from shopdesk.ui.context import Context, Message
from shopdesk.ui.copy_timer import copied
from shopdesk.ui.dialogs import Dialogs
from shopdesk.ui.drafts import Drafts
from shopdesk.ui.help_window import FIRST, TOPIC_OF, HelpWindow
from shopdesk.ui.memory import Memory
from shopdesk.ui.opening import Opened, Opening, Refused
from shopdesk.ui.paper_window import PaperWindow
from shopdesk.ui.places import Place, places
from shopdesk.ui.sign_in import SignInForm
from shopdesk.ui.start_page import StartPage
from shopdesk.ui.view import View
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.empty_state import EmptyState
from shopdesk.ui.widgets.message_strip import MessageStrip
from shopdesk.ui.workers import Workers
from shopdesk.ui.workspace import Workspace
from shopdesk.wording import say, say_problem, speak

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat

BUSY_AFTER_MS = 400  # shorter work shows no sign
_COPYING_MS = 300_000


class MainWindow(QMainWindow):
    """One window, at most one open shop. `placeShown` says where it lies, "" for the start page."""

    placeShown = Signal(str)

    def __init__(
        self, workers: Workers, opening: Opening, dialogs: Dialogs, memory: Memory, view: View, *,
        folder: Path, sample_here: bool, with_places: Callable[[], Sequence[Place]] = places,
    ) -> None:  # fmt: skip
        super().__init__()
        self._workers, self._opening, self._dialogs = workers, opening, dialogs
        self._memory, self._view, self._folder = memory, view, folder
        self._with_places = with_places
        dialogs.belong_to(self)
        self.workspace: Workspace | None = None
        self.drafts: Drafts | None = None
        self.signing_in: SignInForm | None = None
        self._asking: Opened | None = None
        self.help: HelpWindow | None = None
        self.start = StartPage(opening, dialogs, folder, sample_here)
        self.waiting = EmptyState("")
        self.messages = MessageStrip()
        self._rooms = QStackedWidget()
        for room in (self.start, self.waiting):
            self._rooms.addWidget(room)
        body = QWidget()
        inside = upright([self._rooms, self.messages], gap="hair")
        inside.setStretchFactor(self._rooms, 1)
        body.setLayout(inside)
        self.setCentralWidget(body)
        self.setWindowTitle(say("shopdesk"))
        self._busy_timer = QTimer(self)
        self._busy_timer.setSingleShot(True)
        self._busy_timer.timeout.connect(lambda: self._show_busy(True))
        workers.busyChanged.connect(self._note_busy)
        opening.started.connect(self._show_waiting)
        opening.opened.connect(self.show_shop)
        opening.refused.connect(self._show_refused)
        opening.moving.connect(self._show_moving)
        opening.stayed.connect(
            lambda problem: self.messages.show_message(Message(say_problem(problem), True))
        )
        view.add_shortcuts(self)
        QShortcut(QKeySequence(QKeySequence.StandardKey.HelpContents), self).activated.connect(self.show_help)
        if not memory.shape("window", self):
            self.resize(1180, 780)

    def show_start(self) -> None:
        """The page for when no shop is open."""
        self._rooms.setCurrentWidget(self.start)
        self.start.focusFirst()
        self.placeShown.emit("")

    def come_forward(self) -> None:
        """To the front, as somebody started the program again."""
        self.showNormal() if self.isMinimized() else self.show()
        self.raise_()
        self.activateWindow()

    def show_help(self) -> None:
        """The help, at the page that is open."""
        if self.help is None:
            self.help = HelpWindow(self, self._memory)
        here = self.workspace.desk.here if self.workspace is not None else FIRST
        self.help.show_topic(TOPIC_OF.get(here, here))

    def leave_shop(self) -> None:
        """Closes the open shop and shows the start page, to open another."""
        if self._leave_shop():
            self._memory.forget("shop/last")
            self.setWindowTitle(say("shopdesk"))
            self.show_start()

    def _move_shop(self, to: str) -> None:
        """Closes the open shop, moves it, and opens it at its new place."""
        if self.workspace is None:
            return
        from shopdesk.services.moving_places import address_of

        place = address_of(self.workspace.context.seat)
        if self._leave_shop():
            self._opening.move(place, to)

    def _show_moving(self, table: str, rows: int) -> None:
        self.waiting.setText(
            say("Moving the shop: {table}, {rows} rows…", rows=rows, table=table.replace("_", " "))
        )

    def show_shop(self, opened: Opened) -> None:
        """Puts an open shop in the window, in place of the one before; who is there is asked first."""
        self._leave_shop()
        self._speak(opened.seat.region.language)
        if opened.asks:
            self._ask_who(opened)
            return
        self.drafts = Drafts(self._drafts_file(opened), self)
        context = Context(
            opened.seat, self._workers, self._dialogs, self._memory, self.drafts, self._view, self
        )
        context.leaveAsked.connect(self.leave_shop)
        context.moveAsked.connect(self._move_shop, Qt.ConnectionType.QueuedConnection)
        context.told.connect(self.messages.show_message)
        context.paperAsked.connect(self._show_paper)
        self.workspace = Workspace(context, opened, self._with_places(), self._view, self._workers)
        self._rooms.addWidget(self.workspace)
        self._rooms.setCurrentWidget(self.workspace)
        self.setWindowTitle(say("{shop} - shopdesk", shop=opened.name))
        self.workspace.conflicts.offer_kept_text()
        if not opened.sample and not opened.seat.file.url.password:
            self._memory.keep("shop/last", opened.place)
        self._note_busy(self._workers.busy)

    def _speak(self, language: str) -> None:
        """What is made from now on speaks the shop's language, and so does the next start."""
        speak(language)
        self._memory.keep("language", language)
        if self.help is not None:
            self.help.deleteLater()
            self.help = None

    def _ask_who(self, opened: Opened) -> None:
        self.setWindowTitle(say("{shop} - shopdesk", shop=opened.name))
        self.signing_in = SignInForm(opened.seat, self._workers, say("Who is there?"))
        self.signing_in.signedIn.connect(lambda seat: self._signed_in(opened, seat))
        self._asking = opened
        self._rooms.addWidget(self.signing_in)
        self._rooms.setCurrentWidget(self.signing_in)

    def _signed_in(self, opened: Opened, seat: "Seat") -> None:
        self._forget_asking()
        self.show_shop(replace(opened, seat=seat, asks=False))

    def _forget_asking(self) -> None:
        if self.signing_in is not None:
            self._rooms.removeWidget(self.signing_in)
            self.signing_in.deleteLater()
        self.signing_in, self._asking = None, None

    def keep_drafts(self) -> None:
        """Puts what is being typed on the disk now."""
        if self.workspace is not None and self.drafts is not None:
            self.workspace.desk.keep_drafts()
            self.drafts.write()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Keeps drafts, waits for changes under way, closes the shop; stays open when a change hangs."""
        if not self._leave_shop():
            self.messages.show_message(
                Message(say("A change is still being written. Close the window again in a moment."), True)
            )
            event.ignore()
            return
        self._memory.keep_shape("window", self)
        self._memory.write()
        self._opening.remove_sample()
        super().closeEvent(event)

    def _leave_shop(self) -> bool:
        """Closes the open shop, if there is one; False when a change is still under way."""
        workspace, drafts = self.workspace, self.drafts
        if workspace is None or drafts is None:
            if not self._workers.finish():
                return False
            if self._asking is not None:
                self._asking.seat.file.close()
                self._forget_asking()
            return True
        self.keep_drafts()
        workspace.whole.stop()
        if not self._workers.finish():
            return False
        drafts.write()
        if not self._keep_a_copy(workspace.context):
            return False
        for paper in self.findChildren(PaperWindow):
            paper.close()
        workspace.hearing.close()
        workspace.context.seat.file.close()
        self._rooms.removeWidget(workspace)
        workspace.deleteLater()
        workspace.context.deleteLater()
        drafts.deleteLater()
        self.workspace = self.drafts = None
        return True

    def _keep_a_copy(self, context: Context) -> bool:
        """A copy of what changed, before the shop closes; without one only if the person says so."""
        troubles: list[str] = []
        self.messages.show_message(Message(say("Keeping a copy of the shop…")))
        self.messages.repaint()
        context.do(
            copied, lambda done: troubles.extend(filter(None, [done.second_problem])),
            lambda problem: troubles.append(say_problem(problem)),
        )  # fmt: skip
        whole = self._workers.finish(_COPYING_MS)
        self.messages.clear()
        if not whole:
            troubles.append(say("The copy takes long."))
        return not troubles or self._dialogs.confirm(
            say("No copy was kept"), "\n".join(troubles), say("Close without it"), say("Stay")
        )

    def _drafts_file(self, opened: Opened) -> Path:
        """Beside a sample's copy, to go with it; else in the data folder, one for each shop."""
        if opened.sample:
            return Path(opened.place).with_name("drafts.json")
        return self._folder / f"drafts-{sha256(opened.place.encode()).hexdigest()[:16]}.json"

    def _show_waiting(self, name: str) -> None:
        self.waiting.setText(say("Opening {shop}…", shop=name))
        self._rooms.setCurrentWidget(self.waiting)

    def _show_refused(self, refused: Refused) -> None:
        self.start.show_refused(refused)
        self._rooms.setCurrentWidget(self.start)

    def _show_paper(self, pdf: bytes, title: str, file_name: str) -> None:
        context = self.workspace.context if self.workspace is not None else None
        PaperWindow(self, self._dialogs, self._memory, context).show_paper(pdf, title, file_name)

    def _note_busy(self, count: int) -> None:
        if not count:
            self._busy_timer.stop()
            self._show_busy(False)
        elif not self._busy_timer.isActive():
            self._busy_timer.start(BUSY_AFTER_MS)

    def _show_busy(self, busy: bool) -> None:
        if self.workspace is not None:
            self.workspace.show_busy(busy)
