"""What the window remembers between two days: its shape, the last shop and place, columns, the look.

One ini file in the configuration folder; losing it loses nothing of a shop.
"""

from pathlib import Path

from PySide6.QtCore import QByteArray, QSettings
from PySide6.QtWidgets import QHeaderView, QSplitter, QWidget


class Memory:
    """Kept under names such as `window`, `floor/ranges`; unreadable values count as none."""

    def __init__(self, file: Path) -> None:
        self._settings = QSettings(str(file), QSettings.Format.IniFormat)

    def text(self, name: str, default: str = "") -> str:
        return str(self._settings.value(name, default))

    def number(self, name: str, default: float) -> float:
        try:
            return float(self.text(name, str(default)))
        except ValueError:
            return default

    def keep(self, name: str, value: str | float) -> None:
        self._settings.setValue(name, str(value))

    def forget(self, name: str) -> None:
        self._settings.remove(name)

    def shape(self, name: str, widget: QWidget) -> bool:
        """Gives a window its last size and place back."""
        return widget.restoreGeometry(self._bytes(f"shape/{name}"))

    def keep_shape(self, name: str, widget: QWidget) -> None:
        self._settings.setValue(f"shape/{name}", widget.saveGeometry())

    def parts(self, name: str, part: QSplitter | QHeaderView) -> bool:
        """Gives a splitter or a header its last widths back."""
        return part.restoreState(self._bytes(f"parts/{name}"))

    def keep_parts(self, name: str, part: QSplitter | QHeaderView) -> None:
        self._settings.setValue(f"parts/{name}", part.saveState())

    def write(self) -> None:
        """Puts everything on the disk."""
        self._settings.sync()

    def _bytes(self, name: str) -> QByteArray:
        value = self._settings.value(name)
        return value if isinstance(value, QByteArray) else QByteArray()
