"""A technician's day in the real window, by keyboard alone.

Three ranges, nine tasks, two clocks, one surprise, one blocked task, four tags.
"""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from conftest import CannedDialogs  # type: ignore[import-not-found]
from fixed_clock import FixedClock
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from shop_at_work import LITTLE, ShopAtWork, make_shop_at_work, range_with_work

from shopdesk.services import bench, bench_day, change_orders, tags
from shopdesk.services.bench import BenchTask
from shopdesk.services.seat import Seat
from shopdesk.ui.memory import Memory
from shopdesk.ui.opening import Opening
from shopdesk.ui.pages.bench.page import BenchPage
from shopdesk.ui.pages.bench.shown import TaskRow
from shopdesk.ui.pages.tags.page import TagsPage
from shopdesk.ui.scanning import HELD_MS
from shopdesk.ui.view import View
from shopdesk.ui.window import MainWindow
from shopdesk.ui.workers import Workers

Settled = Callable[[], None]
Key, Held = Qt.Key, Qt.KeyboardModifier


@pytest.fixture
def shop(seat: Seat) -> ShopAtWork:
    """Three ranges with tasks that can be done; of one the intake only."""
    made = make_shop_at_work(seat)
    range_with_work(seat, "Tansley", LITTLE, promised_in=12)
    return made


@pytest.fixture
def window(
    shop: ShopAtWork, seat: Seat, qtbot: QtBot, workers: Workers, clock: FixedClock, dialogs: CannedDialogs,
    memory: Memory, view: View, tmp_path: Path, settled: Settled,
) -> Iterator[MainWindow]:  # fmt: skip
    place = str(seat.file.url.database)
    seat.file.close()
    opening = Opening(workers, clock)
    made = MainWindow(workers, opening, dialogs, memory, view, folder=tmp_path, sample_here=True)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    with qtbot.waitSignal(opening.opened, timeout=10_000):
        opening.open(place)
    settled()
    yield made
    made.close()
    made.deleteLater()


class Technician:
    """Presses keys where the keyboard is, and reads what the window shows."""

    def __init__(self, window: MainWindow, qtbot: QtBot, settled: Settled, clock: FixedClock) -> None:
        self.window, self.clock = window, clock
        self._qtbot, self._settled = qtbot, settled

    def press(self, *keys: Qt.Key, held: Qt.KeyboardModifier = Held.NoModifier) -> None:
        for key in keys:
            aim = self.window if held == Held.AltModifier else QApplication.focusWidget()
            self._qtbot.keyClick(aim or self.window, key, held)
            self._finger()

    def wait_for(self, place: str) -> None:
        self._qtbot.waitUntil(lambda: self.window.workspace.desk.here == place)
        self._settled()

    def type(self, text: str) -> None:
        self._qtbot.keyClicks(QApplication.focusWidget(), text)
        self._finger()

    def _finger(self) -> None:
        """The time a finger leaves to the next key, by which it is told from a scanner."""
        self._qtbot.wait(HELD_MS + 5)
        self._settled()

    @property
    def bench(self) -> BenchPage:
        page = self.window.workspace.desk.page("bench")
        assert isinstance(page, BenchPage)
        return page

    def rows(self, state: str) -> list[TaskRow]:
        model = self.bench.list.model
        rows = [model.row(place) for place in range(model.rowCount())]
        return [row for row in rows if isinstance(row, TaskRow) and row.state == state]

    def go_to(self, task_id: int) -> None:
        """Arrows until the keyboard is on a task."""
        place = [r.task.id for r in self.rows("now")].index(task_id)
        current = self.bench.current()
        at = [r.task.id for r in self.rows("now")].index(current.task.id) if current.state == "now" else 0
        self.press(*[Key.Key_Down if place > at else Key.Key_Up] * abs(place - at))
        assert self.bench.current().task.id == task_id

    def tick(self) -> None:
        """Space; where cautions are new it is refused, `K` says that they are read, and Space ticks."""
        self.press(Key.Key_Space)
        current = self.bench.current()
        if current is not None and current.refused:
            assert "has cautions" in current.refused
            self.press(Key.Key_K, Key.Key_Space)

    def tag(self, what: str, count: int, lies: str) -> None:
        """`O`, then part, what, how many and where, with Tab between and Return at the end."""
        self.press(Key.Key_O, Key.Key_Down, Key.Key_Tab)
        self.type(what)
        self.press(Key.Key_Tab)
        self.type(str(count))
        self.press(Key.Key_Tab)
        self.type(lies)
        self.press(Key.Key_Return)
        assert self.bench.pane.deed is None


