"""What was typed and not yet saved: kept by itself, and there again the next time.

A draft is plain values under a name ("intake/new"). Knows no services and no records.
"""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject, QTimer


class Drafts(QObject):
    """One JSON file of drafts; written a moment after the last key, and by `write` at the end."""

    def __init__(self, file: Path, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._file = file
        self._drafts: dict[str, dict[str, Any]] = _read(file)
        self._timer = QTimer(self, interval=1000, singleShot=True)
        self._timer.timeout.connect(self.write)

    def kept(self, name: str) -> dict[str, Any]:
        """The draft of that name, or nothing."""
        return dict(self._drafts.get(name, {}))

    def names(self, beginning: str) -> list[str]:
        """The kept drafts whose names begin so, oldest first."""
        return [name for name in self._drafts if name.startswith(beginning)]

    def keep(self, name: str, values: Mapping[str, Any]) -> None:
        self._drafts[name] = dict(values)
        self._timer.start()

    def drop(self, name: str) -> None:
        """It was saved for good, or is not wanted."""
        if self._drafts.pop(name, None) is not None:
            self._timer.start()

    def write(self) -> None:
        """Puts what changed on the disk; a disk that refuses costs the drafts, never the program."""
        if not self._timer.isActive():
            return
        self._timer.stop()
        try:
            if self._drafts:
                fresh = self._file.with_suffix(".new")
                fresh.write_text(json.dumps(self._drafts, ensure_ascii=False, indent=1), encoding="utf-8")
                fresh.replace(self._file)
            else:
                self._file.unlink(missing_ok=True)
        except OSError:
            return


def _read(file: Path) -> dict[str, dict[str, Any]]:
    try:
        kept = json.loads(file.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    if not isinstance(kept, dict):
        return {}
    return {name: draft for name, draft in kept.items() if isinstance(draft, dict)}
