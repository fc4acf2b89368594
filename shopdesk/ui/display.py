"""Whether a window can be opened here: Qt ends the program when it cannot, so this is asked before.

Knows the X and Wayland surroundings of Linux; on other systems there is always a display.
"""

import ctypes
import os
import sys
from pathlib import Path

from shopdesk.wording import say

_NEEDED = {
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
}  # what Qt's X window loads, and the Debian package that has it


def why_no_window() -> str:
    """A sentence why no window can be opened, or "" when one can."""
    asked = os.environ.get("QT_QPA_PLATFORM", "").split(":")[0].split(";")[0]
    if not sys.platform.startswith("linux") or asked not in ("", "xcb", "wayland"):
        return ""
    if asked != "xcb" and _wayland_answers():
        return ""
    if not os.environ.get("DISPLAY"):
        return say(
            "There is no display here, so no window can be opened. Start shopdesk on a desktop; "
            "`shopdesk --help` lists what it does without one."
        )
    missing = [package for library, package in _NEEDED.items() if _load(library) is None]
    if missing:
        return say(
            "Qt needs these packages to open a window: {names}. Install them.", names=" ".join(missing)
        )
    if not _x_answers():
        return say(
            "The display {name} does not answer, so no window can be opened. Start shopdesk on a desktop.",
            name=os.environ["DISPLAY"],
        )
    return ""


def _wayland_answers() -> bool:
    name = os.environ.get("WAYLAND_DISPLAY", "")
    folder = os.environ.get("XDG_RUNTIME_DIR", "")
    return bool(name) and (Path(folder) / name).exists()


def _x_answers() -> bool:
    library = _load("libX11.so.6")
    if library is None:
        return False
    library.XOpenDisplay.restype = ctypes.c_void_p
    library.XCloseDisplay.argtypes = [ctypes.c_void_p]
    display = library.XOpenDisplay(None)
    if not display:
        return False
    library.XCloseDisplay(display)
    return True


def _load(library: str) -> ctypes.CDLL | None:
    try:
        return ctypes.CDLL(library)
    except OSError:
        return None
