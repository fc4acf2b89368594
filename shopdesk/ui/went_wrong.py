"""When the program itself is at fault: what it says, with details to copy, and nothing lost.

Everything that is not a Problem ends here through Python's excepthook.
"""

import sys
import traceback
from collections.abc import Callable
from types import TracebackType

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QDialog, QPlainTextEdit, QWidget

from shopdesk import __version__
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.wording import say


class WentWrong(QDialog):
    """One calm page for any number of faults; the newest stands first."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(say("Something in the program went wrong"))
        self.details = QPlainTextEdit()
        self.details.setReadOnly(True)
        self.details.setTabChangesFocus(True)
        self.details.setAccessibleName(say("Details of what went wrong"))
        words = Words(
            say(
                "The last step was not finished. What was saved before stands in the shop, and what you were "
                "typing is kept. You can go on working. If it happens again, copy the details and send "
                "them to whoever looks after this program; read them first, they may hold a name."
            )
        )
        go_on = MainButton(say("&Go on"), self.accept)
        copy = Button(say("&Copy the details"), self._copy)
        self.setLayout(
            upright(
                [Heading(self.windowTitle()), words, self.details, level([go_on, copy, STRETCH])],
                margin="wide",
            )
        )
        self.resize(680, 460)

    def show_fault(self, details: str) -> None:
        older = self.details.toPlainText() if self.isVisible() else ""
        self.details.setPlainText(f"{details}\n{older}".strip())
        self.open()

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self.details.toPlainText())


def watch_for_faults(window: QWidget, keep_drafts: Callable[[], None]) -> Callable[[], None]:
    """From now on a fault shows the calm page; hands back what puts the old way back."""
    before = sys.excepthook
    page = WentWrong(window)

    def fault(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        if not issubclass(kind, Exception):
            before(kind, error, trace)
            return
        details = "".join(traceback.format_exception(kind, error, trace))
        sys.stderr.write(details)
        keep_drafts()
        page.show_fault(f"shopdesk {__version__}, Python {sys.version.split()[0]}, {sys.platform}\n{details}")

    sys.excepthook = fault

    def put_back() -> None:
        sys.excepthook = before

    return put_back
