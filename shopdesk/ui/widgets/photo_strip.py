"""A strip of photographs: small pictures with captions; more come by file, by dropping or by pasting."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QEvent, QIODevice, QMimeData, QSize, Qt, Signal
from PySide6.QtGui import (
    QDragEnterEvent,
    QDropEvent,
    QGuiApplication,
    QIcon,
    QImage,
    QKeyEvent,
    QKeySequence,
    QPixmap,
    QShortcut,
)
from PySide6.QtWidgets import QListView, QListWidget, QListWidgetItem, QWidget

from shopdesk.domain.problem import Problem
from shopdesk.ui.dialogs import PICTURES, Dialogs
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.headings import Note
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

_ENDINGS = tuple({pattern.removeprefix("*").lower() for pattern in PICTURES.split()})


@dataclass(frozen=True, slots=True)
class Photo:
    """A kept photograph as the strip shows it; `thumbnail` is JPEG bytes."""

    id: int
    caption: str
    thumbnail: bytes


@dataclass(frozen=True, slots=True)
class Brought:
    """A picture that was brought and is not kept yet; `read` it in a worker."""

    name: str
    path: Path | None = None
    data: bytes = b""

    def read(self) -> bytes:
        """Its bytes as they came. OSError when the file is gone."""
        return self.path.read_bytes() if self.path is not None else self.data


def read_picture(picture: Brought) -> bytes:
    """The bytes of a picture; a Problem names one that is gone."""
    try:
        return picture.read()
    except OSError as error:
        raise Problem(
            "{name} could not be read ({why}). Choose it again.", name=picture.name, why=error.strerror or ""
        ) from None


def is_picture(path: Path) -> bool:
    """By its ending, as pictures are taken in."""
    return path.suffix.lower() in _ENDINGS


class PhotoStrip(QWidget):
    """`brought` carries a list of Brought, for the page to keep; `opened` the id of a photograph."""

    brought = Signal(list)
    opened = Signal(int)

    def __init__(self, dialogs: Dialogs, *, may_add: bool = True, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._dialogs = dialogs
        self._may_add = may_add
        self.list = QListWidget()
        self.list.setAccessibleName(say("Photographs"))
        self.list.setViewMode(QListView.ViewMode.IconMode)
        self.list.setFlow(QListView.Flow.LeftToRight)
        self.list.setWrapping(False)
        self.list.setMovement(QListView.Movement.Static)
        self.list.setIconSize(QSize(144, 108))
        self._fit()
        self.list.itemActivated.connect(lambda item: self.opened.emit(item.data(Qt.ItemDataRole.UserRole)))
        self.add_button = Button(say("Add photographs"), self.add_files, icon_name="photo")
        self.paste_button = Button(say("Paste"), self.paste, tip=say("Paste a picture"))
        self._hint = Note(say("Drop pictures here, or paste them."))
        self._hint.setWordWrap(False)
        row = WrappedRow([self.add_button, self.paste_button, self._hint])
        self.setLayout(upright([self.list, row], gap="small"))
        for widget in (self.add_button, self.paste_button, self._hint):
            widget.setVisible(may_add)
        self.list.hide()
        self.setAcceptDrops(may_add)
        keys = QShortcut(QKeySequence(QKeySequence.StandardKey.Paste), self)
        keys.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        keys.activated.connect(self.paste)

    def show_photos(self, photos: Sequence[Photo]) -> None:
        """Shows these; the chosen one stays chosen if it is still there."""
        chosen = self.list.currentRow()
        chosen_id = self.list.item(chosen).data(Qt.ItemDataRole.UserRole) if chosen >= 0 else None
        self.list.clear()
        for number, photo in enumerate(photos, 1):
            picture = QPixmap()
            picture.loadFromData(QByteArray(photo.thumbnail))
            item = QListWidgetItem(QIcon(picture), photo.caption)
            item.setData(Qt.ItemDataRole.UserRole, photo.id)
            item.setToolTip(photo.caption)
            spoken = photo.caption or say("Photograph {number}", number=number)
            item.setData(Qt.ItemDataRole.AccessibleTextRole, spoken)
            self.list.addItem(item)
            if photo.id == chosen_id:
                self.list.setCurrentItem(item)
        self.list.setVisible(self.list.count() > 0)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit()

    def _fit(self) -> None:
        """A picture, its caption and the scroll bar."""
        self.list.setFixedHeight(108 + 3 * self.fontMetrics().height())

    def focus_list(self) -> None:
        """The keyboard among the pictures, if there are any; Enter opens one."""
        if self.list.count():
            self.list.setCurrentRow(max(0, self.list.currentRow()))
            self.list.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def add_files(self) -> None:
        """Asks for picture files."""
        files = self._dialogs.open_files(say("Add photographs"), say("Pictures"), PICTURES)
        self._bring([Brought(path.name, path) for path in files])

    def paste(self) -> None:
        """Takes pictures from the clipboard, copied as files or as a picture."""
        self._bring(_brought(QGuiApplication.clipboard().mimeData()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opened a picture already; the list hands it on as if nothing had been done with it."""
        if event.key() not in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            super().keyPressEvent(event)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if self.takes(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        self.take(event.mimeData())
        event.acceptProposedAction()

    def takes(self, dropped: QMimeData) -> bool:
        """Whether there are pictures in it that may be added; a page asks that takes drops for the strip."""
        return self._may_add and bool(_brought(dropped))

    def take(self, dropped: QMimeData) -> None:
        """Brings the pictures of a drop, wherever on the page it fell."""
        self._bring(_brought(dropped))

    def _bring(self, pictures: list[Brought]) -> None:
        if pictures and self._may_add:
            self.brought.emit(pictures)


def _brought(mime: QMimeData | None) -> list[Brought]:
    if mime is None:
        return []
    files = [Path(url.toLocalFile()) for url in mime.urls() if url.isLocalFile()]
    pictures = [Brought(path.name, path) for path in files if is_picture(path)]
    if pictures or not mime.hasImage():
        return pictures
    image = mime.imageData()
    return [Brought(say("pasted picture"), None, _png(QImage(image)))]


def _png(image: QImage) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[call-overload]
    return bytes(buffer.data().data())
