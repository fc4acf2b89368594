"""Surroundings of the window's tests: a shop on a real file, a context on it, and nothing left behind."""

import gc
import shutil
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

import pytest
from fixed_clock import FixedClock
from PySide6.QtCore import QCoreApplication, QEvent, QSizeF, QThreadPool
from PySide6.QtGui import QGuiApplication
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from shopdesk.services.seat import Seat, open_shop
from shopdesk.services.settings import ShopIdentity
from shopdesk.services.shops import new_shop
from shopdesk.ui.context import Context
from shopdesk.ui.dialogs import Dialogs
from shopdesk.ui.drafts import Drafts
from shopdesk.ui.look import apply_look
from shopdesk.ui.memory import Memory
from shopdesk.ui.view import View
from shopdesk.ui.workers import Workers
from shopdesk.wording import Region


@pytest.fixture(scope="session")
def qapp_args() -> list[str]:
    return ["shopdesk-test"]


class CannedDialogs(Dialogs):
    """Answers for the person: what the test put into these fields."""

    def __init__(self) -> None:
        super().__init__()
        self.file: Path | None = None
        self.files: list[Path] = []
        self.folder: Path | None = None
        self.agrees = True
        self.choice: int | None = 0
        self.written: str | None = "because"
        self.printer: QPrinter | None = None
        self.asked: list[str] = []
        self.opened: list[Path] = []
        self.opens = True

    def open_file(self, title: str, kind: str, patterns: str) -> Path | None:
        self.asked.append(title)
        return self.file

    def open_files(self, title: str, kind: str, patterns: str) -> list[Path]:
        self.asked.append(title)
        return self.files

    def open_folder(self, title: str, begin: Path | None = None) -> Path | None:
        self.asked.append(title)
        return self.folder

    def save_file(self, title: str, suggested: Path | str, kind: str, patterns: str) -> Path | None:
        self.asked.append(title)
        return self.file

    def confirm(self, title: str, text: str, yes: str, no: str = "") -> bool:
        self.asked.append(text)
        return self.agrees

    def choose(self, title: str, text: str, answers: Sequence[str]) -> int | None:
        self.asked.append(text)
        return self.choice

    def write(self, title: str, label: str, text: str = "") -> str | None:
        self.asked.append(label)
        return self.written

    def passphrase(self, title: str) -> str | None:
        self.asked.append(title)
        return self.written

    def open_elsewhere(self, file: Path) -> bool:
        self.opened.append(file)
        return self.opens

    def choose_printer(self, title: str, sheet: QSizeF) -> QPrinter | None:
        self.asked.append(title)
        return self.printer


@pytest.fixture(autouse=True)
def nothing_left_behind(request: pytest.FixtureRequest) -> Iterator[None]:
    """A test of the window leaves no visible widget, no window and no thread at work."""
    if "qtbot" not in request.fixturenames and "qapp" not in request.fixturenames:
        yield
        return
    gc.freeze()  # what stood before this test need not be looked through after it
    before = set(map(id, QApplication.topLevelWidgets())) if QApplication.instance() else set()
    yield
    gc.collect()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    assert QThreadPool.globalInstance().activeThreadCount() == 0
    left = [w for w in QApplication.topLevelWidgets() if id(w) not in before and w.isVisible()]
    assert not left, f"left open: {left}"
    assert QGuiApplication.modalWindow() is None


@pytest.fixture
def dialogs() -> CannedDialogs:
    return CannedDialogs()


@pytest.fixture
def memory(tmp_path: Path) -> Memory:
    return Memory(tmp_path / "window.ini")


@pytest.fixture
def workers(qapp: QApplication) -> Iterator[Workers]:
    made = Workers()
    yield made
    assert made.finish(), "work was still under way at the end of the test"
    assert made.busy == 0


@pytest.fixture
def view(qapp: QApplication, memory: Memory) -> Iterator[View]:
    yield View(qapp, memory)
    apply_look(qapp)


@pytest.fixture(scope="session")
def _new_shop_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new shop, made once and closed."""
    place = tmp_path_factory.mktemp("new-shop") / "shop.db"
    made = new_shop(place, FixedClock(), ShopIdentity(name="Hearth and Damper"), Region(), "Ida Kessler")
    made.file.close()
    return place


@pytest.fixture
def seat(_new_shop_file: Path, tmp_path: Path, clock: FixedClock) -> Iterator[Seat]:
    """The owner's seat at a new shop on a file of its own."""
    place = tmp_path / "shop.db"
    shutil.copyfile(_new_shop_file, place)
    made = open_shop(place, clock)
    yield made
    made.file.close()


@pytest.fixture
def context(
    seat: Seat, workers: Workers, dialogs: CannedDialogs, memory: Memory, view: View, tmp_path: Path
) -> Iterator[Context]:
    made = Context(seat, workers, dialogs, memory, Drafts(tmp_path / "drafts.json"), view)
    yield made
    assert workers.finish()
    made.deleteLater()


@pytest.fixture
def settled(workers: Workers, qtbot: QtBot) -> Callable[[], None]:
    """Waits until all work asked for has been answered."""

    def wait() -> None:
        qtbot.waitUntil(lambda: workers.busy == 0, timeout=10_000)

    return wait


@pytest.fixture
def unnamed() -> Callable[[QWidget], list[Any]]:
    """The controls of a widget that a screen reader could not name."""

    def of(widget: QWidget) -> list[Any]:
        from PySide6.QtWidgets import (
            QAbstractButton,
            QAbstractItemView,
            QAbstractSpinBox,
            QComboBox,
            QLineEdit,
            QPlainTextEdit,
        )

        kinds = (QAbstractButton, QAbstractItemView, QAbstractSpinBox, QComboBox, QLineEdit, QPlainTextEdit)
        inner = ("qt_", "QComboBox", "ScrollBar")
        return [
            w
            for w in widget.findChildren(QWidget)
            if isinstance(w, kinds)
            and not w.objectName().startswith(inner)
            and not isinstance(w.parent(), QComboBox | QAbstractSpinBox | QLineEdit | QAbstractItemView)
            and w.metaObject().className() not in ("QComboBoxListView",)
            and not (w.accessibleName() or (isinstance(w, QAbstractButton) and w.text()))
        ]

    return of
