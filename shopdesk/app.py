"""The window program: puts the parts together, opens the shop asked for, and runs until it is closed.

The window shows first; the services, SQL and the papers are loaded in a worker after it. Qt itself is
loaded only once there is a display for it.
"""

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from shopdesk import paths
from shopdesk.domain.clock import Clock, now
from shopdesk.ui.display import why_no_window

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication

    from shopdesk.ui.dialogs import Dialogs
    from shopdesk.ui.window import MainWindow


def run(place: str | None, sample: bool, looking: bool = False) -> int:
    """Opens the window on a shop, the sample, the last shop or the start page; the program's exit code."""
    reason = why_no_window()
    if reason:
        sys.stderr.write(f"{reason}\n")
        return 2
    from PySide6.QtWidgets import QApplication

    from shopdesk.ui.went_wrong import watch_for_faults

    app = QApplication.instance() or QApplication(["shopdesk"])
    assert isinstance(app, QApplication)
    app.setApplicationName("shopdesk")
    window = open_window(app, now, place, sample=sample, looking=looking)
    put_back = watch_for_faults(window, window.keep_drafts)
    try:
        return app.exec()
    finally:
        put_back()


def open_window(
    app: "QApplication", clock: Clock, place: str | None = None, *, sample: bool = False,
    looking: bool = False, dialogs: "Dialogs | None" = None,
) -> "MainWindow":  # fmt: skip
    """The window, shown, with the shop that was asked for on its way into it."""
    from PySide6.QtCore import QLocale

    from shopdesk.ui.dialogs import Dialogs
    from shopdesk.ui.memory import Memory
    from shopdesk.ui.opening import Opening
    from shopdesk.ui.view import View
    from shopdesk.ui.window import MainWindow
    from shopdesk.ui.workers import Workers
    from shopdesk.wording import speak

    memory = Memory(paths.config_folder() / "window.ini")
    speak(memory.text("language", QLocale.system().name()))
    workers = Workers(app)
    opening = Opening(workers, clock, app)
    view = View(app, memory, app)
    window = MainWindow(
        workers, opening, dialogs or Dialogs(), memory, view,
        folder=paths.data_folder(), sample_here=_sample_is_here(),
    )  # fmt: skip
    window.show()
    last = memory.text("shop/last")
    if sample:
        opening.open_sample()
    elif place:
        opening.open(place, looking=looking)
    elif last and ("://" in last or Path(last).is_file()):
        opening.open(last, looking=looking)
    else:
        window.show_start()
    return window


def _sample_is_here() -> bool:
    try:
        return paths.sample_shop().is_file()
    except FileNotFoundError:
        return False
