"""One program writes a shop file at a time: a lock file beside it, and a note of who holds it."""

import getpass
import json
import os
import socket
from pathlib import Path

from filelock import FileLock, Timeout

from shopdesk.domain.problem import Unavailable


class WriteLock:
    """Held while a shop file is open for writing; the operating system frees it on a crash."""

    def __init__(self, shop: Path) -> None:
        self._shop = shop
        # not per thread: a shop may be opened in a worker and closed by the window
        self._lock = FileLock(shop.with_name(shop.name + ".lock"), thread_local=False)
        self._note = shop.with_name(shop.name + ".holder")

    def take(self) -> None:
        """Takes the lock, or says who has it and what can be done."""
        try:
            self._lock.acquire(timeout=0)
        except Timeout:
            raise Unavailable(
                "The shop {shop} is open for writing in another program ({holder}). "
                "Close it there, or open the shop to look, print and back up.",
                shop=self._shop.name,
                holder=self._holder(),
            ) from None
        except OSError as error:
            raise Unavailable(
                "The folder of {shop} cannot be written to ({why}). "
                "Move the shop to a folder you may write in.",
                shop=self._shop.name,
                why=error.strerror or str(error),
            ) from None
        self._note.write_text(
            json.dumps({"who": getpass.getuser(), "machine": socket.gethostname(), "process": os.getpid()}),
            encoding="utf-8",
        )

    def give_back(self) -> None:
        if self._lock.is_locked:
            self._note.unlink(missing_ok=True)
            self._lock.release()

    def _holder(self) -> str:
        try:
            note = json.loads(self._note.read_text(encoding="utf-8"))
            return f"{note['who']} on {note['machine']}, process {note['process']}"
        except (OSError, ValueError, KeyError):
            return "its holder left no name"
