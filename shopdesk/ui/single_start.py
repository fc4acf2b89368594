"""A second start on what is open already raises that window instead of opening another.

Each window answers on a local socket of its own, named after what it has open; nothing leaves the machine.
"""

import hashlib
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtNetwork import QLocalServer, QLocalSocket

from shopdesk import paths

_WAIT_MS = 1500
ASK, YES = b"show yourself", b"shown"


def name_of(place: str) -> str:
    """The socket's name for one person's window on one shop (a file, a URL, or "" for the start page)."""
    where = place if "://" in place or not place else str(Path(place).resolve())
    return "shopdesk-" + hashlib.sha256(f"{paths.config_folder()}\n{where}".encode()).hexdigest()[:24]


def raised(place: str) -> bool:
    """Whether a window has `place` open already; it shows itself then."""
    call = QLocalSocket()
    if not _reached(call, place):
        return False
    call.write(ASK)
    call.waitForBytesWritten(_WAIT_MS)
    answered = call.waitForReadyRead(_WAIT_MS) and bytes(call.readAll().data()) == YES
    call.close()
    return answered


def _reached(call: QLocalSocket, place: str) -> bool:
    call.connectToServer(name_of(place))
    return call.waitForConnected(_WAIT_MS)


class Answering(QObject):
    """Answers second starts for this window; `shows` brings it to the front."""

    def __init__(self, shows: Callable[[], None], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._shows = shows
        self._server = QLocalServer(self)
        self._server.setSocketOptions(QLocalServer.SocketOption.UserAccessOption)
        self._server.newConnection.connect(self._answer)

    def answer_for(self, place: str) -> None:
        """From now on for `place`. What a program left behind when it was killed is cleared away first."""
        self._server.close()
        if not self._server.listen(name_of(place)) and not _reached(QLocalSocket(), place):
            QLocalServer.removeServer(name_of(place))
            self._server.listen(name_of(place))

    def _answer(self) -> None:
        call = self._server.nextPendingConnection()
        call.readyRead.connect(lambda: self._show(call))
        call.disconnected.connect(call.deleteLater)

    def _show(self, call: QLocalSocket) -> None:
        if bytes(call.readAll().data()) == ASK:
            self._shows()
            call.write(YES)
            call.flush()
