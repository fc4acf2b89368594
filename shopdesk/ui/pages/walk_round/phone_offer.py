"""Under the pictures of a checkpoint: the phone's folder, and what came into it."""

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button, QuietButton
from shopdesk.ui.widgets.headings import Words
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say, say_n

NAMED = 3  # file names that are told


class PhoneOffer(QWidget):
    """`folderAsked`: another folder is wanted; `taken` and `left`: what becomes of the offered pictures."""

    folderAsked = Signal()
    taken = Signal()
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.words = Words("", "body", "hold")
        self.take_button = Button(say("Keep them here"), self.taken.emit, icon_name="photo", tip=say("O"))
        self.leave_button = QuietButton(say("Not these"), self.left.emit)
        self.folder_button = QuietButton("", self.folderAsked.emit, icon_name="photo")
        row = WrappedRow([self.take_button, self.leave_button, self.folder_button])
        self.setLayout(upright([self.words, row], gap="hair"))
        self._may_answer = True
        self._waiting: list[Path] = []
        self._folder: Path | None = None
        self._show()

    def show_folder(self, folder: Path | None) -> None:
        self._folder = folder
        self._show()

    def show_offered(self, waiting: list[Path]) -> None:
        self._waiting = waiting
        self._show()

    def show_rights(self, *, may_answer: bool) -> None:
        self._may_answer = may_answer
        self._show()

    def _show(self) -> None:
        self.setVisible(self._may_answer)
        if self._folder is None:
            text = say("Watch the phone’s folder")
            tip = say("Choose the folder into which your phone puts its pictures. New ones are offered here; "
                      "nothing in it is moved or deleted.")  # fmt: skip
        else:
            text = say("Watching “{folder}”", folder=self._folder.name or str(self._folder))
            tip = say("{folder}. Press to choose another.", folder=str(self._folder))
        self.folder_button.setText(text)
        self.folder_button.setAccessibleName(text)
        self.folder_button.setToolTip(tip)
        self.words.setText(_told(self._waiting))
        for widget in (self.words, self.take_button, self.leave_button):
            widget.setVisible(bool(self._waiting))


def _told(waiting: list[Path]) -> str:
    if not waiting:
        return ""
    names = ", ".join(path.name for path in waiting[:NAMED])
    if len(waiting) > NAMED:
        names = say("{names}, …", names=names)
    return say_n(
        "{count} new picture from the phone: {names}", "{count} new pictures from the phone: {names}",
        len(waiting), names=names,
    )  # fmt: skip
