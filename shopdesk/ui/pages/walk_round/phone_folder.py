"""The folder into which a phone puts its pictures: new ones are offered, nothing in it is ever changed.

Only looked into: no file is moved, renamed or deleted. The folder is this computer's affair and is kept in
its memory, not in the shop.
"""

import stat
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QFileSystemWatcher, QObject, QTimer, Signal

from shopdesk.domain.problem import Problem, Unavailable
from shopdesk.ui.context import Context
from shopdesk.ui.widgets.photo_strip import is_picture

POLL_MS = 3_000  # folders on a network and some sync programs tell no watcher
FOLDER, SEEN = "walk-round/phone folder", "walk-round/phone folder seen until"


@dataclass(frozen=True, slots=True)
class Arrived:
    """A picture in the folder; `at_ns` is when it came there, `size` whether it is still growing."""

    path: Path
    at_ns: int
    size: int


class PhoneFolder(QObject):
    """`offered` carries the pictures that came and were neither taken nor left; `lost` a Problem."""

    offered = Signal(list)  # list[Path], in the order in which they came
    lost = Signal(object)

    def __init__(self, context: Context, parent: QObject) -> None:
        super().__init__(parent)
        self._context = context
        self._before: dict[Path, int] = {}  # sizes at the last look
        self._offered: list[Arrived] = []
        self._told_lost = False
        self._watcher = QFileSystemWatcher(self)
        self._watcher.directoryChanged.connect(lambda _path: self.look())
        self._timer = QTimer(self, interval=POLL_MS)
        self._timer.timeout.connect(self.look)

    @property
    def folder(self) -> Path | None:
        kept = self._context.memory.text(FOLDER)
        return Path(kept) if kept else None

    @property
    def waiting(self) -> list[Path]:
        return [one.path for one in self._offered]

    def choose(self, folder: Path) -> None:
        """Watches another folder; what lies in it already is not offered."""
        self._context.memory.keep(FOLDER, str(folder))
        self._context.memory.keep(SEEN, "")
        self._offered, self._before, self._told_lost = [], {}, False
        self.start()

    def stop_watching(self) -> None:
        """No folder any more."""
        self.rest()
        self._context.memory.forget(FOLDER)
        self._forget_offered()

    def start(self) -> None:
        """Looks from now on, while a walk-round is open."""
        folder = self.folder
        if folder is None:
            return
        if str(folder) not in self._watcher.directories() and folder.is_dir():
            self._watcher.addPath(str(folder))
        self._timer.start()
        self.look()

    def rest(self) -> None:
        """No looking while nobody walks round."""
        self._timer.stop()
        if self._watcher.directories():
            self._watcher.removePaths(self._watcher.directories())

    def take(self) -> list[Path]:
        """The offered ones, which are somebody's now and not offered again."""
        taken = self.waiting
        self._mark_seen()
        self._forget_offered()
        return taken

    def leave(self) -> None:
        """The offered ones are not wanted."""
        self._mark_seen()
        self._forget_offered()

    def look(self) -> None:
        """Looks into the folder, in a worker."""
        folder = self.folder
        if folder is not None:
            self._context.ask(
                lambda _seat: pictures_in(folder), self._came, self._failed,
                key=f"phone folder/{id(self)}", owner=self,
            )  # fmt: skip

    # Inside

    def _came(self, found: list[Arrived]) -> None:
        self._told_lost = False
        seen = self._seen()
        if seen is None:  # the first look: what lies there already is known
            self._context.memory.keep(SEEN, str(max((one.at_ns for one in found), default=0)))
            return
        whole = [one for one in found if one.size and self._before.get(one.path) == one.size]
        self._before = {one.path: one.size for one in found}
        new = sorted((one for one in whole if one.at_ns > seen), key=lambda one: (one.at_ns, one.path.name))
        if [one.path for one in new] != self.waiting:
            self._offered = new
            self.offered.emit(self.waiting)
        if any(one.at_ns > seen and one not in whole for one in found):
            QTimer.singleShot(POLL_MS // 6, self, self.look)  # soon again: is it still growing?

    def _failed(self, problem: Problem) -> None:
        if not self._told_lost:
            self._told_lost = True
            self.lost.emit(problem)

    def _seen(self) -> int | None:
        kept = self._context.memory.text(SEEN)
        return int(kept) if kept.isdigit() else None

    def _mark_seen(self) -> None:
        if self._offered:
            latest = max(one.at_ns for one in self._offered)
            self._context.memory.keep(SEEN, str(max(latest, self._seen() or 0)))

    def _forget_offered(self) -> None:
        self._offered = []
        self.offered.emit([])


def pictures_in(folder: Path) -> list[Arrived]:
    """The pictures that lie in a folder itself. Unavailable when it cannot be looked into."""
    found = []
    try:
        for path in folder.iterdir():
            if is_picture(path) and not path.name.startswith("."):
                found += _arrived(path)
    except OSError as error:
        raise Unavailable(
            "The phone's folder {folder} cannot be looked into ({reason}). Choose it again, or another.",
            folder=str(folder),
            reason=error.strerror or type(error).__name__,
        ) from error
    return found


def _arrived(path: Path) -> list[Arrived]:
    """When it came there; nothing when it went away while one looked, or is no file."""
    try:
        about = path.stat()
    except FileNotFoundError:
        return []
    if not stat.S_ISREG(about.st_mode):
        return []
    return [Arrived(path, max(about.st_mtime_ns, about.st_ctime_ns), about.st_size)]
