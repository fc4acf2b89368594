"""A second start raises the window that has the shop open, and opens its own where none has."""

import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QObject
from PySide6.QtNetwork import QLocalServer
from pytestqt.qtbot import QtBot

from shopdesk.ui.single_start import Answering, name_of, raised

SECOND_START = (
    "import sys\n"
    "from PySide6.QtCore import QCoreApplication\n"
    "from shopdesk.ui.single_start import raised\n"
    "app = QCoreApplication([])\n"
    "sys.exit(0 if raised(sys.argv[1]) else 1)\n"
)


def second_start(place: str) -> "subprocess.Popen[bytes]":
    return subprocess.Popen([sys.executable, "-c", SECOND_START, place])


@pytest.fixture
def shown(qtbot: QtBot) -> list[str]:
    return []


def test_a_second_start_shows_the_first_window(qtbot: QtBot, tmp_path: Path, shown: list[str]) -> None:
    keeper = QObject()
    Answering(lambda: shown.append("shown"), keeper).answer_for(str(tmp_path / "shop.db"))
    second = second_start(str(tmp_path / "." / "shop.db"))
    qtbot.waitUntil(lambda: second.poll() is not None, timeout=30_000)
    assert (second.returncode, shown) == (0, ["shown"])


def test_another_shop_gets_a_window_of_its_own(qtbot: QtBot, tmp_path: Path, shown: list[str]) -> None:
    keeper = QObject()
    answering = Answering(lambda: shown.append("shown"), keeper)
    answering.answer_for(str(tmp_path / "shop.db"))
    assert not raised(str(tmp_path / "other.db"))
    answering.answer_for(str(tmp_path / "other.db"))
    assert not raised(str(tmp_path / "shop.db"))
    assert not shown


def test_what_a_killed_program_left_behind_does_not_stop_the_next(qtbot: QtBot, tmp_path: Path) -> None:
    place = str(tmp_path / "shop.db")
    subprocess.run(
        [
            sys.executable, "-c",
            "import os, sys\n"
            "from PySide6.QtCore import QCoreApplication\n"
            "from PySide6.QtNetwork import QLocalServer\n"
            "app = QCoreApplication([])\n"
            "server = QLocalServer()\n"
            "assert server.listen(sys.argv[1])\n"
            "os._exit(9)\n",
            name_of(place),
        ],
        check=False,
    )  # fmt: skip
    keeper = QObject()
    answering = Answering(lambda: None, keeper)
    answering.answer_for(place)
    servers = answering.findChildren(QLocalServer)
    assert [server.isListening() for server in servers] == [True]
