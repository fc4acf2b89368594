"""Signing in at the window, the lock after idle minutes, and passphrases in Set-up."""

from collections.abc import Callable, Iterator
from pathlib import Path

import few_pages
import pytest
from conftest import CannedDialogs  # type: ignore[import-not-found]
from fixed_clock import FixedClock
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from shopdesk.domain.rights import Role
from shopdesk.services.seat import Seat
from shopdesk.services.settings import Lock
from shopdesk.services.shops import StaffDraft, keep_setting, keep_staff
from shopdesk.services.signing_in import set_passphrase
from shopdesk.ui.memory import Memory
from shopdesk.ui.opening import Opening
from shopdesk.ui.view import View
from shopdesk.ui.window import MainWindow
from shopdesk.ui.workers import Workers

OWNERS = "four jars of black lead"
BOS = "the valve turns freely"
Settled = Callable[[], None]


@pytest.fixture
def asked(
    qtbot: QtBot, workers: Workers, clock: FixedClock, dialogs: CannedDialogs, memory: Memory, view: View,
    tmp_path: Path, seat: Seat, settled: Settled,
) -> Iterator[MainWindow]:  # fmt: skip
    """The window on a shop whose two people have passphrases."""
    bo = keep_staff(seat, StaffDraft("Bo Lind", Role.TECHNICIAN))
    set_passphrase(seat, seat.acting.staff_id, OWNERS)
    set_passphrase(seat, bo, BOS)
    keep_setting(seat, Lock(after_minutes=5))
    place = str(seat.file.url.database)
    seat.file.close()
    opening = Opening(workers, clock)
    made = MainWindow(
        workers, opening, dialogs, memory, view, folder=tmp_path, sample_here=False,
        with_places=few_pages.few_places,
    )  # fmt: skip
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    with qtbot.waitSignal(opening.opened, timeout=10_000):
        opening.open(place)
    settled()
    yield made
    made.close()
    made.deleteLater()


def sign_in(window: MainWindow, qtbot: QtBot, settled: Settled, name: str, passphrase: str) -> None:
    form = window.signing_in.form if window.signing_in is not None else window.workspace.locked.sign_in.form  # type: ignore[union-attr]
    person = form["person"]
    person.setCurrentIndex(person.findText(name))
    form["passphrase"].setText(passphrase)
    qtbot.keyClick(form["passphrase"], Qt.Key.Key_Return)
    settled()


def test_a_shop_that_asks_shows_nothing_before_somebody_signed_in(
    asked: MainWindow, qtbot: QtBot, settled: Settled
) -> None:
    assert asked.workspace is None
    sign_in(asked, qtbot, settled, "Bo Lind", OWNERS)
    assert asked.workspace is None
    assert asked.signing_in is not None
    assert "not Bo Lind’s passphrase" in asked.signing_in.form._entries["passphrase"].problem.text()
    sign_in(asked, qtbot, settled, "Bo Lind", BOS)
    assert asked.workspace is not None
    assert asked.workspace.context.seat.acting.name == "Bo Lind"
    assert asked.signing_in is None


def test_left_alone_it_locks_keeps_what_was_typed_and_opens_for_whoever_signs_in(
    asked: MainWindow, qtbot: QtBot, settled: Settled
) -> None:
    sign_in(asked, qtbot, settled, "Ida Kessler", OWNERS)
    space = asked.workspace
    assert space is not None
    assert space.idle.timer.remainingTime() > 4 * 60_000
    people = space.desk.page("people")
    people.form["name"].setText("Half ty")  # type: ignore[union-attr]
    space.idle.idle.emit()
    settled()
    assert space.locked is not None
    assert not space.desk.isEnabled()
    qtbot.keyClick(asked, Qt.Key.Key_K, Qt.KeyboardModifier.ControlModifier)
    assert not space.finder.isVisible(), "nothing below the lock answers"
    sign_in(asked, qtbot, settled, "Ida Kessler", "wrong in every way")
    assert space.locked is not None
    sign_in(asked, qtbot, settled, "Bo Lind", BOS)
    assert space.locked is None
    assert space.context.seat.acting.name == "Bo Lind"
    assert people.form["name"].text() == "Half ty"  # type: ignore[union-attr]
    assert space.desk.isEnabled()


def test_the_chooser_asks_for_the_passphrase_of_whom_one_chooses(
    asked: MainWindow, qtbot: QtBot, settled: Settled, dialogs: CannedDialogs
) -> None:
    sign_in(asked, qtbot, settled, "Bo Lind", BOS)
    space = asked.workspace
    assert space is not None
    owner = next(action for action in space.people._menu.actions() if "Ida" in action.text())
    dialogs.written = "wrong in every way"
    owner.trigger()
    settled()
    assert space.context.seat.acting.name == "Bo Lind"
    assert "not Ida Kessler’s passphrase" in asked.messages.words.text()
    dialogs.written = OWNERS
    owner.trigger()
    settled()
    assert space.context.seat.acting.name == "Ida Kessler"


def test_closing_the_window_while_it_asks_lets_the_shop_go(asked: MainWindow, clock: FixedClock) -> None:
    assert asked._asking is not None
    place = asked._asking.seat.file.url.database
    asked.close()
    from shopdesk.services.seat import open_shop

    open_shop(str(place), clock).file.close()
