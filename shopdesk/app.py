"""The window program: puts the parts together, opens the shop asked for, and runs until it is closed.

The window shows first; the services, SQL and the papers are loaded in a worker after it. Qt itself is
loaded only once there is a display for it.
"""

import gc
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from shopdesk import paths
from shopdesk.domain.clock import Clock, now
from shopdesk.ui.display import why_no_window
from shopdesk.wording import say, speak

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication

    from shopdesk.ui.dialogs import Dialogs
    from shopdesk.ui.memory import Memory
    from shopdesk.ui.window import MainWindow


def run(place: str | None, sample: bool, looking: bool = False) -> int:
    """Opens the window on a shop, the sample, the last shop or the start page; the program's exit code."""
    reason = why_no_window()
    if reason:
        sys.stderr.write(f"{reason}\n")
        return 2
    from PySide6.QtWidgets import QApplication

    from shopdesk.ui.single_start import Answering, raised
    from shopdesk.ui.went_wrong import watch_for_faults

    app = QApplication.instance() or QApplication(["shopdesk"])
    assert isinstance(app, QApplication)
    app.setApplicationName("shopdesk")
    app.setDesktopFileName("shopdesk")
    if not sample and not looking and raised(place or _last_shop()):
        sys.stdout.write(say("It is open already; its window is in front now.") + "\n")
        return 0
    window = open_window(app, now, place, sample=sample, looking=looking)
    answering = Answering(window.come_forward, window)
    window.placeShown.connect(answering.answer_for)
    answering.answer_for(place or ("" if sample else _last_shop()))
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

    gc.set_threshold(20_000, 20, 20)  # a program's own classes are no garbage: look for it less often
    from shopdesk.ui.dialogs import Dialogs
    from shopdesk.ui.opening import Opening
    from shopdesk.ui.view import View
    from shopdesk.ui.window import MainWindow
    from shopdesk.ui.workers import Workers

    memory = _memory()
    speak(memory.text("language", QLocale.system().name()))
    workers = Workers(app)
    opening = Opening(workers, clock, app)
    view = View(app, memory, app)
    window = MainWindow(
        workers, opening, dialogs or Dialogs(), memory, view,
        folder=paths.data_folder(), sample_here=_sample_is_here(),
    )  # fmt: skip
    window.show()
    if sample:
        opening.open_sample()
    elif asked := place or _last_shop():
        opening.open(asked, looking=looking)
    else:
        window.show_start()
    return window


def _memory() -> "Memory":
    from shopdesk.ui.memory import Memory

    return Memory(paths.config_folder() / "window.ini")


def _last_shop() -> str:
    """The shop that was open last, where it is still there; "" for the start page."""
    last = _memory().text("shop/last")
    return last if "://" in last or (last and Path(last).is_file()) else ""


def _sample_is_here() -> bool:
    try:
        return paths.sample_shop().is_file()
    except FileNotFoundError:
        return False
