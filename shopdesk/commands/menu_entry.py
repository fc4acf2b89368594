"""The `menu-entry` command: puts the program into the desktop's menu and makes shop files open with it.

Files where the freedesktop.org specifications want them (desktop entry, icon theme, shared MIME info).
"""

import shlex
import shutil
import subprocess
import sys
from pathlib import Path

from shopdesk import paths


def write(home: Path) -> list[Path]:
    """Writes entry, icon and file type below `home` (a user's XDG data folder) and tells the desktop."""
    entry = home / "applications" / "shopdesk.desktop"
    icon = home / "icons" / "hicolor" / "scalable" / "apps" / "shopdesk.svg"
    kind = home / "mime" / "packages" / "shopdesk.xml"
    for file in (entry, icon, kind):
        file.parent.mkdir(parents=True, exist_ok=True)
    words = paths.resource("desktop", "shopdesk.desktop").read_text(encoding="utf-8")
    entry.write_text(words.replace("@PROGRAM@", _started_by()), encoding="utf-8")
    shutil.copyfile(paths.resource("icons", "shopdesk.svg"), icon)
    shutil.copyfile(paths.resource("desktop", "shopdesk.xml"), kind)
    _tell("update-desktop-database", entry.parent)
    _tell("update-mime-database", home / "mime")
    return [entry, icon, kind]


def _started_by() -> str:
    """How this program is started, quoted as an Exec line wants it."""
    if getattr(sys, "frozen", False):
        return _quoted(Path(sys.executable))
    beside = Path(sys.executable).with_name("shopdesk")
    return _quoted(beside) if beside.is_file() else f"{_quoted(Path(sys.executable))} -m shopdesk"


def _quoted(program: Path) -> str:
    text = str(program)
    return text if text == shlex.quote(text) else '"' + text.replace('"', '\\"') + '"'


def _tell(program: str, folder: Path) -> None:
    """Desktops without these programs look by themselves at the next sign-in."""
    found = shutil.which(program)
    if found:
        subprocess.run([found, str(folder)], check=False, capture_output=True)
