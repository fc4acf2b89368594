"""Every dialog of the program goes through one small object, so that tests can answer for the person.

Knows Qt's dialogs; nothing of records or services.
"""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QSizeF, Qt, QUrl
from PySide6.QtGui import QDesktopServices, QKeySequence, QPageSize, QShortcut
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import (
    QDialog,
    QFileDialog,
    QInputDialog,
    QLineEdit,
    QMessageBox,
    QPlainTextEdit,
    QWidget,
)

from shopdesk.wording import say

SHOPS = "*.db"
PDF = "*.pdf"
XML = "*.xml"
WORKBOOK = "*.xlsx"
PICTURES = "*.jpg *.jpeg *.png *.heic *.heif *.JPG *.JPEG *.PNG *.HEIC *.HEIF"


class Dialogs:
    """Asks the person; every method answers None or False when the person turns away."""

    def __init__(self, parent: QWidget | None = None) -> None:
        self._parent = parent

    def belong_to(self, window: QWidget) -> None:
        """From now on dialogs open over this window and hold it back."""
        self._parent = window

    def open_file(self, title: str, kind: str, patterns: str) -> Path | None:
        """One file that exists; `kind` names what it is, `patterns` is like "*.db"."""
        name, _ = QFileDialog.getOpenFileName(self._parent, title, "", f"{kind} ({patterns})")
        return Path(name) if name else None

    def open_files(self, title: str, kind: str, patterns: str) -> list[Path]:
        """Any number of files that exist."""
        names, _ = QFileDialog.getOpenFileNames(self._parent, title, "", f"{kind} ({patterns})")
        return [Path(name) for name in names]

    def open_folder(self, title: str, begin: Path | None = None) -> Path | None:
        """A folder that exists."""
        name = QFileDialog.getExistingDirectory(self._parent, title, str(begin or ""))
        return Path(name) if name else None

    def save_file(self, title: str, suggested: Path | str, kind: str, patterns: str) -> Path | None:
        """Where to write; the dialog itself asks before a file is replaced."""
        name, _ = QFileDialog.getSaveFileName(self._parent, title, str(suggested), f"{kind} ({patterns})")
        return Path(name) if name else None

    def confirm(self, title: str, text: str, yes: str, no: str = "") -> bool:
        """A question before something that cannot be taken back; `yes` names the deed ("Void the quote")."""
        box = QMessageBox(QMessageBox.Icon.Question, title, text, parent=self._parent)
        box.setTextFormat(Qt.TextFormat.PlainText)  # it may hold what somebody typed
        agree = box.addButton(yes, QMessageBox.ButtonRole.AcceptRole)
        stay = box.addButton(no or say("Leave it as it is"), QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(stay)
        box.exec()
        return box.clickedButton() is agree

    def choose(self, title: str, text: str, answers: Sequence[str]) -> int | None:
        """One of several answers, by its index."""
        box = QMessageBox(QMessageBox.Icon.NoIcon, title, text, parent=self._parent)
        box.setTextFormat(Qt.TextFormat.PlainText)
        buttons = [box.addButton(answer, QMessageBox.ButtonRole.AcceptRole) for answer in answers]
        box.addButton(QMessageBox.StandardButton.Cancel)
        box.exec()
        return next((i for i, button in enumerate(buttons) if button is box.clickedButton()), None)

    def write(self, title: str, label: str, text: str = "") -> str | None:
        """A short text, such as a reason or a caption. Tab leaves the text, Ctrl+Return agrees."""
        dialog = written_in(self._parent, title, label, text)
        agreed = dialog.exec() == QDialog.DialogCode.Accepted
        typed = dialog.textValue().strip()
        dialog.deleteLater()
        return typed if agreed else None

    def passphrase(self, title: str) -> str | None:
        """A passphrase, shown as dots."""
        typed, agreed = QInputDialog.getText(self._parent, title, title, QLineEdit.EchoMode.Password)
        return typed if agreed else None

    def open_elsewhere(self, file: Path) -> bool:
        """Opens a file in the program this person uses for its kind; False when none took it."""
        return QDesktopServices.openUrl(QUrl.fromLocalFile(str(file)))

    def choose_printer(self, title: str, sheet: QSizeF) -> QPrinter | None:
        """A printer as the person set it up; offered with the paper's own size (`sheet`, in points)."""
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setDocName(title)
        if not sheet.isEmpty():
            printer.setPageSize(QPageSize(sheet, QPageSize.Unit.Point))
        dialog = QPrintDialog(printer, self._parent)
        return printer if dialog.exec() == QDialog.DialogCode.Accepted else None


def written_in(parent: QWidget | None, title: str, label: str, text: str) -> QInputDialog:
    """The dialog of a short text of several lines, for the keyboard alone as well."""
    dialog = QInputDialog(parent)
    dialog.setWindowTitle(title)
    dialog.setLabelText(label)
    dialog.setOption(QInputDialog.InputDialogOption.UsePlainTextEditForTextInput)
    dialog.setTextValue(text)
    for field in dialog.findChildren(QPlainTextEdit):
        field.setTabChangesFocus(True)
        field.setAccessibleName(label)
    for keys in ("Ctrl+Return", "Ctrl+Enter"):
        QShortcut(QKeySequence(keys), dialog).activated.connect(dialog.accept)
    return dialog