@pytest.fixture
def seat_now(window: MainWindow) -> Callable[[], Seat]:
    """The seat of the person at the window."""
    return lambda: window.workspace.context.seat


@pytest.fixture
def hand(window: MainWindow, qtbot: QtBot, settled: Settled, clock: FixedClock) -> Technician:
    return Technician(window, qtbot, settled, clock)


def test_a_technicians_day_by_keyboard_alone(hand: Technician, seat_now: Callable[[], Seat]) -> None:
    hand.press(Key.Key_B, held=Held.AltModifier)
    hand.wait_for("bench")
    first, second = _two_clocks_and_four_tags(hand)
    seat = seat_now()
    hours = {row.task_id: row.minutes for t in (first, second) for row in bench.time_rows(seat, t.job_id)}
    assert hours == {first.id: 20, second.id: 35}
    jobs = _nine_tasks(hand)
    assert len(bench_day.done_today(seat)) == 9
    assert len(set(jobs)) == 3
    _a_surprise(hand)
    (found,) = change_orders.change_orders(seat, waiting=True)
    assert (found.what, found.minutes.likely) == ("Flue collar rusted through", 75)
    blocked = _a_blocked_task(hand)
    waits = next(t.waits for t in bench.job_tasks(seat, blocked.job_id) if t.id == blocked.id)
    assert [wait.what for wait in waits if wait.kind == "blocked"] == ["dolly is broken"]
    _one_goes_back(hand)
    assert [t.standing for t in tags.tags(seat)].count("out") == 3
    assert len(tags.tags(seat)) == 4


def _two_clocks_and_four_tags(hand: Technician) -> tuple[BenchTask, BenchTask]:
    """Tags while the first clock runs; the second clock stops the first, `R` stops the second."""
    first = hand.rows("now")[0].task
    hand.go_to(first.id)
    hand.press(Key.Key_R)
    hand.clock.advance(minutes=20)
    hand.tag("Grates", 4, "parts shelf")
    hand.tag("Cooktop screws", 8, "tray 1")
    second = next(r.task for r in hand.rows("now") if r.task.job_id != first.job_id)
    hand.go_to(second.id)
    hand.press(Key.Key_R)
    hand.clock.advance(minutes=35)
    hand.tag("Lamp", 1, "parts shelf")
    hand.tag("Valve handles", 5, "tray 1")
    hand.press(Key.Key_R)
    assert not hand.bench.clock.isVisible()
    return first, second


def _nine_tasks(hand: Technician) -> list[int]:
    """Nine ticks, each on the range that has had the fewest; answers their jobs."""
    jobs: list[int] = []
    for _ in range(9):
        free = hand.rows("now")
        fewest = min({r.task.job_id for r in free}, key=jobs.count)
        hand.go_to(next(r.task.id for r in free if r.task.job_id == fewest))
        jobs.append(fewest)
        hand.tick()
    return jobs


def _a_surprise(hand: Technician) -> None:
    hand.press(Key.Key_M)
    hand.type("Flue collar rusted through")
    hand.press(Key.Key_Tab)
    hand.type("1:15")
    hand.press(Key.Key_Return)


def _a_blocked_task(hand: Technician) -> BenchTask:
    blocked = hand.bench.current().task
    hand.press(Key.Key_B)
    hand.type("dolly is broken")
    hand.press(Key.Key_Return, held=Held.ControlModifier)
    return blocked


def _one_goes_back(hand: Technician) -> None:
    """`W`, `B`, the count, Return; Escape leads to the Bench again."""
    hand.press(Key.Key_W)
    hand.wait_for("tags")
    page = hand.window.workspace.desk.page("tags")
    assert isinstance(page, TagsPage)
    hand.press(Key.Key_B)
    if page.side.form is not None:
        hand.type(str(page.current().how_many))
        hand.press(Key.Key_Return)
    hand.press(Key.Key_Escape)
    hand.wait_for("bench")
